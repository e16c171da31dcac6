import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { cautionIn, cautionsAmong } from '../../src/core/checks/cautions/caution-words.ts';
import { compareVersions } from '../../src/core/checks/form/format-version.ts';
import { fitsName } from '../../src/core/checks/way-in/way-in.ts';
import { planOf } from '../../src/core/index.ts';
import { bundlesOf, repairsForAll } from '../../src/panes/findings/bundles.ts';
import { bundleWords } from '../../src/words/bundles.ts';
import { plain } from '../../src/words/said.ts';
import { LEAVES } from '../dialects/pki.ts';
import { ranges } from '../values/tables.ts';
import { box } from './box.ts';
import { namedSets, sets } from './named-sets.ts';
import { examples, findingsOf, fixtures, opened, openedFile, said, sentence } from './support.ts';

const say = (xml: string, family: RegExp) =>
  findingsOf(opened(xml))
    .filter(({ code }) => family.test(code))
    .map((finding) => `${finding.code}: ${sentence(finding)}`);

describe('numbers and names', () => {
  const family = /^(?:port-number|port-range|frame-|host-name|mac-of)/;
  const services = (ports: readonly string[]) =>
    box({
      more: `<services>${ports.map((port, at) => `<service><name>s${at}</name><port>${port}</port></service>`).join('')}</services>`,
    });

  // RFC 6335, 6; the ends of the range are those of test/fixtures/tables/ranges.json.
  it('ports', () => {
    const [least, most] = [1, 65_535];
    expect(JSON.stringify(ranges)).toContain(String(most));
    const good = [String(least), String(most), '80', '443', '10000-10099'];
    expect(say(services(good), family)).toEqual([]);
    expect(say(services([...good, String(most + 1)]), family)).toEqual([
      'port-number: “65536” in “port” is no port number.',
    ]);
    expect(say(services([...good, '10099-10000']), family)).toEqual([
      'port-range-reversed: The range “10099-10000” in “port” ends before it begins.',
    ]);
    expect(say(services([...good, '0']), family)).toEqual(['port-number: “0” in “port” is no port number.']);
  });

  // RFC 1123, 2.1.
  it('host names', () => {
    const hosts = (names: readonly string[]) =>
      box({
        more: `<desks>${names.map((name) => `<desk><hostname>${name}</hostname><floor>1</floor></desk>`).join('')}</desks>`,
      });
    const good = ['desk-1', 'desk-2', 'printer', 'tide-board.kestrelquay.example', '3com'];
    expect(say(hosts(good), family)).toEqual([]);
    expect(say(hosts([...good, '-desk']), family)).toEqual([
      'host-name-malformed: “-desk” in “hostname” is no host name, unlike the others of its field.',
    ]);
    expect(say(hosts([...good, 'x'.repeat(64)]), family)).toHaveLength(1);
    expect(say(hosts([...good, 'x'.repeat(63)]), family)).toEqual([]);
  });

  // RFC 9542, 2.1: the lowest bit of the first octet marks a group; 01-00-5E-90-10-00 is a group address for documentation.
  it('hardware addresses', () => {
    expect(say(box().replace('00:00:5e:00:53:00', '01:00:5e:90:10:00'), family)).toEqual([
      'mac-of-a-group: “01:00:5e:90:10:00” in “card” is no address of a single device.',
    ]);
    expect(say(box(), family)).toEqual([]);
  });

  // RFC 8200, 5. Source of the case: test/fixtures/site/broken/expected.md, variant 07, which yanglint refuses.
  it('the smallest frame of version 6', () => {
    expect(said(findingsOf(openedFile(`${fixtures}site/broken/07-mtu-out-of-range.xml`)), family)).toEqual([
      'frame-too-small 22',
    ]);
    expect(said(findingsOf(openedFile(`${fixtures}site/marina-netconf.xml`)), family)).toEqual([]);
  });
});

describe('versions', () => {
  // Numbers of a version are compared as numbers: Semantic Versioning 2.0.0, 11 (from memory).
  it.each([
    ['7.2.4', '7.2.4', 0],
    ['7.10', '7.9', 1],
    ['7.2', '7.2.1', -1],
    ['v2', '10', null],
    ['21', '9', 1],
    ['b', 'a', null],
    ['', '1', null],
  ])('%s against %s', (a, b, order) => {
    const made = compareVersions(a, b);
    expect(made === null ? null : Math.sign(made)).toBe(order);
  });

  it('newer or older than the receiver; nothing where it is not known', () => {
    const file = openedFile(`${fixtures}corpus/a01.xml`);
    const codes = (receiverVersion: string | null) =>
      findingsOf(file, { receiverVersion })
        .filter(({ code }) => code === 'version-differs')
        .map(({ severity, params }) => [severity, params.order]);
    expect(file.reading.about.version).toBe('4.2');
    expect(codes(null)).toEqual([]);
    expect(codes('4.2')).toEqual([]);
    expect(codes('4.10')).toEqual([['note', 'older']]);
    expect(codes('4.1')).toEqual([['warning', 'newer']]);
  });
});

describe('secrets', () => {
  const family = /^secrets?-/;
  const accounts = (...secrets: string[]) =>
    box({
      more: `<talks>${secrets.map((secret, at) => `<talk><host>192.0.2.${at + 1}</host><password>${secret}</password></talk>`).join('')}</talks>`,
    });

  it('those that travel, by section, never with their text', () => {
    const secrets = ['gulls over pier 7', 'Mackerel8LineQz', 'tide-table-1887x'];
    const found = say(accounts(...secrets), family);
    expect(found).toEqual(['secrets-travel: “talks” holds 3 secrets that can be read in the file as they are.']);
    const all = JSON.stringify(findingsOf(opened(accounts(...secrets))));
    for (const secret of secrets) expect(all).not.toContain(secret);
  });

  it('one secret in several places, and one that many people use', () => {
    expect(say(accounts('gulls over pier 7', 'gulls over pier 7', 'tide-table-1887x'), family)).toContain(
      'secret-shared: The same secret stands in 2 places, in “password” first.',
    );
    expect(say(accounts('gulls over pier 7', 'changeme', 'tide-table-1887x'), family)).toContain(
      'secret-common: The secret in “password” is a word that many people use.',
    );
  });

  it('the marina: the key of the tunnel stands at both of its ends', () => {
    const shared = findingsOf(openedFile(`${fixtures}site/marina-netconf.xml`)).filter(
      ({ code }) => code === 'secret-shared',
    );
    expect(shared.map(({ params }) => params.count)).toEqual([2]);
  });
});

describe('what people depend on', () => {
  // Words of the trade, from memory: each is a question, never an answer.
  it.each([
    ['LIFT TELEPHONE AND HARBOUR ALARM', 'lift'],
    ['Notruf im Aufzug', 'phone'],
    ['harbour alarm dialler', 'alarm'],
    ['Card terminals: chandlery', 'payment'],
    ['Infusion pumps, ward 2', 'medical'],
    ['Lifting plan', null],
    ['postcards', null],
    ['quay-gate', null],
    ['office', null],
    ['The quay calls 112.', 'phone'],
    ['112', null],
    ['igb2.112', null],
    ['tag 911/20', null],
  ])('%s', (text, kind) => {
    const found = cautionIn(text);
    if (kind === 'lift') expect(['lift', 'phone', 'alarm']).toContain(found);
    else expect(found).toBe(kind);
  });

  it('numbers that count something call nobody', () => {
    expect(cautionsAmong(['Berth 111', 'Berth 112', 'Calls 112', 'Phone 112', 'Phone 7'])).toEqual([
      null,
      null,
      'phone',
      'phone',
      'phone',
    ]);
  });

  it('texts of one field are told as each would be alone, whatever numbers stand in them', () => {
    const texts = [
      'Gate',
      'lift7',
      'Lift 7 B',
      'sips 5060',
      '9112',
      'x-112',
      'calls 112',
      'Till 4',
      'till4s',
      'alarm3',
    ];
    // None is like another but for its number, so nothing counts here.
    expect(cautionsAmong(texts)).toEqual(texts.map(cautionIn));
    expect(texts.map(cautionIn).filter((kind) => kind !== null).length).toBeGreaterThan(3);
  });

  it('asks once for each kind, and says the general cautions once something is planned', () => {
    const file = openedFile(`${examples}kestrel-quay-plain.xml`);
    const kinds = findingsOf(file)
      .filter(({ code }) => code === 'caution-mentioned')
      .map(({ params }) => params.kind);
    expect(kinds.sort()).toEqual(['alarm', 'control', 'lift', 'payment', 'phone']);
    const general = (decisions: Parameters<typeof planOf>[0]) =>
      said(findingsOf(file, {}, planOf(decisions)), /^caution-swap$/);
    expect(general([])).toEqual([]);
    expect(general([{ kind: 'rename-port', from: 'igb0', to: 'em0' }])).toEqual(['caution-swap 0']);
  });
});

describe('what cannot go together', () => {
  const example = readFileSync(`${examples}kestrel-quay-plain.xml`, 'utf8');
  const more = (from: string, to: string) => {
    expect(example.split(from).length).toBeGreaterThan(1);
    const before = new Set(findingsOf(opened(example)).map(({ code, place }) => `${code} ${place?.line}`));
    return findingsOf(opened(example.replace(from, () => to)))
      .filter(({ code, place }) => !before.has(`${code} ${place?.line}`))
      .map((finding) => `${finding.code}: ${sentence(finding)}`);
  };

  // IEEE 802.1AX: a link belongs to one aggregate; RFC 1812, 5.2.4.2: a next hop is a neighbour; both from memory. RFC 3339, 5.7.
  it.each([
    [
      '<member>ix1<',
      '<member>ix0<',
      'member-doubled: “ix0” is named as a port of an aggregate twice, of “lagg0” first.',
    ],
    [
      '<address>203.0.113.9<',
      '<address>203.0.113.10<',
      'next-hop-own: The next hop “203.0.113.10” is the box’s own address in “uplink”.',
    ],
    ['2027-03-31', '2027-02-29', 'day-not-there: “2027-02-29” in “until” is a day that its month does not have.'],
    ['2027-03-31', '2028-02-29', null],
    ['<outside-port>443<', '<outside-port>66443<', 'port-number: “66443” in “outside-port” is no port number.'],
  ])('%s as %s', (from, to, wanted) => expect(more(from, to)).toEqual(wanted === null ? [] : [wanted]));

  // IEEE 802.1AX, from memory, for links; common practice, no source, for bridges.
  it.each([
    ['bundles', 'bundle', 'lagg0', ['“till” sits on “igb2”, which is one of the ports of “lagg0”.']],
    ['bridges', 'bridge', 'bridge0', []],
  ])('a tagged device on a port of %s', (list, item, name, wanted) => {
    const xml = `<box>
<cards>${[0, 1, 2, 3].map((at) => `<card><name>igb${at}</name><speed>auto</speed></card>`).join('')}</cards>
<${list}><${item}><name>${name}</name><member>igb1</member><member>igb2</member></${item}></${list}>
<vlans><vlan><device>igb2.30</device><on>igb2</on><tag>30</tag></vlan><vlan><device>igb3.40</device><on>igb3</on><tag>40</tag></vlan></vlans>
<networks>
<network><called>uplink</called><on>igb0</on><address>203.0.113.10/29</address></network>
<network><called>office</called><on>${name}</on><address>10.20.0.1/24</address></network>
<network><called>till</called><on>igb2.30</on><address>10.20.30.1/24</address></network>
<network><called>lens</called><on>igb3.40</on><address>10.20.40.1/24</address></network>
</networks>
<rules>${['uplink', 'office', 'till', 'lens'].map((net) => `<rule><at>${net}</at><do>pass</do></rule>`).join('')}</rules>
</box>`;
    const found = findingsOf(opened(xml)).filter(({ code }) => code === 'port-in-aggregate');
    expect(found.map(sentence)).toEqual(wanted);
  });

  // IEEE 802.1Q, 9, from memory: a tag is put into the frame that the port carries.
  it.each([
    [
      '9000',
      '1500',
      [
        'frame-over-parent: “eth1.30” may send frames of 9000 octets, and “eth1”, which carries them, takes 1500 at most.',
      ],
    ],
    ['1500', '1500', []],
    ['1500', '9000', []],
  ])('frames of %s over a port of %s', (own, below, wanted) => {
    const text = `<box>
<nics>${['eth0', 'eth1', 'eth2'].map((name) => `<nic><port>${name}</port><mtu>${name === 'eth1' ? below : '1500'}</mtu></nic>`).join('\n')}</nics>
<vlans>${['30', '40'].map((tag) => `<vlan><device>eth1.${tag}</device><on>eth1</on><tag>${tag}</tag><mtu>${tag === '30' ? own : '1400'}</mtu></vlan>`).join('\n')}</vlans>
<places>
<place><name>sea</name><on>eth0</on><address>10.20.9.1</address><prefix>24</prefix></place>
<place><name>office</name><on>eth2</on><address>10.20.0.1</address><prefix>24</prefix></place>
<place><name>cards</name><on>eth1.30</on><address>10.20.30.1</address><prefix>24</prefix></place>
<place><name>cameras</name><on>eth1.40</on><address>10.20.40.1</address><prefix>24</prefix></place>
</places>
</box>`;
    expect(say(text, /^frame-/)).toEqual(wanted);
  });
});

// Read by eye: the bundle's remark has 53 characters, the authority's is a sentence, and the networks have titles.
it('a record is called by its name where what stands beside it is a remark', () => {
  const leaving = (path: string) =>
    findingsOf(openedFile(`${examples}kestrel-quay-plain.xml`), {}, planOf([{ kind: 'leave-out', path }]))
      .filter(({ code }) => code === 'reference-left-out')
      .map(({ params }) => params.target);
  expect(new Set(leaving('/site-record[1]/bundles[1]'))).toEqual(new Set(['lagg0']));
  expect(new Set(leaving('/site-record[1]/key-cabinet[1]/authority[1]'))).toEqual(new Set(['quay-root']));
  expect(new Set(leaving('/site-record[1]/networks[1]/network[3]'))).toEqual(new Set(['Harbour office']));
});

describe('the way back in, and what nothing uses any more', () => {
  const family = /^(?:way-in-|record-unused)/;
  const file = () => openedFile(`${examples}kestrel-quay-plain.xml`);
  const leaving = (...paths: string[]) => {
    const plan = planOf(paths.map((path) => ({ kind: 'leave-out', path }) as const));
    return findingsOf(file(), {}, plan)
      .filter(({ code }) => family.test(code))
      .map((finding) => `${finding.code}: ${sentence(finding)}`);
  };

  it('an untouched box: nothing', () => {
    expect(said(findingsOf(file()), family)).toEqual([]);
  });

  // Read by eye: the page listens on 8443 of office and switches, and rule r-1100 lets the office go anywhere.
  it('a rule of a network on which the page listens lets one in', () => {
    const plan = planOf([{ kind: 'rename-port', from: 'igb0', to: 'em0' }]);
    expect(said(findingsOf(file(), {}, plan), family)).toEqual([]);
  });

  it('the page left out', () => {
    expect(leaving('/site-record[1]/identity[1]/web-console[1]')).toContain(
      'way-in-left-out: You left out the record of the box’s own page on port 8443.',
    );
  });

  it('both networks left out on which it listens', () => {
    const networks = ['/site-record[1]/networks[1]/network[3]', '/site-record[1]/networks[1]/network[7]'];
    expect(leaving(...networks)).toContain(
      'way-in-closed: You left out the networks on which one reaches the box’s own page on port 8443, such as “office”.',
    );
  });

  // Read by eye: r-1060 to r-1090 let the office reach other places only, and r-1100 is the one that has no bounds.
  const lost = (what: string) =>
    `way-in-lost: ${what}: it let “office” reach the box’s own page on port 8443, and no other rule is known to.`;
  const rule = '/site-record[1]/traffic-rules[1]/rule[10]';

  it('the rule left out that lets one in, alone or with all rules', () => {
    const words = lost('You left out the rule “Office may go anywhere else”');
    expect(leaving(rule)).toEqual([words]);
    expect(leaving('/site-record[1]/traffic-rules[1]')).toContain(words);
    expect(leaving('/site-record[1]/traffic-rules[1]/rule[9]')).toEqual([]);
  });

  it.each([
    ['turned off', `${rule}/@active`, 'no'],
    ['turned round', `${rule}/verdict[1]`, 'drop'],
    ['of another network', `${rule}/enters[1]`, 'guest'],
  ])('the rule that lets one in, %s', (_, path, value) => {
    const found = findingsOf(file(), {}, planOf([{ kind: 'set-value', path, value }]));
    expect(found.filter(({ code }) => family.test(code)).map((one) => `${one.code}: ${sentence(one)}`)).toEqual([
      lost('By what you set, the rule “Office may go anywhere else” no longer helps'),
    ]);
  });

  it('a rule before it that shuts all of the network', () => {
    const text = readFileSync(`${examples}kestrel-quay-plain.xml`, 'utf8');
    const shut = `<rule id="r-1000" active="yes"><verdict>drop</verdict><enters>office</enters><sender><any/></sender><receiver><any/></receiver><remark>shut</remark></rule>\n    <rule id="r-1010"`;
    const behind = opened(text.replace('<rule id="r-1010"', shut));
    const plan = planOf([{ kind: 'rename-port', from: 'igb0', to: 'em0' }]);
    expect(said(findingsOf(behind, {}, plan), /^way-in-/)).toEqual(['way-in-no-rule 15']);
  });

  it('a set that only a rule left out used', () => {
    // Line 183 of the example: card-terminals is named by one rule alone.
    const found = leaving('/site-record[1]/traffic-rules[1]');
    expect(found).toContain(
      'record-unused: Nothing uses “card-terminals” any more: you left out the record that named it.',
    );
    expect(leaving()).toEqual([]);
  });

  it('all records of one list that lost their users by one decision are one cause', () => {
    const file = opened(namedSets(sets, sets));
    const plan = planOf([{ kind: 'leave-out', path: '/box[1]/rules[1]' }]);
    const unused = findingsOf(file, {}, plan).filter(({ code }) => code === 'record-unused');
    expect(unused).toHaveLength(sets.length);
    const [bundle, ...others] = bundlesOf(unused, (one) => one);
    expect([others, bundle!.items.length]).toEqual([[], sets.length]);
    expect(plain(bundleWords(bundle!.items))).toMatch(
      new RegExp(`^Nothing uses these ${sets.length} records any more: “${sets[0]}”.* You left out what named them.$`),
    );
    expect(repairsForAll(bundle!.items).map(({ decisions }) => decisions.length)).toEqual([sets.length]);
  });
});

describe('the name of the page’s certificate', () => {
  // RFC 9525, 6.3: the wildcard stands for exactly one label.
  it.each([
    ['gate.kestrelquay.example', 'GATE.kestrelquay.example', true],
    ['*.kestrelquay.example', 'gate.kestrelquay.example', true],
    ['*.kestrelquay.example', 'a.gate.kestrelquay.example', false],
    ['*.kestrelquay.example', 'kestrelquay.example', false],
    ['gate.kestrelquay.example', 'kestrelquay.example', false],
  ])('%s for %s: %s', (pattern, name, fits) => {
    expect(fitsName(pattern, name)).toBe(fits);
  });

  it('is said where neither the box nor its domain is in it', () => {
    const page = (host: string, domain: string) => `<box>
<unit><host-name>${host}</host-name><domain>${domain}</domain><page><listen-port>8443</listen-port><seal>c1</seal></page></unit>
<store><seal><id>c1</id><text>${LEAVES[0]!.cert}</text></seal><seal><id>c2</id><text>${LEAVES[1]!.cert}</text></seal></store>
</box>`;
    const codes = (xml: string) => said(findingsOf(opened(xml)), /^certificate-name$/).length;
    expect(codes(page('gate', 'kestrelquay.example'))).toBe(0);
    expect(codes(page('mast', 'kestrelquay.example'))).toBe(0);
    expect(codes(page('mast', 'elsewhere.example'))).toBe(1);
  });
});
