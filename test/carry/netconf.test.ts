import { describe, expect, test } from 'vitest';
import {
  buildGraft,
  CarryView,
  chosen,
  emptyPlan,
  openBackup,
  planOf,
  readMeaning,
  tick,
} from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { result } from '../corpus/files.ts';
import { hasStandards, hasYanglint, yanglint } from '../standards/support.ts';
import { netconf } from './files.ts';

const file = netconf();
const { tree } = file.backup;
const sections = file.reading.sections.map(({ node }) => pathOf(tree, node));
const text = (plan: Parameters<typeof result>[1]) => Buffer.from(result(file, plan)).toString('utf8');
const only = (ids: readonly string[], withNeeds: boolean) => chosen(tree, file.reading, emptyPlan, ids, withNeeds);

describe.skipIf(!hasYanglint || !hasStandards)(
  'parts of the marina against yanglint (libyang2-tools) and the modules beside the project',
  () => {
    test.each(sections)('%s with what it needs is valid by itself', (section) => {
      const plan = only([section], true);
      expect(new CarryView(file.backup, file.reading, plan).summary.dangling.byPlan).toBe(0);
      expect(yanglint(text(plan))).toBe('');
    });

    test.each(sections)('%s alone: what yanglint misses is what we miss', (section) => {
      const plan = only([section], false);
      const view = new CarryView(file.backup, file.reading, plan);
      const said = yanglint(text(plan));
      // The schema checks leafrefs; what the RFCs only describe (tier likely) it does not.
      const certain = view
        .wants(section, 0, 1000)
        .needs.filter(({ kind, tier }) => kind === 'names' && tier === 'certain');
      if (certain.length === 0) expect(said).toBe('');
      else {
        // It stops at its first fault.
        const value = /Invalid leafref value "([^"]*)"/.exec(said)?.[1];
        expect([section, value, /Must condition/.test(said)]).toSatisfy(
          ([, found, must]: [string, string | undefined, boolean]) =>
            found === undefined ? must : certain.some((need) => need.value === found),
        );
      }
    });

    // Inside another record a list may be one that the schema wants (min-elements), which no reading judges.
    test('a single record of each list that stands in no other, with what it needs, is valid by itself', () => {
      const nested = (node: number) =>
        file.reading.collections.some(({ records }) => records.some((one) => one < node && node < tree.after[one]!));
      const lists = file.reading.collections.filter(({ records }) => !nested(records[0]!));
      expect(lists.length).toBeGreaterThan(10);
      for (const { records } of lists) {
        const id = pathOf(tree, records[0]!);
        expect([id, yanglint(text(only([id], true)))]).toEqual([id, '']);
      }
    });

    test('a record that is left out with all that misses it leaves a valid file', () => {
      const view = new CarryView(file.backup, file.reading, emptyPlan);
      for (const { node } of file.reading.roles.slice(0, 4)) {
        const id = pathOf(tree, node);
        const along = view.needs.allNeededBy(node).map((chain) => pathOf(tree, chain.node));
        expect([id, yanglint(text(tick(tree, file.reading, emptyPlan, [id, ...along], false)))]).toEqual([id, '']);
      }
    });

    test('grafted into the marina without it, each section gives the marina again, valid', () => {
      for (const section of sections) {
        const bytes = result(file, planOf([{ kind: 'leave-out', path: section }]));
        const backup = openBackup(bytes, 'kqm-gw2.xml');
        if (!backup.ok) throw new Error(backup.trouble.code);
        const receiver = { backup: backup.value, reading: readMeaning(backup.value.tree) };
        const built = buildGraft(file, emptyPlan, receiver, {
          picks: [{ id: section, mode: 'merge' }],
          withNeeds: true,
          answers: new Map(),
        });
        if (!built.ok) throw new Error(JSON.stringify(built.trouble));
        expect([section, built.value.graft.loose, built.value.graft.clashes]).toEqual([section, [], []]);
        expect([section, yanglint(Buffer.from(built.value.bytes).toString('utf8'))]).toEqual([section, '']);
      }
    });
  },
);
