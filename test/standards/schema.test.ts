import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Decision, emptyPlan, planOf } from '../../src/core/index.ts';
import { asWritten, type Fault, formats, judge, judgeAgain, readKnown } from '../../src/core/reading/known/index.ts';
import { askedBy } from '../../src/core/reading/known/schema/condition.ts';
import { modelOf } from '../../src/core/reading/known/schema/model.ts';
import { parseXPath } from '../../src/core/reading/known/schema/xpath.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { textOf } from '../../src/core/xml/site.ts';
import { isElement, isLeaf, type Tree } from '../../src/core/xml/tree.ts';
import { chance } from '../checks/chance.ts';
import { findingsOf, opened, sentence } from '../checks/support.ts';
import { fixture, hasStandards, hasYanglint, localPath, STANDARDS, treeOf, withValue, yanglint } from './support.ts';

const marina = fixture('marina-netconf.xml');
const tree = treeOf(marina);
const expected = fixture('broken/expected.md');

function judged(text: string) {
  const read = treeOf(text);
  return { read, ...judge(read, formats[0]!, asWritten(read))! };
}

/** `path kind detail` of each fault. */
function faultsOf(text: string): string[] {
  const { read, faults } = judged(text);
  return faults.map((fault) => `${localPath(read, fault.node)} ${fault.is} ${detail(fault)}`);
}

function detail(fault: Fault): string {
  if (fault.is === 'type') return `${fault.misfit.reason} ${fault.misfit.wants}`;
  return 'test' in fault ? fault.test : fault.name;
}

describe('demands of the modules, against what yanglint 2.1.30 prints (broken/expected.md)', () => {
  const broken = (name: string) => faultsOf(fixture(`broken/${name}.xml`));

  it('has nothing to say about the healthy marina', () => {
    const { faults, untold } = judged(marina);
    expect([faults, untold]).toEqual([[], []]);
  });

  it('03: an address that is none', () => {
    expect(expected).toContain("interface[name='igc1']/ietf-ip:ipv4/address/ip\", line number 37");
    expect(broken('03-bad-ipv4')).toEqual(['/interfaces/interface/ipv4/address/ip type pattern ipv4-address-no-zone']);
  });

  it('04: a VLAN ID outside its range', () => {
    expect(expected).toContain("interface[name='igc2.204']/example-vlan:vlan-id");
    expect(broken('04-vlan-out-of-range')).toEqual(['/interfaces/interface/vlan-id type range 1..4094']);
  });

  it('05: a mandatory leaf that is missing', () => {
    expect(expected).toContain('Mandatory node "type" instance does not exist.');
    expect(broken('05-missing-mandatory')).toEqual(['/interfaces/interface missing type']);
  });

  it('07: a frame size outside its range', () => {
    expect(expected).toContain("interface[name='igc0']/ietf-ip:ipv6/mtu");
    expect(broken('07-mtu-out-of-range')).toEqual(['/interfaces/interface/ipv6/mtu type range 1280..max']);
  });

  it('08: a condition that four VLANs have', () => {
    expect(expected).toContain("interface[name='igc2.201']/example-vlan:base-interface");
    const must =
      "/ietf-interfaces:interfaces/ietf-interfaces:interface[ietf-interfaces:name = current()]/example-vlan:vlan-tagging = 'true'";
    expect(broken('08-must-not-met')).toEqual(Array(4).fill(`/interfaces/interface/base-interface must ${must}`));
  });

  it('10: a missing leaf, and what has no place without it', () => {
    expect(expected).toContain("interface[name='igc3.40']/example-vlan:vlan-id");
    const when = "when ietf-interfaces:type = 'iana-if-type:l2vlan'";
    expect(broken('10-mandatory-and-when')).toEqual([
      '/interfaces/interface missing type',
      `/interfaces/interface/base-interface ${when}`,
      `/interfaces/interface/vlan-id ${when}`,
    ]);
  });

  // References (01, 09) and syntax (06) are told elsewhere.
  it('02: the keys of an entry twice', () => {
    expect(broken('02-duplicate-list-key')).toEqual(['/interfaces/interface too-many interface']);
  });

  it.each(['01-dangling-leafref', '09-dangling-predicate-leafref'])('%s: nothing more', (name) =>
    expect(broken(name)).toEqual([]),
  );

  // Each variant, through all checks: the line and the reason are those of yanglint.
  it.each([
    ['01-dangling-leafref', 'reference-dangling', '/acl-set/name'],
    ['02-duplicate-list-key', 'key-doubled', '/interface'],
    ['03-bad-ipv4', 'schema-type', '/ipv4/address/ip'],
    ['04-vlan-out-of-range', 'tag-out-of-range', '/vlan-id'],
    ['05-missing-mandatory', 'schema-missing', '/interface'],
    ['07-mtu-out-of-range', 'frame-too-small', '/ipv6/mtu'],
    ['08-must-not-met', 'schema-must', '/base-interface'],
    ['09-dangling-predicate-leafref', 'reference-dangling', '/central-keystore-reference/certificate'],
    ['10-mandatory-and-when', 'schema-missing', '/interface'],
  ])('%s is found', (name, code, at) => {
    const found = findingsOf(opened(fixture(`broken/${name}.xml`))).filter((finding) => finding.code === code);
    const paths = found.map(({ place }) => place!.path.replace(/\[\d+\]/g, '').replace(/\/[\w-]+:/g, '/'));
    expect(paths.filter((path) => path.endsWith(at))).not.toEqual([]);
  });
});

interface Row {
  readonly file: string;
  readonly output: string;
}

describe.skipIf(!hasStandards)('demands of the modules, on examples printed in RFCs', () => {
  const rows: Row[] = hasStandards ? JSON.parse(readFileSync(join(STANDARDS, 'examples/results.json'), 'utf8')) : [];
  const documents = rows.filter(({ file }) => file.endsWith('.xml'));
  /** Printed with a fault that yanglint names, too (results.json). */
  const faulty: Record<string, RegExp> = {
    'as-printed/rfc8519-section-4.4-icmp.xml': /When condition/,
    'as-printed/rfc9243-appendix-a1-fig6-prefix-delegation.xml': /Node "valid-lifetime" not found as a child/,
  };

  it.each(documents.map((row) => [row.file, row] as const))('%s', (file, { output }) => {
    const { read, faults, untold } = judged(readFileSync(join(STANDARDS, 'examples', file), 'utf8'));
    const said = faults.map((fault) => `${pathOf(read, fault.node)} ${fault.is}`);
    if (faulty[file]) {
      expect(output).toMatch(faulty[file]);
      expect(said[0]).toMatch(/\/ipv4\[1\] when$|\/valid-lifetime\[1\] not-there$/);
    } else expect(said).toEqual([]);
    expect(untold).toEqual([]);
  });
});

/** One change of the marina: its text and what was done. */
function mutants(count: number, seed: number): { readonly text: string; readonly what: string }[] {
  let state = seed;
  const below = (limit: number) => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return Math.floor((state / 2_147_483_648) * limit);
  };
  const pick = <T>(of: readonly T[]): T => of[below(of.length)]!;
  const nodes: number[] = [];
  for (let node = tree.root + 1; node < tree.size; node++) if (isElement(tree, node)) nodes.push(node);
  const leaves = nodes.filter((node) => isLeaf(tree, node));
  return Array.from({ length: count }, () => {
    const kind = below(4);
    if (kind < 2) {
      const leaf = pick(leaves);
      const value = pick(values);
      return { text: withValue(tree, leaf, value), what: `${pathOf(tree, leaf)} = ${value}` };
    }
    const node = pick(nodes);
    const own = marina.slice(tree.start[node]!, tree.end[node]!);
    const [before, after] = [marina.slice(0, tree.start[node]!), marina.slice(tree.end[node]!)];
    return kind === 2
      ? { text: before + after, what: `without ${pathOf(tree, node)}` }
      : { text: before + own + own + after, what: `${pathOf(tree, node)} twice` };
  });
}

const values = [
  ...[
    '',
    'zzz',
    '-1',
    '0',
    '1',
    '99999999',
    '70000',
    '1.5',
    '0x10',
    '010',
    '+5',
    'true',
    'maybe',
    '*',
    '-',
    'a'.repeat(300),
  ],
  ...['10.0.0.300', '10.0.0.1/33', '10.0.0.0/8', '2001:db8::g', '2001:db8::1', '2001:db8::/129', 'ianaift:l2vlan'],
  ...['ianaift:no-such-type', 'no-prefix:l2vlan', 'eap', 'tunnel', 'drop', '=/+', 'ABCD', 'ABC'],
];

const told = (text: string) => {
  const read = treeOf(text);
  const dangling = readKnown(read)!.dangling.filter(({ tier }) => tier === 'certain');
  return [...faultsOf(text), ...dangling.map(({ site }) => `${localPath(read, site.node)} dangling`)];
};

describe.skipIf(!hasYanglint || !hasStandards)(
  'demands of the modules, against yanglint (libyang2-tools) and the modules beside the project',
  { timeout: 240_000 },
  () => {
    it.each(mutants(90, 20_261).map(({ what, text }) => [what, text] as const))('agrees on %s', (_, text) => {
      const said = yanglint(text);
      const own = told(text);
      // The one type of the modules whose text is an expression that yanglint reads and this does not.
      if (said.includes('Unexpected XPath token')) return;
      expect([own.length > 0, own]).toEqual([said !== '', own]);
      const place = /Data location "([^"]*)"/.exec(said)?.[1];
      if (place === undefined) return;
      const path = place.replace(/\[[^\]]*\]/g, '').replace(/\/[\w-]+:/g, '/');
      // It stops at its first fault, so that one of ours is there.
      expect(own.filter((line) => line.split(' ')[0]!.endsWith(path))).not.toEqual([]);
    });
  },
);

// The whole judgement is the other opinion; a law of the program itself.
describe('what a change leads to, judged alone, is what the whole document says', { timeout: 240_000 }, () => {
  const texts: [string, string][] = [
    ['the marina', marina],
    ['several broken settings', fixture('broken/10-mandatory-and-when.xml')],
    ['a key written twice', marina.replace('<name>igc1</name>', '<name>igc0</name>')],
    [
      'a type of another module',
      marina.replace('type>ianaift:softwareLoopback<', 'type xmlns:own="urn:own">own:loop<'),
    ],
  ];

  /** Both judgements of some values written anew and some elements left out; null where all was judged again. */
  function both(read: Tree, set: ReadonlyMap<number, string>, out: readonly number[]) {
    const own = asWritten(read);
    const gone = new Uint8Array(read.size);
    for (const node of out) gone.fill(1, node, read.after[node]!);
    const view = {
      value: (node: number) => set.get(node) ?? own.value(node),
      gone: (node: number) => gone[node] === 1,
    };
    const again = judgeAgain(read, formats[0]!, view, judge(read, formats[0]!, own)!, [...set.keys()]);
    return again && [again, judge(read, formats[0]!, view)!];
  }

  describe.each(texts)('%s', (_, text) => {
    const read = treeOf(text);
    const elements = Array.from({ length: read.size }, (_, node) => node).filter((node) => isElement(read, node));
    const leaves = elements.filter((node) => isLeaf(read, node));

    it('one value', () => {
      const results = leaves.flatMap((node) =>
        [values[node % values.length]!, 'true', '10.44.10.9'].map((value) => both(read, new Map([[node, value]]), [])),
      );
      for (const result of results) if (result) expect(result[0]).toEqual(result[1]);
      expect(results.filter((result) => result).length).toBeGreaterThan(results.length * 0.95);
    });

    it('one element left out', () => {
      const results = elements.map((node) => both(read, new Map(), [node]));
      for (const result of results) if (result) expect(result[0]).toEqual(result[1]);
      expect(results.filter((result) => result).length).toBeGreaterThan(results.length * 0.95);
    });

    it('several of both', () => {
      const next = chance(11);
      let partly = 0;
      for (let round = 0; round < 300; round++) {
        const set = Array.from({ length: next(4) }, (): [number, string] => {
          const value = next(2) ? values[next(values.length)]! : asWritten(read).value(leaves[next(leaves.length)]!);
          return [leaves[next(leaves.length)]!, value];
        });
        const result = both(
          read,
          new Map(set),
          Array.from({ length: 1 + next(4) }, () => elements[next(elements.length)]!),
        );
        if (!result) continue;
        partly++;
        expect(result[0]).toEqual(result[1]);
      }
      expect(partly).toBeGreaterThan(150);
    });
  });

  it('takes what went and who looks at it, not the whole', () => {
    const read = treeOf(marina);
    const rule = Array.from({ length: read.size }, (_, node) => node).find((node) =>
      localPath(read, node).endsWith('/acl/aces/ace'),
    )!;
    let asked = 0;
    const view = {
      value: (node: number) => {
        asked++;
        return asWritten(read).value(node);
      },
      gone: (node: number) => node >= rule && node < read.after[rule]!,
    };
    const before = judge(read, formats[0]!, asWritten(read))!;
    judge(read, formats[0]!, view);
    const whole = asked;
    asked = 0;
    judgeAgain(read, formats[0]!, view, before, []);
    expect(asked).toBeLessThan(whole / 20);
  });
});

describe('conditions in plain words', () => {
  // The conditions themselves are those of the modules (RFC 7950, 7.5.3 and 7.21.5); their words are ours.
  it('nearly every condition of the modules has a plain form', () => {
    const tests = new Set(
      modelOf(formats[0]!)!.nodes.flatMap(({ whens, musts }) => [...whens, ...musts].map(({ test }) => test)),
    );
    expect(
      [...tests].filter((test) => askedBy(parseXPath(test)) === null).map((test) => test.replace(/[\w-]+:/g, '')),
    ).toEqual(['. <= 0.75 * ../max-rtr-adv-interval', "(. != 'radius' or ../../radius/server)"]);
    expect(tests.size).toBeGreaterThan(40);
  });

  const said = (text: string) =>
    findingsOf(opened(text))
      .filter(({ code }) => code.startsWith('schema-'))
      .map((finding) => `${finding.place!.line}: ${sentence(finding)}`);

  it('one cause is said once, with what is asked and what is there', () => {
    expect(said(fixture('broken/08-must-not-met.xml'))).toEqual([
      '145: A condition of “example-vlan” (RFC 8343, example module) does not hold here and in 3 other places: “vlan-tagging” of the “interface” that is named here has to be “true”, and it is not there.',
    ]);
    expect(said(fixture('broken/10-mandatory-and-when.xml'))).toEqual([
      '95: “igc3.40” has no “type”, which “ietf-interfaces” (RFC 8343, revision 2018-02-20) asks for; 2 other conditions rest on it.',
    ]);
    const off = marina.replaceAll('<vlan:vlan-tagging>true<', '<vlan:vlan-tagging>false<');
    expect(off).not.toBe(marina);
    expect(said(off)[0]).toMatch(
      /“vlan-tagging” of the “interface” that is named here has to be “true”, and it is “false”\.$/,
    );
  });
});

describe('demands of the modules, after the plan', () => {
  const file = opened(marina);
  const at = (end: string): string => {
    for (let node = 0; node < tree.size; node++) if (localPath(tree, node) === end) return pathOf(tree, node);
    throw new Error(end);
  };
  const after = (...decisions: Decision[]) =>
    findingsOf(file, {}, planOf(decisions)).filter(({ code }) => code.startsWith('schema-'));

  it('a mandatory leaf that the plan leaves out breaks the file', () => {
    const found = after({ kind: 'leave-out', path: at('/interfaces/interface/type') });
    expect(found.map(({ code, severity, byPlan }) => [code, severity, byPlan])).toEqual([
      ['schema-missing', 'error', true],
    ]);
    expect(sentence(found[0]!)).toBe(
      '“igc0” has no “type”, which “ietf-interfaces” (RFC 8343, revision 2018-02-20) asks for.',
    );
  });

  it('a value that the plan sets is judged', () => {
    const path = at('/interfaces/interface/ipv4/mtu');
    expect(after({ kind: 'set-value', path, value: '67' }).map(({ severity, byPlan }) => [severity, byPlan])).toEqual([
      ['error', true],
    ]);
    expect(after({ kind: 'set-value', path, value: '68' })).toEqual([]);
  });

  it('a new name of a port changes nothing', () => {
    expect(after({ kind: 'rename-port', from: 'igc2', to: 'ix2' })).toEqual([]);
    expect(findingsOf(file, {}, emptyPlan).filter(({ code }) => code.startsWith('schema-'))).toEqual([]);
  });

  it('says once that something could not be told, and never as a fault', () => {
    const other = marina.replace('type>ianaift:softwareLoopback<', 'type xmlns:own="urn:example:own">own:loop<');
    const { faults, untold } = judged(other);
    expect([faults, untold.length]).toEqual([[], 1]);
    const said = findingsOf(opened(other)).filter(({ code }) => code === 'schema-untold');
    expect(said.map(({ severity }) => severity)).toEqual(['note']);
  });

  it('an identity that the known revision lacks may be newer', () => {
    // iana-if-type is kept by IANA and grows (RFC 7224, 2).
    const newer = marina.replace('ianaift:softwareLoopback<', 'ianaift:notYetThere<');
    const found = findingsOf(opened(newer)).filter(({ code }) => code.startsWith('schema-'));
    expect(found.map(({ code, severity }) => [code, severity])).toEqual([['schema-unknown', 'note']]);
  });

  it('judges only values in an edit, and nothing in a filter (RFC 6241, 6 and 7.2)', () => {
    const inside =
      '<interfaces xmlns="urn:ietf:params:xml:ns:yang:ietf-interfaces"><interface><name>a</name><enabled>maybe</enabled></interface></interfaces>';
    const base = 'xmlns="urn:ietf:params:xml:ns:netconf:base:1.0"';
    expect(faultsOf(`<config ${base}>${inside}</config>`)).toHaveLength(2);
    expect(faultsOf(`<rpc ${base}><edit-config><config>${inside}</config></edit-config></rpc>`)).toHaveLength(1);
    expect(faultsOf(`<rpc ${base}><get><filter>${inside}</filter></get></rpc>`)).toHaveLength(0);
  });

  it('costs as much as there is to judge, not its square', () => {
    const [from, to] = [marina.indexOf('<interface>'), marina.indexOf('  </interfaces>')];
    const cost = (times: number) => {
      const more = Array.from({ length: times }, (_, n) =>
        marina.slice(from, to).replace(/<(name|vlan:base-interface)>/g, `<$1>${n}-`),
      ).join('');
      const large = treeOf(marina.slice(0, from) + more + marina.slice(from));
      judge(large, formats[0]!, asWritten(large));
      const before = process.cpuUsage();
      expect(judge(large, formats[0]!, asWritten(large))!.faults).toEqual([]);
      const { user, system } = process.cpuUsage(before);
      return user + system;
    };
    cost(20);
    expect(cost(240) / cost(60)).toBeLessThan(10);
  });
});

describe('types, by the worked values of RFC 7950, 9, and RFC 6991', () => {
  const leafs: readonly [path: string, fits: readonly string[], not: readonly string[]][] = [
    ['/interfaces/interface/ipv4/mtu', ['68', '65535', '0x44', '+68'], ['67', '65536', 'x', '']],
    ['/interfaces/interface/enabled', ['true', 'false'], ['True', '1', 'yes']],
    // RFC 6991: dotted quad, no leading zeros; the zone comes after a percent sign.
    ['/interfaces/interface/ipv4/address/ip', ['192.0.2.1'], ['192.0.2.01', '192.0.2', '192.0.2.1%eth0']],
    ['/interfaces/interface/ipv6/address/ip', ['2001:db8::1', '::'], ['2001:db8:::1', 'fe80::1%igc0', '1::2::3']],
  ];
  it.each(leafs)('%s', (path, fits, not) => {
    let leaf = 0;
    while (localPath(tree, leaf) !== path) leaf++;
    const verdict = (value: string) =>
      faultsOf(withValue(tree, leaf, value)).some((line) => line.startsWith(`${path} type`));
    expect(textOf(tree, leaf)).not.toBe('');
    expect(fits.filter(verdict)).toEqual([]);
    expect(not.filter((value) => !verdict(value))).toEqual([]);
  });
});
