import { backupView, emptyPlan, openBackup, pathOf, planOf, planView, readMeaning, readXml } from '../core/index.ts';
import { newDesk } from '../worker/desk.ts';
import { practise } from '../worker/practice.ts';

const TURNS = 5;

/** What the core's own work costs, in strict reads of the same text. */
export interface CoreCost {
  /** The reading: what a document means. */
  readonly reading_ratio: number;
  /** All that a plan of nothing shows, asked for the first time. */
  readonly findings_ratio: number;
  /** The same once one record is left out, and once one value is set. */
  readonly leave_out_ratio: number;
  readonly set_value_ratio: number;
}

/**
 * Medians of turns, in each of which the strict read and the rest take turns; it practises first, as a worker does. Runs in
 * a browser.
 *
 * @param practice the text that workers practise on.
 */
export async function coreCost(text: string, practice: string): Promise<CoreCost> {
  await practise(newDesk(), practice, () => true);
  const turns = Array.from({ length: TURNS }, () => oneTurn(text));
  const middle = (key: keyof CoreCost) => {
    const sorted = turns.map((turn) => turn[key]).sort((a, b) => a - b);
    return Number(sorted[TURNS >> 1]!.toFixed(2));
  };
  return {
    reading_ratio: middle('reading_ratio'),
    findings_ratio: middle('findings_ratio'),
    leave_out_ratio: middle('leave_out_ratio'),
    set_value_ratio: middle('set_value_ratio'),
  };
}

function oneTurn(text: string): CoreCost {
  const opened = openBackup(new TextEncoder().encode(text), 'kqm-gw1.xml');
  if (!opened.ok) throw new Error(JSON.stringify(opened.trouble));
  const { tree } = opened.value;
  const [strict] = timed(() => readXml(text));
  const [meaning, reading] = timed(() => readMeaning(tree));
  // As the page asks for it: the file is shown before what follows from a plan.
  backupView(opened.value, reading);
  const view = (plan = emptyPlan) => timed(() => planView(opened.value, reading, plan))[0] / strict;
  const longest = reading.collections.reduce((a, b) => (a.records.length > b.records.length ? a : b));
  const { site } = reading.references[reading.references.length >> 1]!;
  return {
    reading_ratio: meaning / strict,
    findings_ratio: view(),
    leave_out_ratio: view(planOf([{ kind: 'leave-out', path: pathOf(tree, longest.records[7]!) }])),
    set_value_ratio: view(planOf([{ kind: 'set-value', path: pathOf(tree, site.node), value: 'quay-nowhere' }])),
  };
}

/** Milliseconds, and what came out. */
function timed<Made>(run: () => Made): readonly [number, Made] {
  const begun = performance.now();
  const made = run();
  return [performance.now() - begun, made];
}
