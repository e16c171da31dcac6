import type { Operator } from './dialect.ts';
import type { Model, Role, Vlan } from './model.ts';
import { type Device, isBareFamily } from './ports.ts';
import type { Rng } from './rng.ts';

/** What a network may sit on. */
export type Seat = 'port' | 'vlan' | 'agg' | 'bridge' | 'session';

/** Where it is written which network sits on which port. */
export const WAYS = [
  // The network says it, or the record of the port, or a record that joins both.
  'holds',
  'held',
  'join',
  // One lies in the other.
  'inner port',
  'inner network',
  // By two numbers; by a zone that lists devices with addresses; by a VLAN that lists its ports, or is listed by them.
  'slot',
  'zone',
  'members',
] as const;
export type Way = (typeof WAYS)[number];

/** How a network meets its port: choices that hang on no other choice of a dialect. */
export interface Meeting {
  readonly way: Way;
  /** What a port, or what is made of some, is called by where it is named. */
  readonly key: 'name' | 'number' | 'code' | 'hex' | 'label';
  /** What stands around that name and says of what kind it is. */
  readonly mark: 'none' | 'colon' | 'slash' | 'path' | 'call';
  /** What a tagged network names: the device, the record by its VLAN number, the port beside the number, a part of the port. */
  readonly vlan: 'device' | 'tag' | 'beside' | 'unit';
  /** VLAN records hold the name of their device. */
  readonly vlanNamed: boolean;
  readonly members: 'list' | 'children' | 'upwards' | 'rows';
  /** Ports and all that is made of them are records of one table. */
  readonly oneTable: boolean;
  readonly portTable: boolean;
  /** Ports list VLANs, where else these list ports. */
  readonly lists: boolean;
  /** A joining record says more than the two. */
  readonly aside: boolean;
  readonly bridge: boolean;
  readonly session: boolean;
}

export function randomMeeting(r: Rng, family: string, wordless: boolean): Meeting {
  const way = r.fork('way').pick([...WAYS, 'holds', 'holds', 'held', 'join'] as const);
  const plain = way === 'slot' || way === 'zone';
  const drawn = r
    .fork('key')
    .pick(['name', 'name', 'name', 'number', 'number', 'code', 'code', 'hex', 'label'] as const);
  const key = plain ? 'name' : drawn === 'number' && wordless ? 'hex' : drawn;
  const vlans = {
    holds: ['device', 'device', 'tag', 'beside', 'unit'],
    join: ['device', 'device', 'tag', 'beside', 'unit'],
    held: ['device', 'device', 'beside', 'unit'],
    'inner port': ['device', 'beside', 'unit'],
    'inner network': ['beside'],
    slot: ['beside'],
    zone: ['device'],
    members: ['device', 'tag', 'tag'],
  } as const;
  const vlan = r.fork('vlan').pick<Meeting['vlan']>(vlans[way]);
  const members = r.fork('members').pick(['list', 'list', 'children', 'upwards', 'rows'] as const);
  const oneTable = way === 'zone' || way === 'inner network' || r.fork('one table').chance(0.2);
  const mark = plain
    ? 'none'
    : r.fork('mark').pick(['none', 'none', 'none', 'colon', 'slash', 'path', 'call'] as const);
  const needsTable =
    mark === 'path' ||
    isBareFamily(family) ||
    key !== 'name' ||
    oneTable ||
    members === 'upwards' ||
    vlan === 'unit' ||
    ['held', 'slot', 'members'].includes(way);
  return {
    way,
    key,
    mark,
    vlan,
    vlanNamed: r.fork('vlan named').chance(0.65),
    members,
    oneTable,
    portTable: needsTable || r.fork('port table').chance(0.5),
    lists: r.fork('lists').chance(0.5),
    aside: r.fork('aside').chance(0.5),
    bridge: r.fork('bridge').chance(0.4),
    session: r.fork('session').chance(0.3),
  };
}

/** What stands around the name of a thing of a kind that the dialect calls `word`, in the list called `list`. */
export function markOf({ mark }: Meeting, word: string, list: string): Operator {
  switch (mark) {
    case 'colon':
      return { pre: `${word}:`, post: '' };
    case 'slash':
      return { pre: `${word}/`, post: '' };
    case 'path':
      return { pre: `/${list}/`, post: '' };
    case 'call':
      return { pre: `${word}(`, post: ')' };
    default:
      return { pre: '', post: '' };
  }
}

/** What the invented box has beyond its model where networks meet ports in further ways. */
export interface Met extends Meeting {
  readonly bridges: readonly { readonly name: string; readonly label: string; readonly members: readonly Device[] }[];
  readonly sessions: readonly { readonly name: string; readonly over: Device; readonly login: string }[];
  /** Of each VLAN the devices that carry it. */
  readonly carriers: ReadonlyMap<Vlan, { readonly plain: readonly Device[]; readonly tagged: readonly Device[] }>;
  /** Of zones the devices that they list besides that of the model, each with its address. */
  readonly more: ReadonlyMap<Role, readonly { readonly device: Device; readonly address: string }[]>;
}

const isPort = ({ base, suffix }: Device): boolean => base !== null && suffix === '';

/** Changes a model so that it can be written down in this way. */
export function meet(model: Model, meeting: Meeting, r: Rng): Met {
  const { ports, roles, vlans, aggregates } = model;
  const taken = new Set(
    [
      ...roles.map(({ device }) => device),
      ...vlans.map(({ parent }) => parent),
      ...aggregates.flatMap(({ members }) => members),
    ].map(({ base }) => base),
  );
  const free = ports.names.filter((name) => !taken.has(name)).map((base): Device => ({ base, suffix: '' }));
  const bridges: Met['bridges'][number][] = [];
  const inside = roles.slice(1).find(({ device, vlan }) => vlan === null && isPort(device));
  if (meeting.bridge && inside) {
    const name = r.pick(['br0', 'bridge0', 'swgroup1']);
    bridges.push({ name, label: 'joined on the pier', members: [inside.device, ...free.splice(0, 1)] });
    Object.assign(inside, { device: { base: null, suffix: name }, onAggregate: true });
  }
  const sessions: Met['sessions'][number][] = [];
  const outside = roles[0] as Role;
  if (meeting.session && isPort(outside.device)) {
    const name = r.pick(['ppp0', 'pppoe1', 'dial0']);
    sessions.push({ name, over: outside.device, login: 'quay@mainland.example' });
    Object.assign(outside, { device: { base: null, suffix: name }, onAggregate: true });
  }
  if (meeting.portTable && model.portTable.length === 0)
    model.portTable = ports.names.map((base, at) => ({
      device: { base, suffix: '' },
      mac: `00:00:5e:00:53:${(0x90 + at).toString(16)}`,
      speed: r.pick(['1000', '10000', 'auto']),
      label: r.chance(0.4) ? 'patched to rack 2' : '',
    }));
  if (!meeting.portTable) model.portTable = [];
  const more = new Map<Role, { device: Device; address: string }[]>();
  if (meeting.way === 'zone')
    for (const [at, device] of free.splice(0, 2).entries()) {
      const role = r.pick(roles.slice(1));
      more.set(role, [...(more.get(role) ?? []), { device, address: `10.77.${at}.1` }]);
    }
  return { ...meeting, bridges, sessions, more, carriers: meeting.way === 'members' ? carry(model, free) : new Map() };
}

/** Gives every network a VLAN, and every VLAN the ports that carry it. */
function carry({ roles, vlans }: Model, free: Device[]): Met['carriers'] {
  const carriers = new Map<Vlan, { plain: Device[]; tagged: Device[] }>();
  for (const vlan of vlans) carriers.set(vlan, { plain: free.splice(0, 1), tagged: [vlan.parent] });
  let tag = Math.max(40, ...vlans.map((vlan) => vlan.tag)) + 1;
  for (const role of roles) {
    if (role.vlan !== null) continue;
    const name = `vlan${tag}`;
    const vlan: Vlan = {
      parent: role.device,
      tag: tag++,
      device: { base: null, suffix: name },
      label: role.label,
      silent: false,
    };
    carriers.set(vlan, { plain: [role.device], tagged: [] });
    vlans.push(vlan);
    role.vlan = vlan;
  }
  return carriers;
}
