import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { sectionPath } from '../../src/core/compile/leave-out.ts';
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
import { propertiesOf } from '../../src/core/reading/outline/properties.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { TEXT, valueAt } from '../../src/core/xml/site.ts';
import { opened } from '../corpus/files.ts';
import { generateDialect, isHeldBack } from '../dialects/generate.ts';
import { chance, dialects, type File, netconf, open } from './files.ts';
import { content } from './outline.ts';

/** Lists of properties, in which a record stands in several lines side by side. */
const properties = Array.from({ length: 200 }, (_, at) => at + 1)
  .filter((seed) => !isHeldBack(seed) && generateDialect(seed).school === 'properties')
  .slice(0, 3);

const made = ({ backup, reading }: File, plan = emptyPlan) => {
  const built = build(backup, reading, plan);
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  return built.value.bytes;
};

function grafted(donor: File, receiver: Pick<File, 'backup' | 'reading'>, id: string) {
  const picks = [{ id, mode: 'merge' as const }];
  const built = buildGraft(donor, emptyPlan, receiver, { picks, withNeeds: false, answers: new Map() });
  if (!built.ok) throw new Error(built.trouble.code);
  return built.value;
}

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

  test('grafted into the file without it, it is there again, with all its lines and where they stood', () => {
    const rng = chance(`spread graft ${file.name}`);
    for (const [top, fellows] of rng.sample(spread, 5)) {
      const id = recordPath(tree, file.reading, top);
      const receiver = opened(made(file, planOf([{ kind: 'leave-out', path: id }])));
      const { bytes, graft } = grafted(file, receiver, id);
      expect(graft.account.receiver.added).toBe(fellows.length + 1);
      expect(content(opened(bytes).backup.tree.text)).toEqual(content(tree.text));
    }
  });

  test('so does a section of lines, which is one pick', () => {
    const rng = chance(`section graft ${file.name}`);
    const sections = file.reading.sections.filter(({ lines }) => lines);
    expect(sections.length).toBeGreaterThan(3);
    for (const section of rng.sample(sections, 4)) {
      const id = sectionPath(tree, section);
      const receiver = opened(made(file, planOf([{ kind: 'leave-out', path: id }])));
      const part = withPart(emptyPlan, { result: 'graft' });
      expect(tickRows(tree, file.reading, part, [id], true).part!.ticks).toEqual([{ kind: 'keep', path: id }]);
      const { bytes, graft } = grafted(file, receiver, id);
      expect(graft.account.receiver.added).toBe(section.nodes.length);
      expect(content(opened(bytes).backup.tree.text)).toEqual(content(tree.text));
    }
  });

  test('a line that the new box has otherwise is asked about, the others are not', () => {
    const [top, fellows] = spread.find(([, lines]) => lines.length > 2)!;
    const id = recordPath(tree, file.reading, top);
    const lines = new Set([top, ...fellows]);
    const entry = [...propertiesOf(tree)!.entries.values()].flat().find(({ element }) => lines.has(element))!;
    const path = sitePath(tree, entry);
    const receiver = opened(made(file, planOf([{ kind: 'set-value', path, value: 'pontoon' }])));
    const { bytes, graft } = grafted(file, receiver, id);
    expect(graft.clashes).toHaveLength(1);
    expect(path.startsWith(pathOf(tree, entry.element))).toBe(true);
    expect(graft.clashes[0]!.from.startsWith(pathOf(tree, entry.element))).toBe(true);
    expect(content(opened(bytes).backup.tree.text)).toEqual(content(tree.text));
  });

  test('it is not replaced as a whole, and the page says why', () => {
    const [top] = spread[0]!;
    const built = buildGraft(file, emptyPlan, file, {
      picks: [{ id: pathOf(tree, top), mode: 'replace' }],
      withNeeds: false,
      answers: new Map(),
    });
    expect(built.ok || built.trouble).toMatchObject({
      code: 'graft-spread-record',
      params: { path: pathOf(tree, top) },
    });
  });
});

test.each(['almanac', 'deckbook'])(
  'single lines of a list that is a tree do not go over, the page says why: %s',
  (name) => {
    const text = readFileSync(new URL(`../fixtures/layouts/${name}.xml`, import.meta.url), 'utf8');
    const file = open(text);
    const role = pathOf(file.backup.tree, file.reading.roles[0]!.node);
    const modes = (['add', 'merge', 'replace'] as const).map((mode) => {
      const built = buildGraft(file, emptyPlan, open(text), {
        picks: [{ id: role, mode }],
        withNeeds: false,
        answers: new Map(),
      });
      return built.ok || built.trouble.code;
    });
    expect(modes).toEqual(['graft-flat-list', 'graft-flat-list', 'graft-spread-record']);
  },
);

test('entries that hold their key and their value as elements: one record is left out or goes over, the others stay', () => {
  const entry = (key: string, value: string) => `  <p>\n    <k>${key}</k>\n    <v>${value}</v>\n  </p>\n`;
  const berth = (at: number, host: string) =>
    entry(`berth.${at}.name`, `pontoon-${at}`) + entry(`berth.${at}.host`, host) + entry(`berth.${at}.state`, 'on');
  const list = (...berths: string[]) =>
    `<quay>\n${berths.join('')}${[1, 2, 3, 4].map((at) => entry(`crane.${at}.name`, `crane-${at}`) + entry(`crane.${at}.load`, `${at}00`) + entry(`crane.${at}.state`, 'off')).join('')}</quay>\n`;
  const all = [1, 2, 3, 4].map((at) => berth(at, `10.30.99.${at}`));
  const donor = open(list(...all));
  const spread = [...spreadRecords(donor.backup.tree, donor.reading)];
  const [top] = spread.find(([node]) => valueAt(donor.backup.tree, { node: node + 1, attr: TEXT }) === 'berth.2.name')!;
  const id = recordPath(donor.backup.tree, donor.reading, top);
  const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
  const lacking = open(list(all[0]!, all[2]!, all[3]!));
  expect(text(made(donor, planOf([{ kind: 'leave-out', path: id }])))).toBe(lacking.backup.tree.text);
  expect(text(grafted(donor, lacking, id).bytes)).toBe(donor.backup.tree.text);
  const other = open(list(berth(1, '10.31.0.1'), berth(2, '10.31.0.2'), all[2]!, all[3]!));
  const { bytes, graft } = grafted(donor, other, id);
  expect(text(bytes)).toBe(list(berth(1, '10.31.0.1'), all[1]!, all[2]!, all[3]!));
  expect(graft.clashes).toHaveLength(1);
});
