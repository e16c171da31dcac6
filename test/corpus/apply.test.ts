import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  build,
  type Decision,
  decide,
  emptyPlan,
  openBackup,
  planOf,
  planView,
  resultName,
} from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { isElement } from '../../src/core/xml/tree.ts';
import { runs } from '../laws/seed.ts';
import {
  bytesOf,
  corpus,
  corpusBytes,
  fixtures,
  hasStandards,
  opened,
  renames,
  result,
  same,
  standards,
  truthOf,
  xmlBelow,
} from './files.ts';

/** Files that are no document, each with the code that says why. */
const unreadable = {
  '06-not-well-formed.xml': 'not-well-formed',
  // A bare data tree for the reference program: several roots in one file.
  'marina-netconf.tree.xml': 'second-root',
};

describe('an empty plan gives identical bytes', () => {
  const sure = (folder: string, name: string) => {
    const bytes = bytesOf(folder + name);
    const backup = openBackup(bytes, name);
    if (backup.ok === false) {
      const planted = Object.entries(unreadable).find(([part]) => name.endsWith(part));
      expect([name, backup.trouble.code]).toEqual([name, planted?.[1]]);
      return;
    }
    expect(same(result(opened(bytes, name), emptyPlan), bytes)).toBe(true);
  };
  test.each(xmlBelow(fixtures))('fixture %s', (name) => sure(fixtures, name));

  describe.skipIf(!hasStandards)('standards material beside the project', () => {
    test.each(xmlBelow(standards))('%s', (name) => sure(standards, name));
  });
});

describe('ports are renamed as if the file had been written for them', () => {
  test.each(corpus)('%s moved', (name) => {
    expect(same(result(opened(corpusBytes(name)), renames(truthOf(name).moved)), corpusBytes(`${name}.moved`))).toBe(
      true,
    );
  });

  test.each(corpus)('%s swapped', (name) => {
    expect(
      same(result(opened(corpusBytes(name)), renames(truthOf(name).swapped)), corpusBytes(`${name}.swapped`)),
    ).toBe(true);
  });

  test.each(corpus)('%s moved and back', (name) => {
    const { moved } = truthOf(name);
    const back = Object.fromEntries(Object.entries(moved).map(([from, to]) => [to, from]));
    const there = result(opened(corpusBytes(name)), renames(moved));
    // A remark speaks of the old port all the way.
    expect(same(result(opened(there), renames(back)), corpusBytes(name))).toBe(true);
  });
});

describe('a plan over a corpus file', () => {
  const files = corpus.map((name) => ({ name, ...opened(corpusBytes(name)) }));
  const paths = files.map(({ backup: { tree } }) =>
    Array.from({ length: tree.size }, (_, node) => node)
      .filter((node) => isElement(tree, node) && node !== tree.root)
      .map((node) => pathOf(tree, node)),
  );
  /** A file and some decisions about it. */
  const decided = fc.nat(files.length - 1).chain((at) => {
    const ports = [...new Set(files[at]!.reading.mentions.map(({ port }) => port))];
    const rename = fc
      .uniqueArray(fc.constantFrom(...ports), { maxLength: ports.length })
      .chain((from) =>
        fc
          .shuffledSubarray(from, { minLength: from.length })
          .map((to) => from.map((port, k): Decision => ({ kind: 'rename-port', from: port, to: to[k]! }))),
      );
    const leaveOut = fc
      .uniqueArray(fc.constantFrom(...paths[at]!), { maxLength: 8 })
      .map((out) => out.map((path): Decision => ({ kind: 'leave-out', path })));
    return fc.tuple(fc.constant(at), rename, leaveOut, fc.boolean());
  });

  test('the order of its decisions does not matter, the second reader agrees and the ledger balances', () => {
    fc.assert(
      fc.property(decided, ([at, rename, leaveOut, mixed]) => {
        const file = files[at]!;
        const decisions = mixed ? [...leaveOut, ...rename] : [...rename, ...leaveOut];
        const one = result(file, planOf(decisions));
        expect(same(one, result(file, planOf([...decisions].reverse())))).toBe(true);
        const { ledger, troubles } = planView(file.backup, file.reading, planOf(decisions));
        expect(troubles).toEqual([]);
        expect(ledger.balances).toBe(true);
        expect(ledger.carried + ledger.changed + ledger.leftOut).toBe(ledger.records);
        expect(openBackup(one, 'again.xml').ok).toBe(true);
      }),
      runs(150),
    );
  });

  test('leaving out a section leaves every other line as it is', () => {
    for (const { backup, reading } of files) {
      const { tree } = backup;
      for (const { node } of reading.sections) {
        const text = Buffer.from(
          result({ backup, reading }, planOf([{ kind: 'leave-out', path: pathOf(tree, node) }])),
        );
        const before = tree.text.slice(0, tree.start[node]).split(/\r?\n/).slice(0, -2).join('');
        const after = tree.text.slice(tree.end[node]).trimStart();
        const decoded = backup.decoded.encoding === 'iso-8859-1' ? text.toString('latin1') : text.toString('utf8');
        expect(decoded.replace(/\r?\n/g, '').startsWith(before)).toBe(true);
        expect(decoded.endsWith(after)).toBe(true);
      }
    }
  });

  test('remarks that mention a renamed port are listed, not changed', () => {
    for (const { name, backup, reading } of files) {
      const view = planView(backup, reading, renames(truthOf(name).moved));
      expect(view.findings.filter(({ code }) => code === 'port-in-remark').length).toBeGreaterThan(0);
    }
  });
});

describe('plans that do not fit', () => {
  const file = opened(corpusBytes('a01'));
  const view = (...decisions: Decision[]) => planView(file.backup, file.reading, planOf(decisions));

  test('two old ports onto one new port block the result and name both', () => {
    const plan = renames({ eth0: 'ix0', eth1: 'ix0' });
    expect(build(file.backup, file.reading, plan)).toMatchObject({
      ok: false,
      trouble: { code: 'plan-port-doubled', params: { port: 'ix0', from: 'eth0, eth1' } },
    });
    expect(view(...plan.decisions).findings[0]).toMatchObject({ code: 'port-doubled', severity: 'error' });
  });

  test('a port moved onto one that stays blocks the result', () => {
    expect(build(file.backup, file.reading, renames({ eth0: 'eth1' }))).toMatchObject({
      ok: false,
      trouble: { code: 'plan-port-doubled' },
    });
  });

  test('a path of another file, and the root, are refused by name', () => {
    const path = '/somewhere[1]/else[4]';
    expect(build(file.backup, file.reading, planOf([{ kind: 'leave-out', path }]))).toMatchObject({
      ok: false,
      trouble: { code: 'plan-path-missing', params: { path } },
    });
    const root = planOf([{ kind: 'leave-out', path: '/unit-config[1]' }]);
    expect(build(file.backup, file.reading, root)).toMatchObject({
      ok: false,
      trouble: { code: 'plan-root-left-out' },
    });
  });

  test('a port that the file does not have is reported and stays without effect', () => {
    const troubles = view({ kind: 'rename-port', from: 'wlan9', to: 'wlan0' }).troubles;
    expect(troubles).toMatchObject([{ code: 'plan-port-missing', params: { port: 'wlan9' } }]);
  });

  test('a later decision about the same port replaces the earlier one', () => {
    const plan = decide(renames({ eth0: 'ix0' }), { kind: 'rename-port', from: 'eth0', to: 'ix1' });
    expect(planView(file.backup, file.reading, plan).ports.find(({ from }) => from === 'eth0')).toMatchObject({
      to: 'ix1',
    });
  });
});

test.each([
  ['kqm-gw1.xml', 'kqm-gw1.carried.xml'],
  ['kqm-gw1.carried.xml', 'kqm-gw1.carried-2.xml'],
  ['kqm-gw1.carried-2.xml', 'kqm-gw1.carried-3.xml'],
  ['kqm-gw1-2026.11.22', 'kqm-gw1-2026.11.carried.22'],
  ['backup', 'backup.carried.xml'],
])('the result of %s is called %s', (input, output) => {
  expect(resultName(input)).toBe(output);
});
