import { expect, test } from 'vitest';
import { sitePath } from '../../src/core/xml/path.ts';
import { TEXT } from '../../src/core/xml/site.ts';
import { open } from '../carry/files.ts';

// Common practice, no source: lists that hold a single record in this file, and would hold more in another.
const namedIn = (text: string) => {
  const { reading, backup } = open(text);
  const path = (node: number) => sitePath(backup.tree, { node, attr: TEXT });
  return {
    references: new Map(reading.references.map(({ site, to }) => [sitePath(backup.tree, site), path(to)])),
    dangling: reading.dangling.map(({ value }) => value),
  };
};

test('one record that is called by its tag, where all records are', () => {
  const nets = ['Quay', 'Office', 'Guests'].map(
    (name, at) => `<${name}><On>igb${at}</On><Ip>10.20.${at}.1/24</Ip></${name}>`,
  );
  const services = ['Http', 'Https', 'Rtsp'].map(
    (name, at) => `<${name}><Proto>tcp</Proto><Dst>${80 + at}</Dst></${name}>`,
  );
  const hosts = ['Till', 'Camera', 'Lathe'].map((name, at) => `<${name}><Addr>10.20.1.${at + 9}</Addr></${name}>`);
  const rule = (at: number, net: string, to: string, service: string) =>
    `<R${at}><Via>${net}</Via><To>${to}</To><Svc>${service}</Svc></R${at}>`;
  const rules = [
    rule(1, 'Quay', 'Till', 'Surf'),
    rule(2, 'Office', 'Camera', 'Rtsp'),
    rule(3, 'Guests', 'Lathe', 'Surf'),
    rule(4, 'Office', 'Till', 'Https'),
  ];
  const { references } = namedIn(
    `<Box><Nets>${nets.join('')}</Nets><Services>${services.join('')}</Services><Groups><Surf><Has>Http,Https</Has></Surf></Groups><Hosts>${hosts.join('')}</Hosts><Rules>${rules.join('')}</Rules></Box>`,
  );
  expect(references.get('/Box[1]/Rules[1]/R1[1]/Svc[1]')).toBe('/Box[1]/Groups[1]/Surf[1]');
  expect(references.get('/Box[1]/Rules[1]/R3[1]/Svc[1]')).toBe('/Box[1]/Groups[1]/Surf[1]');
});

test('one record of a kind in each document of its own', () => {
  const tenant = (name: string, at: number) => {
    const id = (kind: number, no: number) => `${kind}d5e0f2a-00${at}${no}-4c6b-9a10-5f0e2b7c00${at}${no}`;
    const objects = [1, 2, 3].map((no) => `<object uuid="${id(3, no)}" v4="10.${at}.0.${no}"/>`);
    const rules = [1, 2, 3].map((no) => `<rule uuid="${id(5, no)}"><dst>${id(3, no)}</dst></rule>`);
    const leases = [1, 2].map((no) => `<lease uuid="${id(6, no)}" leg="inside" v4="10.${at}.0.5${no}"/>`);
    return `<tenant label="${name}"><vrf label="vrf-${name}" rd="64496:${at}"/><legs><leg label="inside" vrf="vrf-${name}"/><leg label="outside" vrf="vrf-${name}"/></legs>
      <objects>${objects.join('')}<group uuid="${id(3, 9)}" label="all"><member>${id(3, 1)}</member><member>${id(3, 2)}</member></group></objects>
      <policy>${rules.join('')}<rule uuid="${id(5, 4)}"><dst>${id(3, 9)}</dst></rule></policy><leases>${leases.join('')}</leases></tenant>`;
  };
  const { references, dangling } = namedIn(`<fleet>${tenant('marina', 1)}${tenant('yard', 2)}</fleet>`);
  const own = '/fleet[1]/tenant[2]';
  expect(references.get(`${own}/policy[1]/rule[4]/dst[1]`)).toBe(`${own}/objects[1]/group[1]`);
  expect(references.get(`${own}/legs[1]/leg[2]/@vrf`)).toBe(`${own}/vrf[1]`);
  expect(dangling).toEqual([]);
});

test('names behind the word for their kind are names also where a record has no other', () => {
  const nets = ['quay', 'desk', 'berths'].map(
    (name, at) => `<net name="${name}" on="igb${at}" ip="10.20.${at}.1/24"/>`,
  );
  const rules = ['quay', 'desk', 'berths', 'desk'].map((name) => `<rule><in>net:${name}</in><do>pass</do></rule>`);
  const pools = ['desk', 'berths'].map(
    (name, at) => `<pool net="net:${name}">10.20.${at + 1}.100-10.20.${at + 1}.199</pool>`,
  );
  const { references } = namedIn(
    `<box><nets>${nets.join('')}</nets><rules>${rules.join('')}</rules><pools>${pools.join('')}</pools></box>`,
  );
  expect(references.get('/box[1]/pools[1]/pool[1]/@net')).toBe('/box[1]/nets[1]/net[2]');
  expect(references.get('/box[1]/rules[1]/rule[2]/in[1]')).toBe('/box[1]/nets[1]/net[2]');
});

// Common practice, no source: a source that few rules give beside a destination that most do.
test('a field beside one that names records names them too, though half of its few names are gone', () => {
  const objects = ['Till 1', 'Till 2', 'Camera north', 'Tills', 'Recorder'].map(
    (name, at) => `<object name="${name}" ip="10.20.1.${at}"/>`,
  );
  const rule = (to: string, from = '') => `<rule do="pass"${from && ` source="${from}"`} destination="${to}"/>`;
  const rules = [
    rule('Recorder', 'Tills'),
    rule('Camera north', 'Tide gauge'),
    rule('Till 1'),
    rule('Till 2'),
    rule('Tills'),
  ];
  const { references, dangling } = namedIn(
    `<box><objects>${objects.join('')}</objects><rules>${rules.join('')}</rules></box>`,
  );
  expect(references.get('/box[1]/rules[1]/rule[1]/@source')).toBe('/box[1]/objects[1]/object[4]');
  expect(dangling).toEqual(['Tide gauge']);
});

test('records that have a name and that nothing else names are meant, though half of the few names are gone', () => {
  const nets = ['quay', 'desk', 'berths'].map((name, at) => `<n b="${name}" ip="10.20.${at}.1/24"/>`);
  const rule = (net: string, time = '') => `<r i="${net}"${time && ` p="${time}"`} d="pass"/>`;
  const rules = [
    rule('quay', 'season'),
    rule('desk', 'season'),
    rule('berths', 'regatta_week'),
    rule('quay'),
    rule('desk'),
  ];
  const { references, dangling } = namedIn(
    `<o><l>${nets.join('')}</l><G>${rules.join('')}</G><s><w z="season" a="May to September"/></s></o>`,
  );
  expect(references.get('/o[1]/G[1]/r[2]/@p')).toBe('/o[1]/s[1]/w[1]');
  expect(dangling).toEqual(['regatta_week']);
});

test('a record that stands alone is called by what others have, whatever stands before it', () => {
  const nets = ['quay', 'desk', 'berths'].map((name, at) => `<n b="${name}" ip="10.20.${at}.1/24"/>`);
  const rule = (net: string, time: string) => `<r i="${net}" p="${time}" d="pass"/>`;
  const rules = [rule('quay', 'season'), rule('desk', 'season'), rule('berths', 'regatta_week')];
  const { references, dangling } = namedIn(
    `<o><l>${nets.join('')}</l><G>${rules.join('')}</G><s><w days="mon-fri"><z>season</z><t>06:30-19:30</t></w></s></o>`,
  );
  expect(references.get('/o[1]/G[1]/r[2]/@p')).toBe('/o[1]/s[1]/w[1]');
  expect(dangling).toEqual(['regatta_week']);
});

test('what a record begins with is its own name, which others have further behind', () => {
  const { references, dangling } = namedIn(
    `<o><L><v n="staff" in="quay" open="engineers"/><v n="regatta" in="desk" open="seasonals"/></L><T><t><z>engineers</z><who>odile</who></t></T>
    <N><n b="quay" ip="10.20.0.1/24"/><n b="desk" ip="10.20.1.1/24"/></N></o>`,
  );
  expect(references.get('/o[1]/L[1]/v[1]/@in')).toBe('/o[1]/N[1]/n[1]');
  expect(references.get('/o[1]/L[1]/v[1]/@open')).toBe('/o[1]/T[1]/t[1]');
  expect(dangling).toEqual(['seasonals']);
});

test('a path goes through records by their names, and means its last step', () => {
  const nets = ['quay', 'desk', 'berths'].map((name, at) => `<net name="${name}"><ip>10.20.${at}.1/24</ip></net>`);
  const rule = (name: string) => `<rule><in>/marina/harbourgate/nets/${name}</in></rule>`;
  const rules = ['quay', 'desk', 'berths', 'slip', 'desk'].map(rule);
  const { references, dangling } = namedIn(
    `<tree><site name="marina"><box name="harbourgate"><nets>${nets.join('')}</nets><rules>${rules.join('')}</rules></box></site></tree>`,
  );
  const box = '/tree[1]/site[1]/box[1]';
  expect([1, 2, 3, 5].map((at) => references.get(`${box}/rules[1]/rule[${at}]/in[1]`))).toEqual(
    [1, 2, 3, 2].map((at) => `${box}/nets[1]/net[${at}]`),
  );
  expect(dangling).toEqual(['slip']);
});

test('where each element holds one value in an attribute, these are fields of one record, not records', () => {
  const certificates = [11, 12].map((at) => `<cert><id>c7f0a9e2b3d4${at}</id><by>f229c0ffee55a1</by></cert>`).join('');
  const alone = `<roots><entry><tag to="f229c0ffee55a1"/><text to="Quay root"/><size to="2048"/></entry></roots>`;
  expect(
    namedIn(`<box><certs>${certificates}</certs>${alone}</box>`).references.get('/box[1]/certs[1]/cert[2]/by[1]'),
  ).toBe('/box[1]/roots[1]/entry[1]');
  const columns = ['slip', 'mole', 'spit'].map((name) => `<row><c n="name" v="${name}"/><c n="depth" v="4"/></row>`);
  const page = `<entry><tag v="f229c0ffee55a1"/><text v="Quay root"/><size v="2048"/></entry>`;
  const { references } = namedIn(`<box><certs>${certificates}</certs><roots>${page}</roots>${columns.join('')}</box>`);
  expect(references.get('/box[1]/certs[1]/cert[1]/by[1]')).toBe('/box[1]/roots[1]/entry[1]');
});

const routesBy = (names: readonly string[]) =>
  names.map((via, at) => `<path to="10.${200 + at}.0.0/16" via="${via}"/>`).join('');
const segments = ['sea side', 'back office', 'guest berths'].map(
  (name, at) => `<segment called="${name}" on="igb${at}" ip="10.20.${at}.1"/>`,
);

test('a tag that counts its records is no name of theirs: these go by what stands first in them', () => {
  const exits = ['north mast', 'old fibre'].map(
    (name, at) => `<exit${at + 1} called="${name}" segment="${['sea side', 'back office'][at]}" ip="10.20.${at}.254"/>`,
  );
  const { references, dangling } = namedIn(
    `<box>${segments.join('')}<exits>${exits.join('')}</exits>${routesBy(['north mast', 'old fibre', 'south dish'])}</box>`,
  );
  expect(references.get('/box[1]/path[2]/@via')).toBe('/box[1]/exits[1]/exit2[1]');
  expect(dangling).toEqual(['south dish']);
});

test('what surely names others is not what records are called, though their name sounds like that of another kind', () => {
  const nets = ['sea', 'office', 'berths'].map(
    (name, at) => `<zone><code>${name}</code><on>igb${at}</on><ip>10.20.${at}.1</ip></zone>`,
  );
  const pools = ['sea', 'office', 'berths'].map((net, at) => `<pool><net>${net}</net><low>10.20.${at}.9</low></pool>`);
  const drops = ['sea', 'office'].map((net, at) => `<drop><net>${net}</net><low>10.20.${at}.99</low></drop>`);
  const exits = ['north_mast', 'old_fibre'].map(
    (name, at) => `<exit><drop>${name}</drop><net>${['sea', 'office'][at]}</net><ip>10.20.${at}.254</ip></exit>`,
  );
  const ways = ['north_mast', 'old_fibre', 'south_dish'].map(
    (via, at) => `<way><to>10.${200 + at}.0.0/16</to><via>${via}</via></way>`,
  );
  const { references, dangling } = namedIn(
    `<box><zones>${nets.join('')}</zones><pools>${pools.join('')}</pools><drops>${drops.join('')}</drops><exits>${exits.join('')}</exits><ways>${ways.join('')}</ways></box>`,
  );
  expect(references.get('/box[1]/ways[1]/way[1]/via[1]')).toBe('/box[1]/exits[1]/exit[1]');
  expect(dangling).toEqual(['south_dish']);
});

test('the one record that is written in attributes holds values as others do, where its fields are called as theirs', () => {
  const exits = ['north_mast', 'old_fibre'].map((name) => `<exit><called>${name}</called><on>igb1</on></exit>`);
  const paths = ['north_mast', 'old_fibre', 'store'].map((via) => `<path><via>${via}</via></path>`);
  const { references } = namedIn(
    `<box>${exits.join('')}<stores><store><called is="backup_store"/><on is="igb2"/></store></stores>
     <jobs>${['backup_store', 'backup_store', 'elsewhere'].map((to) => `<job><to>${to}</to><at>3</at></job>`).join('')}</jobs>${paths.join('')}</box>`,
  );
  expect(references.get('/box[1]/jobs[1]/job[2]/to[1]')).toBe('/box[1]/stores[1]/store[1]');
});
