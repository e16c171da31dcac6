import { describe, expect, test } from 'vitest';
import { buildGraft, type Decision, emptyPlan, type GraftRequest, planOf } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { opened, result } from '../corpus/files.ts';
import { chance, corpusFiles, dialects, type File, netconf, open, someSeeds } from './files.ts';
import { content } from './outline.ts';

function grafted(donor: File, receiver: File, ids: readonly string[], more: Partial<GraftRequest> = {}) {
  const picks = ids.map((id) => ({ id, mode: 'merge' as const }));
  const built = buildGraft(donor, emptyPlan, receiver, { picks, withNeeds: false, answers: new Map(), ...more });
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  const { bytes, graft } = built.value;
  return { text: new TextDecoder().decode(bytes), placed: graft.placed };
}

/** A rule: its number, what it does, from where, to which port; empty for any. */
type Rule = readonly [id: string, action: string, from: string, port: string];

const layouts: Record<string, { rule: (rule: Rule) => string; path: (at: number) => string }> = {
  'values in elements': {
    rule: ([id, action, from, port]) =>
      `<rule><id>${id}</id><action>${action}</action><protocol>tcp</protocol><source>${from || 'any'}</source><port>${port || 'any'}</port></rule>`,
    path: (at) => `/gate[1]/rules[1]/rule[${at}]`,
  },
  'values in attributes': {
    rule: ([id, action, from, port]) =>
      `<rule name="${id}" action="${action}" proto="tcp" source="${from || 'any'}" port="${port || 'any'}"/>`,
    path: (at) => `/gate[1]/rules[1]/rule[${at}]`,
  },
  'no key': {
    rule: ([id, action, from, port]) =>
      `<rule><action>${action}</action><protocol>tcp</protocol><source>${from || 'any'}</source><port>${port || 'any'}</port><remark>Rule ${id}</remark></rule>`,
    path: (at) => `/gate[1]/rules[1]/rule[${at}]`,
  },
};

const common: readonly Rule[] = [
  ['web', 'allow', '10.20.1.0/24', '443'],
  ['mail', 'allow', '10.20.1.0/24', '25'],
  ['names', 'allow', '10.20.1.0/24', '53'],
  ['files', 'allow', '10.20.2.0/24', '445'],
];
const till: Rule = ['till', 'allow', '10.20.9.0/24', '8443'];
const close = (id: string): Rule => [id, 'deny', '', ''];

describe.each(Object.entries(layouts))('a rule that is put into another list of rules, %s', (_, { rule, path }) => {
  const gate = (rules: readonly Rule[]) => open(`<gate><rules>${rules.map(rule).join('')}</rules></gate>`);
  const listed = (rules: readonly Rule[]) => `<gate><rules>${rules.map(rule).join('')}</rules></gate>`;
  const [web, mail, names, files] = common as [Rule, Rule, Rule, Rule];

  test('goes behind the one that it follows on the donor', () => {
    const donor = gate([web, mail, till, names, files, close('end')]);
    const receiver = [files, web, mail, names, close('end')];
    const { text, placed } = grafted(donor, gate(receiver), [path(3)]);
    expect(text).toBe(listed([files, web, mail, till, names, close('end')]));
    expect(placed.map(({ reason }) => reason)).toEqual(['behind-neighbour']);
  });

  test('goes before the one that follows it, where nothing before it is there', () => {
    const donor = gate([till, web, mail, close('end')]);
    const { text, placed } = grafted(donor, gate([names, files, web, close('end')]), [path(1)]);
    expect(text).toBe(listed([names, files, till, web, close('end')]));
    expect(placed.map(({ reason }) => reason)).toEqual(['before-neighbour']);
  });

  // Most boxes take the first rule that fits (common practice, no source): behind the last one it would never apply.
  test('goes before a closing rule, where it has no neighbour there', () => {
    const donor = gate([web, till, mail, close('all-else')]);
    const { text, placed } = grafted(donor, gate([names, files, close('the-rest')]), [path(2)]);
    expect(text).toBe(listed([names, files, till, close('the-rest')]));
    expect(placed.map(({ reason }) => reason)).toEqual(['before-closing']);
  });

  test('goes last where nothing closes the list', () => {
    const donor = gate([web, till, mail]);
    const { text, placed } = grafted(donor, gate([names, files]), [path(2)]);
    expect(text).toBe(listed([names, files, till]));
    expect(placed.map(({ reason }) => reason)).toEqual(['last']);
  });

  test('keeps its order among others that go along', () => {
    const donor = gate([web, till, mail, ['phones', 'allow', '10.20.7.0/24', '5061'], names, close('end')]);
    const { text } = grafted(donor, gate([names, close('end')]), [path(2), path(4)]);
    expect(text).toBe(listed([till, ['phones', 'allow', '10.20.7.0/24', '5061'], names, close('end')]));
  });

  test('goes where it is told to, and a place that is not there counts for nothing', () => {
    const donor = gate([web, mail, till, names, close('end')]);
    const receiver = gate([web, mail, names, close('end')]);
    const into = (standing: string) =>
      grafted(donor, receiver, [path(3)], { standings: new Map([[path(3), standing]]) }).text;
    expect(into('/gate[1]/rules[1]')).toBe(listed([till, web, mail, names, close('end')]));
    expect(into(path(1))).toBe(listed([web, till, mail, names, close('end')]));
    expect(into(path(4))).toBe(listed([web, mail, names, close('end'), till]));
    expect(into('/gate[1]/rules[1]/rule[9]')).toBe(listed([web, mail, till, names, close('end')]));
    expect(into('/gate[1]')).toBe(listed([web, mail, till, names, close('end')]));
  });

  test('a second time it changes nothing', () => {
    const donor = gate([web, till, mail, close('all-else')]);
    const once = grafted(donor, gate([names, files, close('the-rest')]), [path(2)]).text;
    expect(grafted(donor, open(once), [path(2)]).text).toBe(once);
  });
});

const files: File[] = [...corpusFiles(), netconf(), ...dialects(someSeeds(8))];

describe('records that were left out and are put back', () => {
  test.each(files)('stand where they stood: $name', (file) => {
    const rng = chance(`standings ${file.name}`);
    const lists = file.reading.collections.filter(({ records }) => records.length >= 4);
    expect(lists.length).toBeGreaterThan(0);
    for (let run = 0; run < 6; run++) {
      const { records } = rng.pick(lists);
      const ids = rng
        .sample(records, rng.int(1, Math.min(4, records.length - 2)))
        .map((node) => pathOf(file.backup.tree, node));
      const without = planOf(ids.map((path): Decision => ({ kind: 'leave-out', path })));
      const receiver: File = { name: 'without', ...opened(result(file, without)) };
      const picks = ids.map((id) => ({ id, mode: 'merge' as const }));
      const built = buildGraft(file, emptyPlan, receiver, { picks, withNeeds: false, answers: new Map() });
      if (!built.ok) throw new Error(built.trouble.code);
      const back = opened(built.value.bytes).backup.tree.text;
      expect(content(back)).toEqual(content(file.backup.tree.text));
    }
  });
});
