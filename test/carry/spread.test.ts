import { describe, expect, test } from 'vitest';
import { recordPath, spreadRecords } from '../../src/core/compile/spread.ts';
import {
  build,
  buildGraft,
  CarryView,
  type Decision,
  effective,
  emptyPlan,
  planOf,
  planView,
  tick,
  tickRows,
  withPart,
} from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { generateDialect, isHeldBack } from '../dialects/generate.ts';
import { chance, dialects, type File, netconf } from './files.ts';

/** Lists of properties, in which a record stands in several lines side by side. */
const properties = Array.from({ length: 200 }, (_, at) => at + 1)
  .filter((seed) => !isHeldBack(seed) && generateDialect(seed).school === 'properties')
  .slice(0, 3);

const made = ({ backup, reading }: File, plan = emptyPlan) => {
  const built = build(backup, reading, plan);
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  return built.value.bytes;
};

test('a file whose records are single elements has none', () => {
  const file = netconf();
  expect(spreadRecords(file.backup.tree, file.reading).size).toBe(0);
});

describe.each(dialects(properties))('$name', (file) => {
  const { tree } = file.backup;
  const spread = [...spreadRecords(tree, file.reading)];

  test('left out, a record takes all its lines and no other; the books balance; ticked again it leaves no trace', () => {
    const rng = chance(`spread ${file.name}`);
    for (const [top, fellows] of rng.sample(spread, 8)) {
      const path = pathOf(tree, top);
      const plan = tick(tree, file.reading, emptyPlan, [path], false);
      const view = planView(file.backup, file.reading, plan);
      expect(view.ledger.balances).toBe(true);
      expect(view.changes.filter(({ kind }) => kind === 'left-out').map(({ place }) => place.path)).toEqual(
        [top, ...fellows].map((node) => pathOf(tree, node)),
      );
      made(file, plan);
      expect(tick(tree, file.reading, plan, [path], true)).toEqual(emptyPlan);
    }
  });

  test('what is said of one line counts more than what is said of its record, in any order', () => {
    const [top, fellows] = spread.find(([, lines]) => lines.length > 2)!;
    const both: Decision[] = [
      { kind: 'leave-out', path: recordPath(tree, file.reading, top) },
      { kind: 'keep', path: pathOf(tree, fellows[1]!) },
    ];
    const gone = (decisions: Decision[]) =>
      planView(file.backup, file.reading, planOf(decisions)).changes.map(({ place }) => place.path);
    expect(gone(both)).toEqual([top, ...fellows].filter((_, at) => at !== 2).map((node) => pathOf(tree, node)));
    expect(gone([...both].reverse())).toEqual(gone(both));
  });

  test('the path of its first line alone is that line', () => {
    const path = pathOf(tree, spread[0]![0]);
    const view = planView(file.backup, file.reading, planOf([{ kind: 'leave-out', path }]));
    expect(view.changes.map(({ place }) => place.path)).toEqual([path]);
  });

  test('with its needs it goes alone, and nothing dangles by that', () => {
    const rng = chance(`spread alone ${file.name}`);
    for (const [top, fellows] of rng.sample(spread, 5)) {
      const path = pathOf(tree, top);
      const part = withPart(emptyPlan, { result: 'ticked' });
      const alone = tickRows(tree, file.reading, part, [path], true);
      const missing = new CarryView(file.backup, file.reading, effective(tree, file.reading, alone)).missing(path);
      const plan = tickRows(
        tree,
        file.reading,
        alone,
        missing.map((one) => one.path),
        true,
      );
      const view = new CarryView(file.backup, file.reading, effective(tree, file.reading, plan));
      expect([path, view.summary.dangling.byPlan]).toEqual([path, 0]);
      for (const node of [top, ...fellows]) expect(view.gone(node)).toBe(false);
    }
  });

  test('a graft refuses it, and says why', () => {
    const [top] = spread[0]!;
    const built = buildGraft(file, emptyPlan, file, {
      picks: [{ id: pathOf(tree, top), mode: 'merge' }],
      withNeeds: false,
      answers: new Map(),
    });
    expect(built.ok || built.trouble).toMatchObject({
      code: 'graft-spread-record',
      params: { path: pathOf(tree, top) },
    });
  });
});
