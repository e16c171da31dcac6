import { readFileSync } from 'node:fs';
import { emptyPlan, openBackup, pathOf, planOf, planView, readMeaning, readXml } from '../core/index.ts';
import { newDesk } from '../worker/desk.ts';
import { practise } from '../worker/practice.ts';

const TURNS = 5;

/** What findings cost, in strict reads of the same text. */
export interface FindingsCost {
  /** All that a plan of nothing shows, asked for the first time. */
  readonly findings_ratio: number;
  /** The same once one record is left out, and once one value is set. */
  readonly leave_out_ratio: number;
  readonly set_value_ratio: number;
}

/** Medians of turns in one process, in each of which the strict read and the findings take turns; it practises first. */
export async function findingsCost(text: string): Promise<FindingsCost> {
  await practise(newDesk(), readFileSync('public/examples/kestrel-quay-plain.xml', 'utf8'), () => true);
  const turns = Array.from({ length: TURNS }, () => oneTurn(text));
  const middle = (key: keyof FindingsCost) => {
    const sorted = turns.map((turn) => turn[key]).sort((a, b) => a - b);
    return Number(sorted[TURNS >> 1]!.toFixed(2));
  };
  return {
    findings_ratio: middle('findings_ratio'),
    leave_out_ratio: middle('leave_out_ratio'),
    set_value_ratio: middle('set_value_ratio'),
  };
}

function oneTurn(text: string): FindingsCost {
  const opened = openBackup(new TextEncoder().encode(text), 'kqm-gw1.xml');
  if (!opened.ok) throw new Error(JSON.stringify(opened.trouble));
  const { tree } = opened.value;
  const strict = milliseconds(() => readXml(text));
  const reading = readMeaning(tree);
  const view = (plan = emptyPlan) => milliseconds(() => planView(opened.value, reading, plan)) / strict;
  const longest = reading.collections.reduce((a, b) => (a.records.length > b.records.length ? a : b));
  const { site } = reading.references[reading.references.length >> 1]!;
  return {
    findings_ratio: view(),
    leave_out_ratio: view(planOf([{ kind: 'leave-out', path: pathOf(tree, longest.records[7]!) }])),
    set_value_ratio: view(planOf([{ kind: 'set-value', path: pathOf(tree, site.node), value: 'quay-nowhere' }])),
  };
}

function milliseconds(run: () => unknown): number {
  const begun = performance.now();
  run();
  return performance.now() - begun;
}
