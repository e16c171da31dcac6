import { describe, expect, it } from 'vitest';
import { build, type Decision, emptyPlan, type Finding, type Plan, planOf, subjectOf } from '../../src/core/index.ts';
import { siteAt, sitePath } from '../../src/core/xml/path.ts';
import { TAG, valueAt } from '../../src/core/xml/site.ts';
import { chance } from './chance.ts';
import { examples, findingsOf, fixtures, type Opened, opened, openedFile, sentence } from './support.ts';

const quay = `<box>
<places>
<place><name>office</name><on>eth1</on><address>10.20.0.1</address><prefix>24</prefix></place>
<place><name>guest</name><on>eth2</on><address>10.20.50.1</address><prefix>24</prefix></place>
<place><name>cards</name><on>eth3</on><address>10.20.30.1</address><prefix>24</prefix></place>
</places>
<sets>
<set><name>tills</name><host>10.20.30.11</host></set>
<set><name>boss</name><host>10.20.0.9</host></set>
<set><name>crew</name><host>10.20.50.9</host></set>
<set><name>both</name><host>tills,boss</host></set>
</sets>
<rules>
<rule id="r0"><do>pass</do><at>office,guest</at><proto>tcp</proto><source>any</source><port>443</port></rule>
<rule id="r1"><do>pass</do><at>guest</at><proto>tcp</proto><source>crew</source><port>80</port></rule>
<rule id="r2"><do>pass</do><at>cards,office</at><proto>tcp</proto><source>tills</source><port>444</port></rule>
<rule id="r3"><do>block</do><at>cards</at><proto>udp</proto><source>!tills</source><port>53</port></rule>
<rule id="r4"><do>pass</do><at>office,cards,guest</at><proto>tcp</proto><source>boss</source><port>22</port></rule>
<rule id="r5"><do>pass</do><at>office</at><proto>tcp</proto><source>10.20.0.7</source><port>22</port></rule>
<rule id="r6"><do>pass</do><at>guest</at><proto>udp</proto><source>both</source><port>123</port></rule>
</rules>
</box>
`;
const at = (rule: number, part: string) => `/box[1]/rules[1]/rule[${rule + 1}]/${part}[1]`;
const set = (path: string, value: string, was?: string): Decision => ({
  kind: 'set-value',
  path,
  value,
  ...(was !== undefined && { was }),
});
const names = /^(?:reference-|record-unused)/;
const after = (file: Opened, ...decisions: Decision[]) =>
  findingsOf(file, {}, planOf(decisions)).filter(({ code }) => names.test(code));

// Which names there are is read off the file by eye; common practice, no source: a list is parted as the others of its field.
describe('names in values that the plan sets', () => {
  const file = opened(quay);
  const amiss = (...decisions: Decision[]) =>
    after(file, ...decisions).map(({ code, params, byPlan }) => `${code} ${params.value ?? params.name} ${byPlan}`);

  it('all is well before', () => expect(amiss()).toEqual([]));

  it.each([
    ['a list made anew, one name wrong', set(at(4, 'at'), 'cards,gangway'), ['reference-dangling gangway true']],
    ['a list made anew, all names right', set(at(4, 'at'), 'guest, cards'), []],
    ['one name of a list', set(at(4, 'at'), 'ofice', 'office'), ['reference-dangling ofice true']],
    ['a name where none was named', set(at(0, 'source'), 'crow'), ['reference-dangling crow true']],
    ['a name behind a mark', set(at(3, 'source'), '!tolls'), ['reference-dangling tolls true']],
    ['a word that the field has for all', set(at(4, 'source'), 'any'), []],
    ['an address', set(at(4, 'source'), '10.20.9.0/24'), []],
    ['a mark that other values have', set(at(4, 'source'), '!boss'), []],
    [
      'names and addresses together',
      set('/box[1]/sets[1]/set[4]/host[1]', 'tills,10.20.0.10,crw'),
      ['reference-dangling crw true'],
    ],
  ] as const)('%s', (_, decision, wanted) => {
    expect(amiss(decision).filter((line) => !line.startsWith('record-unused'))).toEqual(wanted);
  });

  it('a name more takes nothing from the others, and an empty value names nothing', () => {
    expect(amiss(set(at(0, 'source'), 'crew'))).toEqual([]);
    expect(amiss(set(at(5, 'source'), ''))).toEqual([]);
    expect(amiss(set(at(1, 'source'), ''))).toEqual(['record-unused crew true']);
  });

  it('who is named no more is unused, and one who is named elsewhere is not', () => {
    expect(amiss(set(at(1, 'source'), 'any'))).toEqual(['record-unused crew true']);
    expect(amiss(set(at(1, 'source'), 'any'), set(at(0, 'source'), 'crew'))).toEqual([]);
    expect(amiss(set(at(4, 'source'), 'any'))).toEqual([]);
    const [unused] = after(file, set(at(1, 'source'), 'any'));
    expect(sentence(unused!)).toBe('Nothing uses “crew” any more: you changed or left out the record that named it.');
  });

  it('the repair writes the right name into what the plan wrote', () => {
    const wrong = planOf([set('/box[1]/sets[1]/set[4]/host[1]', 'tills, 10.20.0.10, crw')]);
    const [found] = findingsOf(file, {}, wrong).filter(({ code }) => code === 'reference-dangling');
    const [repair] = found!.repairs!;
    const mended = planOf([...wrong.decisions, ...repair!.decisions]);
    expect(new Set(mended.decisions.map(subjectOf)).size).toBe(1);
    expect(after(file, ...mended.decisions).filter(({ code }) => code !== 'record-unused')).toEqual([]);
    const built = build(file.backup, file.reading, mended);
    expect(built.ok && new TextDecoder().decode(built.value.bytes)).toBe(
      quay.replace('<host>tills,boss<', '<host>tills, 10.20.0.10, crew<'),
    );
  });
});

// Ranges by RFC 4632, 3.1, RFC 6335, 6, IEEE 802.1Q; the result read anew says the same of each.
describe('values that cannot be, set by the plan or found in the file', () => {
  const file = openedFile(`${examples}kestrel-quay-plain.xml`);
  const place = (network: number, part: string) => `/site-record[1]/networks[1]/network[${network}]/${part}`;
  const pool = '/site-record[1]/leases[1]/pool[1]';
  const tagged = '/site-record[1]/tagged-links[1]/tagged[1]';

  it.each([
    ['an octet beyond 255', place(3, 'ipv4[1]/@address'), '10.30.300.1', 'address-malformed'],
    ['a digit beyond f', place(3, 'ipv6[1]/@address'), '2001:db8:30:10::g', 'address-malformed'],
    ['a length beyond the address', place(3, 'ipv4[1]/@length'), '33', 'prefix-length'],
    ['a letter for a digit', '/site-record[1]/address-books[1]/book[1]/entry[1]', '10.30.10.2O', 'value-outlier'],
    ['an octet too few', `${pool}/fixed[1]/client[1]`, '00:00:5e:00:53', 'value-outlier'],
    ['a port beyond 16 bits', '/site-record[1]/service-books[1]/service[1]/tcp[1]', '70000', 'port-number'],
    [
      'a range that ends before it begins',
      '/site-record[1]/service-books[1]/service[4]/tcp[2]',
      '8560-8554',
      'port-range-reversed',
    ],
    ['a VLAN ID in letters', `${tagged}/@tag`, 'abc', 'tag-out-of-range'],
    ['a role that names no port', place(3, 'sits-on[1]'), '', 'role-without-port'],
    ['a role on a port of a bundle', '/site-record[1]/bundles[1]/bundle[1]/member[1]', 'igb2', 'port-in-aggregate'],
  ] as const)('%s', (_, path, value, code) => {
    const plan = planOf([set(path, value)]);
    const fresh = findingsOf(file).map((one) => `${one.code} ${one.place?.path}`);
    const more = (findings: readonly Finding[]) =>
      findings
        .filter(
          (one) => !fresh.includes(`${one.code} ${one.place?.path}`) && !/^(?:caution|way-in|record)/.test(one.code),
        )
        .map(({ code }) => code);
    const found = findingsOf(file, {}, plan);
    expect(more(found)).toContain(code);
    expect(found.filter((one) => one.code === code && more([one]).length > 0).map(({ byPlan }) => byPlan)).toEqual([
      true,
    ]);
    expect(more(found).filter((one) => one.startsWith('reference-'))).toEqual([]);
    const built = build(file.backup, file.reading, plan);
    if (!built.ok) throw new Error(built.trouble.code);
    expect(more(findingsOf(opened(built.value.bytes)))).toContain(code);
  });

  it('a key that another record has is doubled, and one that is free again is not', () => {
    const book = (at: number) => `/site-record[1]/address-books[1]/book[${at}]/@name`;
    const names = [1, 2].map((at) => valueAt(file.backup.tree, siteAt(file.backup.tree, book(at))!));
    const doubled = (...decisions: Decision[]) =>
      findingsOf(file, {}, planOf(decisions)).flatMap(({ code, params }) =>
        code === 'key-doubled' ? [params.key] : [],
      );
    expect(doubled(set(book(2), names[0]!))).toEqual([names[0]]);
    expect(doubled(set(book(2), names[0]!), set(book(1), 'free'))).toEqual([]);
    expect(doubled(set('/site-record[1]/address-books[1]/book[2]/entry[1]', names[0]!))).toEqual([]);
  });

  it('a port that has no record is named by none', () => {
    expect(
      after(file, set(place(3, 'sits-on[1]'), 'igb9')).filter(({ code }) => code === 'reference-dangling'),
    ).toEqual(after(file).filter(({ code }) => code === 'reference-dangling'));
  });

  it('a record that is called otherwise is not said to be unused', () => {
    const found = after(file, set('/site-record[1]/address-books[1]/book[1]/@name', 'crew'));
    expect(
      found.filter(({ byPlan }) => byPlan).map(({ code, params }) => [code, params.value, params.nearest]),
    ).toEqual([['reference-dangling', 'crew-desks', 'crew']]);
  });
});

// The result read anew is the other opinion: it is inferred from nothing but its own text.
describe('a name broken in a value that the plan writes anew, against the result read anew', () => {
  const dangling = (file: Opened, plan: Plan) =>
    findingsOf(file, {}, plan)
      .filter(({ code }) => code === 'reference-dangling')
      .map(({ place, params }) => `${place!.path} ${params.value}`)
      .sort();

  it.each(Array.from({ length: 12 }, (_, index) => `a${String(index + 1).padStart(2, '0')}`))('%s', (name) => {
    const file = openedFile(`${fixtures}corpus/${name}.xml`);
    const { tree } = file.backup;
    const next = chance(20_261_128);
    const planted = dangling(file, emptyPlan);
    const named = file.reading.references.filter(
      ({ site, tier, value, field }) =>
        // A field of few values is read otherwise once one of them is broken, and a broken UUID is no UUID.
        site.attr !== TAG && tier !== 'possible' && file.reading.fields[field]!.hits > 5 && /^[\p{L}_]+$/u.test(value),
    );
    for (let round = 0; round < 5; round++) {
      const { site, from, value } = named[next(named.length)]!;
      const before = valueAt(tree, site);
      const wrong = `${value}qx`;
      const path = sitePath(tree, site);
      const plan = planOf([set(path, before.slice(0, from) + wrong + before.slice(from + value.length))]);
      const wanted = [...planted, `${path} ${wrong}`].sort();
      expect(dangling(file, plan)).toEqual(wanted);
      const built = build(file.backup, file.reading, plan);
      if (!built.ok) throw new Error(built.trouble.code);
      expect(dangling(opened(built.value.bytes), emptyPlan)).toEqual(wanted);
    }
  });
});
