import { expect, test } from 'vitest';
import { readMeaning } from '../../src/core/reading/index.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';
import { linksOf } from './links.ts';

const rows = (names: readonly string[], list: readonly (readonly string[])[]) =>
  `<head>${names.map((name) => `<c>${name}</c>`).join('')}</head>${list
    .map((row) => `<r>${row.map((cell) => `<c>${cell}</c>`).join('')}</r>`)
    .join('')}`;
const block = (key: string, cells: Record<string, string>) =>
  `<b n="${key}">${Object.entries(cells)
    .map(([name, value]) => `<e n="${name}">${value}</e>`)
    .join('')}</b>`;

// Common practice, no source.
test('tables of two layouts under one tag are read each in its own', () => {
  const shores = [
    ['east-quay', '10.0.1.1', '24'],
    ['west-quay', '10.0.2.1', '24'],
    ['fuel-quay', '10.0.3.1', '24'],
  ];
  const text = `<y>
    <grid name="shore">${rows(['nick', 'ip', 'bits'], shores)}</grid>
    <grid name="lend">${rows(
      ['at', 'low', 'high'],
      shores.map(([nick], at) => [nick!, `10.0.${at + 1}.10`, `10.0.${at + 1}.20`]),
    )}</grid>
    <grid name="door">${rows(
      ['nick', 'has'],
      [
        ['web-door', '80'],
        ['mail-door', '25'],
      ],
    )}</grid>
    <grid n="crates">${block('pilot-hut', { has: '10.0.1.9' })}${block('dredger', { has: '10.0.2.9' })}</grid>
    <grid n="orders">${block('first', { at: 'east-quay', goes: 'dredger' })}${block('second', { at: 'fuel-quay', goes: 'pilot-hut' })}${block('third', { at: 'west-quay', goes: 'dredger' })}</grid>
  </y>`;
  const tree = readXml(text);
  if (!tree.ok) throw new Error(tree.trouble.code);
  const { references } = readMeaning(tree.value);
  const said = references.map(({ site, to }) => `${sitePath(tree.value, site)} → ${pathOf(tree.value, to)}`);
  for (const [at, row] of [2, 4, 3].entries())
    expect(said).toContain(`/y[1]/grid[5]/b[${at + 1}]/e[1] → /y[1]/grid[1]/r[${row - 1}]`);
  expect(said).toContain('/y[1]/grid[5]/b[1]/e[2] → /y[1]/grid[4]/b[2]');
  expect(said).toContain('/y[1]/grid[2]/r[1]/c[1] → /y[1]/grid[1]/r[1]');
});

test('a table of one column is read as the others are, and a setting of the box in it is its row', () => {
  const shores = ['east-quay', 'west-quay', 'fuel-quay'].map((nick, at) => [nick, `10.0.${at + 1}.1`]);
  const text = `<y><grid name="shore">${rows(['nick', 'ip'], shores)}</grid>
    <grid name="serial_console">${rows(['bits_a_second'], [['115200']])}</grid></y>`;
  const tree = readXml(text);
  if (!tree.ok) throw new Error(tree.trouble.code);
  const { boxBound, values } = readMeaning(tree.value);
  expect(boxBound.map(({ node }) => pathOf(tree.value, node))).toEqual(['/y[1]/grid[2]/r[1]']);
  expect(values.fields.map(({ steps }) => steps.at(-1))).toContain('c[bits_a_second]');
});

test('elements of one name are told apart by the leaf that all have, where some have another before it', () => {
  const record = (kind: string, fields: string, name = '') =>
    `<r${name && ` name="${name}"`}><kind>${kind}</kind>${fields}</r>`;
  const sets = ['desks', 'tills', 'masts'].map((name) =>
    record('set', '<text>hosts</text><host>10.20.1.9</host>', name),
  );
  const rules = Array.from({ length: 14 }, (_, at) =>
    record(
      'rule',
      `<do>pass</do><how>${at % 2 ? 'tcp' : 'udp'}</how><from>net ${at}</from><goes>any</goes><text>rule</text>`,
    ),
  );
  const tree = readXml(`<y>${sets.join('')}${rules.join('')}</y>`);
  if (!tree.ok) throw new Error(tree.trouble.code);
  const { fields } = readMeaning(tree.value).values;
  expect(fields.map(({ template }) => template)).toEqual(
    expect.arrayContaining(['/y/r{set}/@name', '/y/r{rule}/from']),
  );
});

test('two lists of as many records each are no header and its row', () => {
  const nets = ['quay', 'desk', 'berths'].map(
    (name, at) => `<net name="${name}" on="igb${at}" ip="10.20.${at}.1/24"/>`,
  );
  const pools = ['quay', 'desk', 'berths'].map(
    (name, at) => `<pool net="${name}" from="10.20.${at}.9" to="10.20.${at}.99"/>`,
  );
  const read = readXml(`<box><nets>${nets.join('')}</nets><pools>${pools.join('')}</pools></box>`);
  if (!read.ok) throw new Error('not read');
  const { references } = readMeaning(read.value);
  expect(references.map(({ site }) => sitePath(read.value, site))).toEqual(
    [1, 2, 3].map((at) => `/box[1]/pools[1]/pool[${at}]/@net`),
  );
});

test('records in attributes are no cells, though what they sit on counts', () => {
  const nets = ['sea', 'desk', 'till', 'guest'];
  const on = ['A1', 'A2', 'B1', 'B2'];
  const ports = on.map((name) => `<port name="${name}" speed="1000"/>`).join('');
  const lans = nets.map((name, at) => `<net name="${name}" on="${on[at]}" ip="10.20.${at}.1/24"/>`).join('');
  const rules = [...nets, ...nets].map((name) => `<rule in="${name}" do="pass"/>`).join('');
  const read = readXml(`<box><ports>${ports}</ports>${lans}<rules>${rules}</rules></box>`);
  if (!read.ok) throw new Error('not read');
  const { bindings, references } = readMeaning(read.value);
  expect(bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(nets.map((name, at) => `${name} ${on[at]}`));
  expect(references.filter(({ value }) => on.includes(value))).toHaveLength(4);
});

test('records of which two attributes tell each apart are no cells, though a third comes back in every list', () => {
  const nets = ['sea', 'desk', 'sync'];
  const cards = (at: number) =>
    nets.map((name, n) => `<card name="ens${at}f${n}" hw="02:00:5e:20:00:${at}${n}" for="${name}"/>`).join('');
  const members = ['north', 'south'].map((id, at) => `<member id="${id}">${cards(at + 1)}</member>`).join('');
  const lans = nets.map((name, at) => `<net key="${name}"><ip>10.20.${at}.1</ip></net>`).join('');
  const rules = [...nets, ...nets].map((name) => `<rule in="${name}" do="pass"/>`).join('');
  const read = readXml(`<box>${members}<nets>${lans}</nets><rules>${rules}</rules></box>`);
  if (!read.ok) throw new Error('not read');
  expect(
    readMeaning(read.value)
      .bindings.map(({ role, port }) => `${role} ${port}`)
      .sort(),
  ).toEqual(['desk ens1f1', 'desk ens2f1', 'sea ens1f0', 'sea ens2f0', 'sync ens1f2', 'sync ens2f2']);
});

test('records that hold records and differ in what they hold are of one kind though each has an identifier', () => {
  const rule = (at: number, own: readonly string[], end: string) =>
    `<rule><id>46f3b2e3-7d9c-4210-9065-5f68124aac${10 + at}</id>${own.map((leaf) => `<${leaf}>${leaf} ${at}</${leaf}>`).join('')}
      <part><kind>from</kind>${end}</part><part><kind>to</kind><net>any</net></part></rule>`;
  const sets = ['tills', 'cameras', 'masts'].map((name) => `<set name="${name}"><host>10.20.1.9</host></set>`);
  const read = readXml(`<box>${sets.join('')}<rules>
    ${rule(1, ['text', 'log'], '<hosts>tills</hosts>')}${rule(2, ['way', 'time'], '<hosts>cameras</hosts>')}
    ${rule(3, ['rate', 'mark'], '<address>10.20.1.9</address>')}${rule(4, ['queue', 'user'], '<hosts>bait_shop</hosts>')}
    ${rule(5, ['tag', 'note'], '<hosts>masts</hosts>')}</rules></box>`);
  if (!read.ok) throw new Error('not read');
  expect(readMeaning(read.value).dangling.map(({ value }) => value)).toEqual(['bait_shop']);
});

test('cells are told by names that are names of leaves elsewhere, where few come back among them', () => {
  const cell = (name: string, value: string) => `<cell of="${name}" is="${value}"/>`;
  const pair = (name: string, value: string) => `<cell><of>${name}</of><is>${value}</is></cell>`;
  const box = (of: typeof cell) => {
    const signer = ['code', 'note', 'serial', 'issued', 'ends'].map((name) => of(name, `signer-${name}`)).join('');
    const radio = (name: string, at: number) => of('called', name) + of('ip', `10.20.0.${at}`) + of('mast', `m${at}`);
    const services = ['web', 'video'].map(
      (name, at) => `<service><code>sv${at}</code><note>${name}</note><port>${80 + at}</port></service>`,
    );
    const rules = ['sv0', 'sv1', 'sv0'].map((to, at) => `<rule code="ru${at}" note="r${at}"><to>${to}</to></rule>`);
    return `<box><signer>${signer}</signer><radio>${radio('ra0', 5)}</radio><radio>${radio('ra1', 6)}</radio>${services.join('')}<rules>${rules.join('')}</rules></box>`;
  };
  for (const of of [cell, pair])
    expect(
      linksOf(box(of)).names.filter((name) => name.startsWith('rule/to')),
      of.name,
    ).toEqual(['rule/to sv0 -> service', 'rule/to sv1 -> service', 'rule/to sv0 -> service']);
});

test('cells are several to a row, but where many rows have the same one', () => {
  const row = (name: string, ...cells: readonly (readonly [string, string])[]) =>
    `<row key="${name}">${cells.map(([of, text]) => `<set key="${of}">${text}</set>`).join('')}</row>`;
  const staff = ['ann', 'bo', 'cy', 'di', 'ed', 'flo'].map((name) => row(name, ['Crypt', `hash of ${name}`]));
  const exits = ['mast', 'fibre'].map((name, at) =>
    row(name, ['Net', ['sea', 'office'][at]!], ['At', `10.20.${at}.254`]),
  );
  const nets = ['sea', 'office'].map((name, at) => row(name, ['On', `igb${at}`], ['Ip', `10.20.${at}.1`]));
  const { names } = linksOf(
    `<box><list key="Staff">${staff.join('')}</list><list key="Exits">${exits.join('')}</list><list key="Nets">${nets.join('')}</list></box>`,
  );
  expect(names).toEqual(['row/Net sea -> row', 'row/Net office -> row']);
});

test('tables of one row among others are tables, though the columns of all are called alike', () => {
  const table = (name: string, ...rows: string[][]) =>
    `<sheet called="${name}">${rows.map((row) => `<line>${row.map((cell) => cell.replace(/(\w+)=(.*)/, '<cell called="$1">$2</cell>')).join('')}</line>`).join('')}</sheet>`;
  const net = (at: number, name: string) => [`no=${at}`, `name=${name}`, `ip=10.20.${at}.1/24`, `on=igb${at}`];
  const rule = (at: number, name: string) => [
    `no=${at}`,
    'does=drop',
    `from=${name}`,
    'proto=tcp',
    'to=any',
    'log=yes',
  ];
  const tables = [
    table('nets', net(1, 'uplink'), net(2, 'office'), net(3, 'tills')),
    table('rules', rule(1, 'office'), rule(2, 'tills'), rule(3, 'uplink'), rule(4, 'tills')),
    table('pools', ['no=1', 'from=office', 'low=10.20.2.9'], ['no=2', 'from=tills', 'low=10.20.3.9']),
    table('people', ['no=1', 'name=ines', 'group=crew'], ['no=2', 'name=odile', 'group=crew']),
    table('page', ['no=1', 'listens=8443', 'shown=office', 'idle=20']),
    table('mail', ['no=1', 'relay=192.0.2.25', 'sender=berths', 'queue=9']),
    table('line', ['no=1', 'baud=115200', 'flow=none']),
    table('clock', ['no=1', 'asks=192.0.2.123', 'weight=2']),
    table('log', ['no=1', 'goes=192.0.2.99', 'hears=tills', 'level=3']),
  ];
  const { names } = linksOf(`<box>${tables.join('')}</box>`);
  expect(names.map((name) => name.split(' -> ')[0]!.split(' ').pop())).toEqual([
    'office',
    'tills',
    'uplink',
    'tills',
    'office',
    'tills',
    'office',
    'tills',
  ]);
});

test('tables that an attribute calls, now by one name and now by another', () => {
  const table = (by: string, name: string, rows: readonly string[]) =>
    `<sheet ${by}="${name}">${rows.join('')}</sheet>`;
  const nets = ['ne01', 'ne02', 'ne03', 'ne04'].map(
    (id, at) => `<row no="${id}" on="igb${at}" ip="10.20.${at}.1/24" text="${'abcd'[at]} quay"/>`,
  );
  const proofs = ['ce01', 'ce02', 'ce03'].map(
    (id, at) => `<row no="${id}" text="page ${at}" made="2026-0${at + 1}-04"/>`,
  );
  const watch = ['<row ignore="2001219" sets="scan" text="see logbook"/>'];
  const rules = ['ne02', 'ne03', 'ne02', 'ne04'].map((id) => `<row do="pass" from="${id}" shows="ce02"/>`);
  const { names } = linksOf(
    `<box>${table('name', 'nets', nets)}${table('key', 'proofs', proofs)}${table('name', 'watch', watch)}${table('key', 'rules', rules)}</box>`,
  );
  expect(names.filter((name) => name.includes('/from '))).toHaveLength(4);
  expect(names.filter((name) => name.includes('/shows '))).toHaveLength(4);
});
