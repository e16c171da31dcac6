import { describe, expect, test } from 'vitest';
import { readMeaning } from '../../src/core/reading/index.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';
import { open } from '../carry/files.ts';
import { AUTHORITIES, LEAVES } from '../dialects/pki.ts';

/** `value → record` of each reference of the orders, and the values that are gone. */
function read(text: string): { links: string[]; gone: string[] } {
  const tree = readXml(text);
  if (!tree.ok) throw new Error(tree.trouble.code);
  const { references, dangling } = readMeaning(tree.value);
  const leaf = (path: string) => path.replace(/.*\/(?=[^/]+$)/, '').replace(/\[.*/, '');
  return {
    links: references
      .filter(({ tier }) => tier !== 'possible')
      .map(
        ({ site, value, to }) =>
          `${leaf(sitePath(tree.value, site))} ${value} → ${pathOf(tree.value, to).replace('/y[1]/', '')}`,
      ),
    gone: dangling.map(({ site, value }) => `${leaf(sitePath(tree.value, site))} ${value}`),
  };
}

/** Records of four kinds, counted as `number` says; pools lend addresses of three of the shores. */
function yard(number: (kind: number, at: number) => number, orders: readonly string[]): string {
  const list = (kind: number, tag: string, count: number, inside: (at: number) => string) =>
    Array.from(
      { length: count },
      (_, at) => `<${tag}><no>${number(kind, at)}</no><nick>${tag}-${'abcdefgh'[at]}</nick>${inside(at)}</${tag}>`,
    ).join('');
  return `<y>${list(0, 'shore', 6, (at) => `<ip>10.0.${at}.1</ip><bits>24</bits>`)}
    ${list(1, 'crate', 4, (at) => `<has>10.0.${at}.7</has><has>10.0.${at}.8</has>`)}
    ${list(2, 'door', 3, (at) => `<has>${[80, 443, 8443][at]}</has><has>${[8080, 554, 993][at]}</has>`)}
    ${list(3, 'watch', 2, () => '<from>08:00</from><until>20:00</until>')}
    ${[1, 3, 4].map((at) => `<pool><at>${number(0, at)}</at><low>10.0.${at}.100</low></pool>`).join('')}
    ${orders.map((order, at) => `<order><no>${number(4, at)}</no>${order}</order>`).join('')}</y>`;
}

// Common practice, no source: what a technician takes the numbers for.
describe('numbers of records', () => {
  const byItself = (_: number, at: number) => at + 1;
  const ofAll = (kind: number, at: number) => 540 + kind * 20 + at * 2;

  test('where each kind counts from one, what stands beside them and how many there are tells whose they are', () => {
    const orders = [
      '<at>1</at><sort>53</sort><goes>any</goes>',
      '<at>2</at><sort>1</sort><goes>192.0.2.9</goes>',
      '<at>3</at><sort>2</sort><goes>4</goes>',
      '<at>4</at><sort>22</sort><goes>3</goes>',
      '<at>5</at><sort>1194</sort><goes>192.0.2.0/24</goes>',
      '<at>6</at><sort>3</sort><goes>4</goes>',
      '<at>17</at><sort>1</sort><goes>any</goes>',
    ];
    const { links, gone } = read(yard(byItself, orders));
    expect(links.filter((link) => link.startsWith('at '))).toEqual(
      [2, 4, 5, 1, 2, 3, 4, 5, 6].map((no) => `at ${no} → shore[${no}]`),
    );
    expect(links.filter((link) => link.startsWith('sort '))).toEqual(
      [1, 2, 3, 1].map((no) => `sort ${no} → door[${no}]`),
    );
    expect(links.filter((link) => link.startsWith('goes '))).toEqual(
      [4, 3, 4].map((no) => `goes ${no} → crate[${no}]`),
    );
    expect(gone).toEqual(['at 17']);
  });

  test('numbers that one kind leaves over, again and again, are of the kind that the field beside names', () => {
    const shores = Array.from({ length: 5 }, (_, at) => `<shore><no>${at + 1}</no><ip>10.0.${at}.1</ip></shore>`);
    const crates = Array.from(
      { length: 12 },
      (_, at) => `<crate><no>${at + 1}</no><has>10.0.1.${at + 7}</has></crate>`,
    );
    const order = (from: string, goes: string) => `<order><shore>${from}</shore><crate>${goes}</crate></order>`;
    const orders = [
      ...[1, 2, 3, 4, 5, 1, 2].map((no) => order(String(no), 'any')),
      ...['9', '11', '9', '17'].map((no) => order(no, '192.0.2.9')),
      ...['8', '10', '12', '7'].map((no) => order('3', no)),
    ];
    const { links, gone } = read(
      `<y><shores>${shores.join('')}</shores><crates>${crates.join('')}</crates><orders>${orders.join('')}</orders></y>`,
    );
    expect(links.filter((link) => /^shore \d\d? → crates/.test(link))).toEqual(
      [9, 11, 9].map((no) => `shore ${no} → crates[1]/crate[${no}]`),
    );
    expect(gone).toEqual(['shore 17']);
  });

  test('where one count goes through all kinds, each number is that of one record, and others are none', () => {
    const orders = [
      '<at>540</at><sort>53</sort><goes>560</goes><when>600</when>',
      '<at>542</at><sort>580</sort><goes>544</goes>',
      '<at>544</at><sort>584</sort><goes>566</goes>',
      '<at>555</at><sort>9100</sort><goes>192.0.2.1</goes>',
    ];
    const { links, gone } = read(yard(ofAll, orders));
    expect(links).toEqual(
      expect.arrayContaining([
        'at 540 → shore[1]',
        'sort 580 → door[1]',
        'sort 584 → door[3]',
        'goes 560 → crate[1]',
        'goes 544 → shore[3]',
        'when 600 → watch[1]',
      ]),
    );
    expect(gone).toEqual(['at 555']);
  });

  test('VLAN IDs are of no count, though they end where one begins: ports between them are none that is gone', () => {
    const tags = [30, 40, 201, 202, 520, 521].map(
      (id) => `<tag><id>${id}</id><over>em1</over><makes>em1.${id}</makes></tag>`,
    );
    const orders = [
      '<at>540</at><sort>53</sort><goes>560</goes>',
      '<at>542</at><sort>580</sort><goes>562</goes>',
      '<at>544</at><sort>584</sort><goes>566</goes>',
      '<at>546</at><sort>443</sort><goes>560</goes>',
    ];
    const { links, gone } = read(yard(ofAll, orders).replace('</y>', `${tags.join('')}</y>`));
    expect(links).toContain('sort 584 → door[3]');
    expect(gone).toEqual([]);
  });

  test('marks around numbers are left out where bare ones stand beside them', () => {
    const orders = ['1', '@2', '!3', '-4', '5 net', '6', '2'].map((at) => `<at>${at}</at>`);
    const { links } = read(yard(byItself, orders));
    expect(links).toEqual([2, 4, 5, 1, 2, 3, 4, 5, 6, 2].map((no) => `at ${no} → shore[${no}]`));
  });

  test('counts, weights and lengths are none', () => {
    const orders = [24, 26, 29, 24].map(
      (bits, at) => `<weight>${(at % 2) + 1}</weight><bits>${bits}</bits><on>${at % 2}</on>`,
    );
    for (const number of [byItself, ofAll])
      expect(read(yard(number, orders)).links.filter((link) => !link.startsWith('at '))).toEqual([]);
  });

  test('a word joined on to numbers, between names of other records, tells whose numbers they are', () => {
    const shores = [1, 2, 3, 4, 5].map(
      (no) => `<shore><no>${no}</no><nick>shore-${no}</nick><ip>10.0.${no}.1</ip></shore>`,
    );
    const crates = ['saw', 'rope'].map((nick) => `<crate><nick>${nick}-set</nick><has>10.0.1.7</has></crate>`);
    const pools = [2, 3, 4].map((no) => `<pool><at>${no}</at><low>10.0.${no}.100</low></pool>`);
    const orders = [
      ['1/net', 'any'],
      ['not 2/net', 'rope-set'],
      ['3/net', '1/net'],
      ['saw-set', 'any'],
      ['4/net', 'not rope-set'],
      ['5/net', 'any'],
      ['1/net', 'saw-set'],
      ['1/net', 'any'],
    ].map(([from, goes], at) => `<order><no>${at + 1}</no><from>${from}</from><goes>${goes}</goes></order>`);
    const { links } = read(`<y>${[...shores, ...crates, ...pools, ...orders].join('')}</y>`);
    expect(links.filter((link) => link.startsWith('from '))).toEqual([
      'from 1 → shore[1]',
      'from 2 → shore[2]',
      'from 3 → shore[3]',
      'from saw-set → crate[1]',
      'from 4 → shore[4]',
      'from 5 → shore[5]',
      'from 1 → shore[1]',
      'from 1 → shore[1]',
    ]);
    expect(links.filter((link) => link.startsWith('goes '))).toEqual([
      'goes rope-set → crate[2]',
      'goes 1 → shore[1]',
      'goes rope-set → crate[2]',
      'goes saw-set → crate[1]',
    ]);
  });

  test('a logical network that has a number where others have a device sits on the device of that number', () => {
    const shores = [2, 3, 0, 5, 0].map((no, at) => [
      `nick=shore ${'abcde'[at]}`,
      no ? `sock=eno${no}` : `chan=${at / 2}`,
      `ip=10.0.${at}.1`,
    ]);
    const lists = {
      shores,
      tagged: [40, 203].map((tag) => ['trunk=eno4', `tag=${tag}`, `dev=eno4_${tag}`]),
      doors: [80, 554].map((port) => [`nick=door ${port}`, `has=${port}`]),
      orders: [1, 2, 3, 4, 5, 1, 2].map((no, at) => [`at=${no}`, `sort=${[53, 1, 2, 1194][at % 4]}`, 'then=pass']),
    };
    const lines = Object.entries(lists).flatMap(([list, records]) =>
      records.flatMap((record, at) => record.map((field) => `<p>${list}.${at + 1}.${field}</p>`)),
    );
    const tree = readXml(`<y>${lines.join('').replaceAll(/<p>([^=]+)=/g, '<p k="$1">')}</y>`);
    const { bindings } = readMeaning(tree.ok ? tree.value : (null as never));
    expect(bindings.map(({ role, port }) => `${role} ${port}`).sort()).toEqual([
      'shore a eno2',
      'shore b eno3',
      'shore c eno4_40',
      'shore d eno5',
      'shore e eno4_203',
    ]);
  });

  test('a part of the file with words of its own names the same records by another ending', () => {
    const list = (tag: string, count: number, inside: (no: number) => string) =>
      Array.from(
        { length: count },
        (_, at) => `<${tag}><rid>${at + 1}</rid><nick>${tag} ${at}</nick>${inside(at + 1)}</${tag}>`,
      ).join('');
    const tables = `${list('shore', 5, (no) => `<ip>10.0.${no}.1/24</ip>`)}${list('crate', 6, (no) => `<has>10.0.1.${no}</has>`)}
      ${list('door', 3, (no) => `<has>${no * 111}</has>`)}${list('crew', 3, () => '')}`;
    const orders = [1, 2, 3, 4, 5].map(
      (no) => `<order><rid>${no}</rid><shoreRid>${no}</shoreRid><doorRid>${1 + (no % 3)}</doorRid></order>`,
    );
    const part = `<leihe><ufer_kennung>2</ufer_kennung><von>10.0.2.100</von></leihe>
      <leihe><ufer_kennung>3</ufer_kennung><von>10.0.3.100</von></leihe>
      <tunnel><ufer_kennung>1</ufer_kennung><tor_kennung>2</tor_kennung><mannschaft_kennung>1</mannschaft_kennung></tunnel>
      <weg><kiste_kennung>6</kiste_kennung><ziel_kennung>1</ziel_kennung></weg>`;
    const { links } = read(
      `<y>${tables}${orders.join('')}${part}<watch><shoreRid>5;3;4</shoreRid></watch><log><shoreRid>5;3;4</shoreRid></log></y>`,
    );
    const of = (name: string) =>
      links.filter((link) => link.startsWith(`${name} `)).map((link) => link.slice(name.length + 1));
    expect(of('ufer_kennung')).toEqual(['2 → shore[2]', '3 → shore[3]', '1 → shore[1]']);
    expect(of('kiste_kennung')).toEqual(['6 → crate[6]']);
    expect(of('shoreRid').slice(-6)).toEqual([5, 3, 4, 5, 3, 4].map((no) => `${no} → shore[${no}]`));
  });

  test('kinds of record are known by what the list around them is called', () => {
    const list = (name: string, tag: string, count: number, inside: (no: number) => string) =>
      `<${name}><list>${Array.from({ length: count }, (_, at) => `<${tag} no="${at + 1}"><nick>${tag} ${at}</nick>${inside(at + 1)}</${tag}>`).join('')}</list></${name}>`;
    const lists = [
      list('shores', 'strip', 5, (no) => `<ip>10.0.${no}.1</ip>`),
      list('hours', 'span', 2, () => '<from>08:00</from>'),
      list('crews', 'team', 2, () => ''),
      list('crates', 'box', 4, (no) => `<has>10.0.1.${no}</has>`),
      list('doors', 'gap', 2, (no) => `<has>${no * 300}</has>`),
    ];
    const orders = [1, 2, 3, 4, 5, 1].map(
      (no) => `<order no="${no}"><shore>${no}</shore><hour>${1 + (no % 2)}</hour></order>`,
    );
    const { links } = read(`<y>${lists.join('')}${orders.join('')}</y>`);
    expect(links.filter((link) => link.startsWith('hour '))).toEqual(
      [2, 1, 2, 1, 2, 2].map((no) => `hour ${no} → hours[1]/list[1]/span[${no}]`),
    );
  });

  test('two kinds of record that are each put in an order by numbers of one name do not name each other', () => {
    const clocks = ['192.0.2.123', '192.0.2.124'].map(
      (host, at) => `<clock weight="${at + 1}"><host>${host}</host></clock>`,
    );
    const exits = ['sea', 'dock', 'mast'].map(
      (nick, at) => `<exit><nick>${nick}</nick><weight>${at + 1}</weight></exit>`,
    );
    expect(read(`<y>${clocks.join('')}${exits.join('')}</y>`)).toEqual({ links: [], gone: [] });
  });

  test('a switch that is on everywhere names nothing, even where its name ends as that of records begins', () => {
    const list = (tag: string, count: number) =>
      `<${tag}s>${Array.from({ length: count }, (_, at) => `<${tag}><no>${at + 1}</no><nick>${tag} ${at}</nick><on>10.0.${at}.1</on></${tag}>`).join('')}</${tag}s>`;
    const orders = Array.from(
      { length: 8 },
      (_, at) => `<order><no>${at + 1}</no><hemcrate>1</hemcrate><to>10.0.${at}.9</to></order>`,
    );
    expect(read(`<y>${list('shore', 5)}${list('crate', 3)}${list('door', 3)}${orders.join('')}</y>`).links).toEqual([]);
  });

  test.each([
    ['behind an operator', (no: number) => `net(${no})`],
    ['in the same records', (no: number) => `${no}`],
  ])('a number %s that mostly is the same as another names the same kind of record', (_, written) => {
    const orders = [1, 2, 3, 4, 5, 6].map((no) => `<at>${no}</at><source>${no === 3 ? 'any' : written(no)}</source>`);
    const { links } = read(
      yard(byItself, orders).replace(
        '</y>',
        `${[1, 2, 3, 4, 5, 6, 7].map((no) => `<hut><no>${no}</no><nick>hut-${no}</nick><on>x</on></hut>`).join('')}</y>`,
      ),
    );
    expect(links.filter((link) => link.startsWith('source '))).toEqual(
      [1, 2, 4, 5, 6].map((no) => `source ${no} → shore[${no}]`),
    );
  });
});

test('numbers of one kind of record beside names of another, and a name that is gone', () => {
  const zones = ['uplink', 'office', 'cards', 'yard', 'guests', 'lights'].map(
    (name, at) => `<zone><id>${at + 1}</id><called>${name}</called><at>10.20.${at}.1</at></zone>`,
  );
  const sets = ['nvr', 'tills', 'cranes', 'masts'].map(
    (name, at) => `<set><called>${name}</called><holds>10.20.${at}.9</holds></set>`,
  );
  const people = ['mara', 'bram', 'odile'].map(
    (name, at) => `<user><id>${at + 1}</id><called>${name}</called><may>all</may></user>`,
  );
  const from = ['1', '2', '3', '4', '5', '6', 'nvr', 'tills', 'cranes', 'masts', 'old-nvr'];
  const rules = from.map(
    (one, at) => `<rule><id>${at + 1}</id><zone>${(at % 6) + 1}</zone><from>${one}</from><do>pass</do></rule>`,
  );
  const { links, gone } = read(`<y>${[...zones, ...sets, ...people, ...rules].join('')}</y>`);
  expect(links.filter((link) => link.startsWith('from'))).toEqual(
    from.slice(0, 10).map((one, at) => `from ${one} → ${at < 6 ? `zone[${one}]` : `set[${at - 5}]`}`),
  );
  expect(gone).toEqual(['from old-nvr']);
});

// Read off by eye.
describe('numbers of tagged devices', () => {
  const ids = [30, 40, 50, 60, 70, 80];
  const tags = ids.map(
    (id, at) => `<tag id="${at + 1}"><vid>${id}</vid><low>enp4s0f1</low><dev>enp4s0f1.${id}</dev></tag>`,
  );
  const zones = ids.map(
    (_, at) => `<zone name="z-${'abcdef'[at]}"><tag>${at + 1}</tag><ip>10.20.${at}.1</ip><len>24</len></zone>`,
  );
  const flats = [0, 1].map(
    (at) => `<zone name="f-${'ab'[at]}"><nic>enp3s0f${at}</nic><ip>10.21.${at}.1</ip><len>24</len></zone>`,
  );
  /** Rules that have numbers of their own, as many as there are tags and more. */
  const rules = [...ids, ...ids].map(
    (_, at) => `<rule no="${at + 1}"><do>pass</do><at>z-${'abcdef'[at % 6]}</at><to>any</to></rule>`,
  );
  const people = ['mara', 'bram'].map((name, at) => `<user no="${at + 1}"><nick>${name}</nick><may>all</may></user>`);
  const plans = ['day', 'night'].map(
    (name, at) => `<plan no="${at + 1}"><nick>${name}</nick><from>08:00</from></plan>`,
  );

  test('a network that has a device or a number is on the tagged device of that number, though there are rules of it', () => {
    const { links } = read(
      `<y><tags>${tags.join('')}</tags><zs>${[...zones, ...flats].join('')}</zs><rs>${rules.join('')}</rs><us>${people.join('')}</us><ps>${plans.join('')}</ps></y>`,
    );
    expect(links.filter((link) => link.startsWith('tag '))).toEqual(
      ids.map((_id, at) => `tag ${at + 1} → tags[1]/tag[${at + 1}]`),
    );
  });
});

test('beside a prefix and hardly more a number is that of the gateway, of which there are as many as of others', () => {
  const zones = [1, 2, 3, 4, 5, 6, 7, 8].map(
    (no) => `<zone><no>${no}</no><nick>z-${no}</nick><ip>10.20.${no}.1</ip></zone>`,
  );
  const plans = ['day', 'night'].map((nick, at) => `<plan><no>${at + 1}</no><nick>${nick}</nick><h>08:00</h></plan>`);
  const gates = ['north', 'south'].map(
    (nick, at) => `<gate><no>${at + 1}</no><nick>${nick}</nick><on>4</on><ip>10.20.4.${at + 253}</ip></gate>`,
  );
  const rules = [3, 1, 7, 2, 3, 8, 4, 1, 6, 5].map(
    (no, at) => `<rule><no>${at + 1}</no><on>${no}</on><do>pass</do></rule>`,
  );
  const pools = [3, 7, 3].map((no) => `<pool><on>${no}</on><low>10.20.${no}.100</low></pool>`);
  const routes = [1, 2, 1].map((no, at) => `<route><to>10.${at + 40}.0.0/16</to><through>${no}</through></route>`);
  const { links } = read(`<y>${[...plans, ...zones, ...gates, ...rules, ...pools, ...routes].join('')}</y>`);
  expect(links.filter((link) => link.startsWith('through '))).toEqual(
    [1, 2, 1].map((no) => `through ${no} → gate[${no}]`),
  );
});

test('the certificates say what the numbers beside them name: the record of the authority that issued them', () => {
  const roots = AUTHORITIES.map(
    ({ cert }, at) => `<root><no>${at + 1}</no><about>Root ${at}</about><pem>${cert}</pem></root>`,
  );
  const issuer = ({ issuer }: (typeof LEAVES)[number]) => AUTHORITIES.findIndex(({ name }) => name === issuer) + 1;
  const pairs = LEAVES.map(
    (leaf, at) =>
      `<pair><no>${at + 1}</no><about>Page ${at}</about><by>${issuer(leaf)}</by><pem>${leaf.cert}</pem></pair>`,
  );
  const others = ['mara', 'bram', 'odile'].map((name, at) => `<user><no>${at + 1}</no><nick>${name}</nick></user>`);
  const { links } = read(`<y>${[...others, ...roots, ...pairs].join('')}</y>`);
  expect(links).toEqual(LEAVES.map((leaf) => `by ${issuer(leaf)} → root[${issuer(leaf)}]`));
});

test.each([
  ['by a number', false, (at: number) => `${at + 1}`],
  ['by a label', false, (at: number) => `Root ${at}`],
  ['by a label, where nothing else is numbered', true, (at: number) => `Root ${at}`],
])(
  'who names an authority, %s, shows a certificate that it issued: one that is not there is gone',
  (_, byLabel, named) => {
    const number = (at: number) => (byLabel ? '' : `<no>${at + 1}</no>`);
    const roots = AUTHORITIES.map(
      ({ cert }, at) => `<root>${number(at)}<about>Root ${at}</about><pem>${cert}</pem></root>`,
    );
    const issuer = ({ issuer }: (typeof LEAVES)[number]) => AUTHORITIES.findIndex(({ name }) => name === issuer);
    const pairs = LEAVES.map((leaf, at) => {
      const inside = `<no>${at + 1}</no><by>${named(issuer(leaf))}</by><pem>${leaf.cert}</pem>`;
      return byLabel ? `<pair about="Page${at}">${inside}</pair>` : `<pair>${inside}<about>Page ${at}</about></pair>`;
    });
    const others = ['mara', 'bram', 'odile', 'ines'].map(
      (name, at) => `<user>${number(at)}<nick>${name}</nick></user>`,
    );
    const tunnels = ['crew', 'phones'].map(
      (name, at) => `<tunnel><nick>${name}</nick><trusts>${named(0)}</trusts><shows>${[2, 31][at]}</shows></tunnel>`,
    );
    const { links, gone } = read(`<y>${[...others, ...roots, ...pairs, ...tunnels].join('')}</y>`);
    expect(links.filter((link) => link.startsWith('shows'))).toEqual(['shows 2 → pair[2]']);
    expect(gone).toEqual(['shows 31']);
  },
);

test('an order in steps numbers no VLANs, though these go in steps as well', () => {
  const names = ['sea', 'desk', 'tills', 'lens', 'guests', 'piers'];
  const ports = names.map((_, at) => `<port num="${at + 1}" nom="ge1/0/${at + 1}"/>`).join('');
  const tags = names.map((_, at) => `<vlan num="${at + 1}0" nom="${'ABCDEF'[at]}XT"/>`).join('');
  const nets = names.map((name, at) => `<net nom="${name}"><vlan>${at + 1}0</vlan><ip>10.20.${at}.1/24</ip></net>`);
  const rules = [...names, 'attic', 'sea'].map((name, at) => `<rule ordre="${at + 1}0" de="${name}"/>`).join('');
  const services = `<service nom="web" ports="80,443"/><service nom="video" ports="554"/>`;
  const pools = names
    .slice(1, 4)
    .map((name, at) => `<pool net="${name}" low="10.20.${at + 1}.10" high="10.20.${at + 1}.90"/>`);
  const parts = [
    ['ports', ports],
    ['sets', '<set num="1" nom="po1"/>'],
    ['vlans', tags],
    ['nets', nets.join('')],
  ];
  const more = [
    ['services', services],
    ['rules', rules],
    ['pools', pools.join('')],
  ];
  const text = [...parts, ...more].map(([name, inside]) => `<${name}>${inside}</${name}>`).join('');
  const { reading } = open(`<box>${text}</box>`);
  const named = [...reading.references, ...reading.dangling].map(({ field }) => reading.fields[field]!.name);
  expect(named.filter((name) => name.includes('ordre'))).toEqual([]);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['attic']);
});

// Read off by eye: what `ropeId` names by 1 to 3 may be either of two lists, and 81 is in neither.
test('a number that no kind of record has is gone whichever of them is meant', () => {
  const list = (tag: string, names: readonly string[], more = (_at: number) => '') =>
    `<${tag}>${names.map((name, at) => `<row><id>${at + 1}</id><title>${name}</title>${more(at)}</row>`).join('')}</${tag}>`;
  const ropes = [1, 2, 3, 81];
  const text = [
    list('masts', ['fore', 'main', 'aft']),
    list('lamps', ['red', 'green', 'white']),
    list('flags', ['ebb', 'flood', 'gale']),
    list('berths', ['north', 'south', 'west', 'east'], (at) => `<mastId>${(at % 3) + 1}</mastId>`),
    list(
      'boats',
      ['gull', 'tern', 'coot', 'loon'],
      (at) => `<berthId>${4 - at}</berthId><ropeId>${ropes[at]}</ropeId>`,
    ),
  ];
  const { reading } = open(`<quay>${text.join('')}</quay>`);
  expect(reading.dangling.map(({ value, nearest, tier }) => [value, nearest, tier])).toEqual([['81', null, 'likely']]);
  const sure = reading.references.filter(({ tier }) => tier !== 'possible');
  expect(sure.map(({ field }) => reading.fields[field]!.name)).not.toContain('row/ropeId');
});

test('one count: numbers of other records are no ports, so one that is just behind the last is gone', () => {
  const list = (tag: string, from: number, count: number, more = (_at: number) => '') =>
    Array.from({ length: count }, (_, at) => `<${tag} no="${from + at}" nom="${tag} ${at}"${more(at)}/>`).join('');
  const text = [
    `<roots>${list('root', 640, 2)}</roots>`,
    `<seals>${list('seal', 642, 4, (at) => ` by="${640 + (at % 2)}"`)}</seals>`,
    `<masts>${list('mast', 646, 8)}</masts>`,
    `<ropes><rope to="198.51.100.7" seal="642"/><rope to="198.51.100.8" seal="655"/></ropes>`,
  ];
  const { reading } = open(`<quay>${text.join('')}</quay>`);
  expect(reading.dangling.map(({ value }) => value)).toEqual(['655']);
});
