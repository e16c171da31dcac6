import { AUTHORITIES, type Authority, LEAVES, type Leaf } from './pki.ts';
import { type Device, type PortSet, randomPorts } from './ports.ts';
import type { Rng } from './rng.ts';

/** What a box at the marina holds, before any dialect: who is connected where, and what may pass. */
export interface Role {
  name: string;
  label: string;
  enabled: boolean;
  device: Device;
  vlan: Vlan | null;
  onAggregate: boolean;
  address: string;
  prefix: number;
  net: string;
  mtu: number | null;
  mac: string | null;
}
export interface Vlan {
  parent: Device;
  tag: number;
  device: Device;
  name: string;
  label: string;
  /** On an aggregate, whose own names are free to be reported or not. */
  silent: boolean;
}
export interface Named {
  name: string;
  label: string;
}
export interface Aggregate extends Named {
  members: Device[];
  mode: string;
}
/** An end of a rule: everything, this box, a role's network or address, sets, literals; or a name that is gone. */
export type End =
  | { t: 'any' }
  | { t: 'self' }
  | { t: 'net' | 'addr'; role: Role }
  | { t: 'set'; set: AddressSet }
  | { t: 'literal'; s: string }
  | { t: 'gone'; s: string; kind: 'set' | 'role' };
export interface AddressSet extends Named {
  entries: ({ set: AddressSet } | { s: string })[];
}
export interface Service extends Named {
  entries: ({ service: Service } | { s: string })[];
}
export interface Schedule extends Named {
  span: string;
  days: string;
}
export type Maybe<T> = { it: T } | { gone: string };
export interface Rule {
  uid: string;
  action: 'permit' | 'deny';
  /** Null: on every role. */
  role: Maybe<Role> | null;
  /** More roles that the rule stands for. */
  also: Role[];
  proto: string | null;
  source: End[];
  dest: End[];
  notSource: boolean;
  notDest: boolean;
  service: ({ service: Service } | { s: string } | { gone: string })[];
  when: Maybe<Schedule> | null;
  gateway: Gateway | null;
  label: string;
  enabled: boolean;
  log: boolean;
}
export interface Nat {
  role: Role;
  proto: string;
  outside: number;
  target: { set: AddressSet } | { s: string };
  inside: number;
  rule: Rule | null;
  label: string;
}
export interface Lease {
  mac: string;
  ip: string;
  host: string;
}
export interface Pool {
  role: Role;
  first: string;
  last: string;
  leases: Lease[];
}
export interface Gateway extends Named {
  role: Role;
  ip: string;
  monitor: string;
  metric: number;
}
export interface Route {
  network: string;
  gateway: Maybe<Gateway>;
  label: string;
}
export interface Ca extends Named {
  pki: Authority;
}
export interface Cert extends Named {
  pki: Leaf;
  ca: Ca;
}
export interface User extends Named {
  hash: string;
  enabled: boolean;
}
export interface Group extends Named {
  members: Maybe<User>[];
}
export interface VpnServer extends Named {
  ca: Ca;
  cert: Maybe<Cert>;
  role: Role;
  net: string;
  group: Maybe<Group> | null;
  port: number;
}
export interface VpnClient extends Named {
  remote: string;
  psk: string;
  role: Role;
  networks: string[];
}
export interface Peer extends Named {
  publicKey: string;
  psk: string;
  networks: string[];
}
export interface Tunable {
  name: string;
  value: string;
  bound: 'yes' | 'no';
}
export interface Model {
  host: string;
  ports: PortSet;
  /** Whether the file has a record for each port. */
  portTable: { device: Device; mac: string; speed: string; label: string }[];
  roles: Role[];
  vlans: Vlan[];
  aggregates: Aggregate[];
  sets: AddressSet[];
  services: Service[];
  schedules: Schedule[];
  rules: Rule[];
  nats: Nat[];
  pools: Pool[];
  gateways: Gateway[];
  routes: Route[];
  cas: Ca[];
  certs: Cert[];
  users: User[];
  groups: Group[];
  servers: VpnServer[];
  clients: VpnClient[];
  peers: Peer[];
  tunnelKey: string | null;
  radius: { roles: Role[]; aps: { name: string; ip: string; secret: string }[] } | null;
  sensor: { roles: Role[]; muted: string[]; families: string[] } | null;
  ntp: string[];
  ntpRoles: Role[];
  tunables: Tunable[];
  remarks: { by: User; time: string; text: string }[];
  adminCert: Cert;
  adminPort: number;
  console: { speed: string; flow: string };
  boot: { delay: string; disk: string } | null;
  serial: string | null;
  licence: string | null;
  dyn: { role: Role; url: string; login: string; password: string } | null;
  mail: { host: string; login: string; password: string } | null;
  saved: { time: string; by: User; label: string } | null;
  history: string | null;
}

const ROLE_WORDS: readonly (readonly [string, string])[] = [
  ['uplink', 'Fibre to the mainland'],
  ['office', 'Harbour office'],
  ['cards', 'Card terminals & till'],
  ['cctv', 'Cameras on the piers'],
  ['guest', 'Café Wi-Fi'],
  ['backup', '4G backup'],
  ['fuel', 'Fuel dock'],
  ['yard', 'Boatyard & lift'],
  ['chandlery', 'Chandlery shop'],
  ['slip', 'Slipway gate'],
  ['phones', 'Desk phones'],
  ['staff', 'Wardens'],
  ['weather', 'Weather mast <north>'],
  ['dredge', 'Dredger telemetry'],
  ['workshop', 'Engine workshop'],
  ['tower', 'Watch tower'],
  ['lights', 'Pier lights'],
  ['pilot', 'Pilot boat'],
];
const GERMAN = [
  'kontor',
  'kasse',
  'werft',
  'gaeste',
  'hafenamt',
  'tankstelle',
  'kran',
  'steg',
  'funk',
  'lager',
  'kameras',
  'anbindung',
];
const SPANISH = [
  'oficina',
  'cajas',
  'astillero',
  'visitas',
  'combustible',
  'grua',
  'muelle',
  'almacen',
  'camaras',
  'enlace_mar',
];
const SET_WORDS = [
  'card_hosts',
  'nvr',
  'cloud_till',
  'mgmt_pcs',
  'print_srv',
  'pontoon_ctl',
  'tide_feed',
  'old_scales',
  'crane_plc',
  'berth_meters',
  'chart_srv',
  'booking',
  'radio_net',
  'pumps',
  'gate_ctl',
  'backup_targets',
];
const GONE: Record<string, readonly string[]> = {
  role: ['lab', 'pontoon9', 'oldyard', 'kiosk'],
  set: ['old_printers', 'bait_shop', 'retired_nas', 'regatta_2019'],
  gw: ['dsl_gw', 'sat_gw', 'isdn_exit'],
  cert: ['SIP 2019', 'Portal 2018'],
  sched: ['regatta_week', 'winter_old'],
  group: ['divers', 'seasonals'],
  user: ['rolf', 'ines'],
  svc: ['fax_ports', 'old_sync'],
};
const USERS = ['mara', 'tomas', 'guest', 'signe', 'odile', 'bram', 'kofi', 'yuki', 'lena', 'pavel'];
const LABELS = [
  'Names & lookups',
  'Web pages',
  'allow the office to reach it',
  'season <pass>',
  'asked for by the harbour master',
  'see logbook, 12 March',
  'temporary, remove after the regatta',
  'Zahlstelle für Gäste',
  'tills: "closing" report',
  'any to any is not meant here',
];
const FREE_PORTS = [22, 25, 53, 80, 123, 443, 445, 554, 587, 631, 993, 1194, 3389, 5060, 8080, 8443, 8554, 9100];
const HASH_LETTERS = './ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
const B64 = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
const PHRASES = ['gulls over pier 7', 'Brass-Anchor-1931', 'low tide at nine', 'kelp!knot!keel', 'seven wet ropes'];

/** A random model: which names, how many of each, who refers to whom, and what no longer exists. */
export function randomModel(root: Rng): Model {
  const r = root.fork('model');
  const macOf = macWriter(root);
  const small = r.chance(0.12);
  const portCount = small ? r.int(3, 4) : r.int(4, 10);
  const ports = randomPorts(root.fork('ports'), portCount);
  const dev = (i: number): Device => ({ base: ports.names[i % ports.names.length] as string, suffix: '' });
  const remarkPort = (): string => r.pick(ports.names);

  const roleCount = small ? r.int(3, 5) : r.int(5, 16);
  const names = roleNames(root.fork('role names'), roleCount);

  // Aggregates take the last ports; one VLAN trunk takes the third; the rest carry one role each.
  const aggregates: Aggregate[] = [];
  let free = ports.names.length;
  const aggCount = small ? r.int(0, 1) : r.pick([0, 1, 1, 1, 2]);
  const aggStem = r.pick(['lagg', 'bond', 'trunk', 'team', 'bundle']);
  for (let i = 0; i < aggCount && free >= 5; i++) {
    const n = r.chance(0.25) && free >= 6 ? 3 : 2;
    free -= n;
    aggregates.push({
      name: aggStem + i,
      label: r.pick(['both cables to the tower', 'switch in the boathouse', 'core switch']),
      members: Array.from({ length: n }, (_, k) => dev(free + k)),
      mode: r.pick(['lacp', 'failover', 'balance']),
    });
  }

  const suffix = vlanSuffix(root.fork('vlan suffix'));
  const ownNames = r.chance(0.1);
  const trunks = free > 4 && r.chance(0.3) ? [2, 3] : [Math.min(2, free - 1)];
  const direct = [...Array(free).keys()].filter((i) => !trunks.includes(i));
  const vlans: Vlan[] = [];
  const roles: Role[] = [];
  const lowTags = r.chance(0.15);
  let tag = lowTags ? 1 : r.pick([10, 20, 30, 100, 201]);
  const step = lowTags ? 1 : r.pick([1, 1, 5, 10, 10]);
  const onAgg = aggregates.length > 0 && r.chance(0.35);
  const vlanOnAgg = aggregates.length > 0 && r.chance(0.2);
  for (const [i, [name, label]] of names.entries()) {
    const outside = i === 0;
    const prefix = outside ? 29 : r.pick([24, 24, 24, 23, 25, 26]);
    const net = outside ? '203.0.113.8' : `10.20.${i * 16 + r.pick([0, 8])}.0`;
    const address = outside ? '203.0.113.10' : net.replace(/0$/, '1');
    let device: Device;
    let vlan: Vlan | null = null;
    let onAggregate = false;
    if (i < direct.length - (onAgg ? 0 : 1) && i < 4) device = dev(direct[i] as number);
    else if (onAgg && !roles.some((x) => x.onAggregate)) {
      device = { base: null, suffix: (aggregates[0] as Aggregate).name };
      onAggregate = true;
    } else {
      const silent = vlanOnAgg && vlans.length === 1;
      const parent: Device = silent
        ? { base: null, suffix: (aggregates[0] as Aggregate).name }
        : dev(trunks[vlans.length % trunks.length] as number);
      device = ownNames
        ? { base: null, suffix: `vlan${tag}` }
        : { base: parent.base, suffix: (parent.base === null ? parent.suffix : '') + suffix(tag) };
      vlan = {
        parent,
        tag,
        device,
        name: `v${tag}`,
        label: r.chance(0.15) ? name : `${label} tag`,
        silent: silent && !ownNames,
      };
      vlans.push(vlan);
      tag += step;
    }
    roles.push({
      name,
      label: r.chance(0.12) ? name : r.chance(0.2) ? `${label}, was on ${remarkPort()} until 2024` : label,
      enabled: !r.chance(0.08),
      device,
      vlan,
      onAggregate,
      address,
      prefix,
      net,
      mtu: r.chance(0.2) ? r.pick([1500, 1492, 9000]) : null,
      mac: i === 0 && r.chance(0.7) ? macOf(r) : null,
    });
  }
  // A VLAN that nobody uses.
  if (vlans.length > 0 && r.chance(0.3)) {
    const parent = dev(trunks[0] as number);
    const device = ownNames ? { base: null, suffix: `vlan${tag}` } : { base: parent.base, suffix: suffix(tag) };
    vlans.push({ parent, tag, device, name: `v${tag}`, label: 'spare', silent: false });
  }

  const role = (): Role => r.pick(roles);
  const inner = roles.slice(1);
  const someIn = (): Role => r.pick(inner);

  const sets: AddressSet[] = [];
  const setWords = r.shuffle(SET_WORDS);
  const setStyle = r.pick(['as is', 'as is', 'dash', 'upper', 'plain']);
  const setCount = small ? r.int(2, 3) : r.int(3, 12);
  for (let i = 0; i < setCount; i++) {
    const word = setWords[i] as string;
    const name =
      setStyle === 'dash'
        ? word.replaceAll('_', '-')
        : setStyle === 'upper'
          ? word.toUpperCase()
          : setStyle === 'plain'
            ? word.replaceAll('_', '')
            : word;
    const entries: AddressSet['entries'] = Array.from({ length: r.int(1, 4) }, () => ({ s: literal(r, someIn()) }));
    if (i >= 2 && r.chance(0.3)) entries.push({ set: r.pick(sets) });
    if (i >= 3 && r.chance(0.15)) entries.splice(0, entries.length, ...r.sample(sets, 2).map((set) => ({ set })));
    sets.push({ name, label: r.chance(0.2) ? name : `Hosts for ${word}`, entries });
  }

  const services: Service[] = [];
  const svcWords = r.shuffle([
    'webports',
    'rtsp_nvr',
    'mailports',
    'print',
    'plc_bus',
    'voice',
    'remote_hands',
    'tide_api',
  ]);
  for (let i = 0; i < (small ? 2 : r.int(2, 6)); i++) {
    const entries: Service['entries'] = r
      .sample(FREE_PORTS, r.int(1, 4))
      .map((n) => ({ s: r.chance(0.15) ? `${n}-${n + 10}` : String(n) }));
    if (i > 1 && r.chance(0.25)) entries.push({ service: r.pick(services) });
    services.push({ name: svcWords[i] as string, label: r.chance(0.3) ? (svcWords[i] as string) : 'ports', entries });
  }
  const schedules: Schedule[] = r
    .sample(['season', 'night', 'office_hours', 'tides', 'weekend'], small ? 1 : r.int(1, 4))
    .map((name) => ({
      name,
      label: 'hours',
      span: r.pick(['08:00-20:00', '20:00-08:00', '06:30-19:30', '00:00-23:59']),
      days: r.pick(['1-5', '6,7', '1-7', 'mon-fri']),
    }));

  const gateways: Gateway[] = [
    { name: 'fibre_gw', label: 'Mainland', role: roles[0] as Role, ip: '203.0.113.9', monitor: '192.0.2.1', metric: 1 },
    {
      name: r.pick(['lte_gw', 'mast_gw']),
      label: 'Mast',
      role: someIn(),
      ip: '198.51.100.5',
      monitor: '192.0.2.2',
      metric: 2,
    },
  ];
  if (r.chance(0.4))
    gateways.push({
      name: 'yard_gw',
      label: 'Boatyard',
      role: someIn(),
      ip: '10.20.0.254',
      monitor: '10.20.0.254',
      metric: 3,
    });
  if (r.chance(0.3)) for (const g of gateways) g.name = g.name.replace('_', '-').toUpperCase();

  const gone = plantGone(root.fork('gone'), setStyle);
  const useSelf = r.chance(0.5);
  const namedServices = r.chance(0.25);
  const end = (): End => {
    const x = r.next();
    if (x < 0.25) return { t: 'any' };
    if (x < 0.5) return { t: 'net', role: role() };
    if (x < 0.58) return { t: 'addr', role: role() };
    if (x < 0.82) return { t: 'set', set: r.pick(sets) };
    if (x < 0.9 && useSelf) return { t: 'self' };
    return { t: 'literal', s: literal(r, someIn()) };
  };
  const ends = (): End[] => {
    const first = end();
    if (first.t === 'any' || first.t === 'self' || !r.chance(0.15)) return [first];
    return [first, { t: 'literal', s: literal(r, someIn()) }];
  };
  const service = (): Rule['service'] => {
    if (r.chance(0.5)) return [{ service: r.pick(services) }];
    if (namedServices && r.chance(0.4)) return [{ s: r.pick(['ssh', 'https', 'domain', 'ntp']) }];
    const out: Rule['service'] = r.sample(FREE_PORTS, r.chance(0.2) ? 2 : 1).map((n) => ({ s: String(n) }));
    if (r.chance(0.1)) out.push({ service: r.pick(services) });
    return out;
  };
  const severalRoles = r.chance(0.3);
  const rules: Rule[] = [];
  const addRule = (over: Partial<Rule>): void => {
    const proto = r.pick(['tcp', 'tcp', 'udp', 'tcp/udp', null]);
    rules.push({
      uid: `rule:${rules.length}`,
      action: r.chance(0.8) ? 'permit' : 'deny',
      role: r.chance(0.05) ? null : { it: role() },
      also: severalRoles && r.chance(0.15) ? [role()] : [],
      proto,
      source: ends(),
      dest: ends(),
      notSource: r.chance(0.07),
      notDest: r.chance(0.1),
      service: proto === null ? [] : service(),
      when: r.chance(0.2) ? { it: r.pick(schedules) } : null,
      gateway: r.chance(0.12) ? r.pick(gateways) : null,
      label: r.chance(0.15) ? `moves to ${remarkPort()} with ${role().name}` : r.pick(LABELS),
      enabled: !r.chance(0.12),
      log: r.chance(0.3),
      ...over,
    });
  };
  for (const owner of roles) {
    addRule({
      role: { it: owner },
      source: [{ t: 'net', role: owner }],
      dest: [{ t: 'any' }],
      service: [{ s: '53' }],
      proto: 'udp',
    });
    if (r.chance(0.7))
      addRule({
        role: { it: owner },
        source: [{ t: 'net', role: owner }],
        service: [{ service: r.pick(services) }],
        proto: 'tcp',
      });
  }
  for (let i = 0; i < (small ? r.int(3, 5) : r.int(6, 30)); i++) addRule({});
  // Each schedule is named at least once, and the built-in word for this box stands in several rules.
  for (const s of schedules) addRule({ when: { it: s } });
  if (useSelf) for (let i = 0; i < 3; i++) addRule({ dest: [{ t: 'self' }], service: [{ s: '53' }], proto: 'udp' });
  for (const s of gone.role) addRule({ role: { gone: s } });
  for (const s of gone.set) addRule({ source: [{ t: 'gone', s, kind: 'set' }], notSource: false });
  for (const s of gone.sched) addRule({ when: { gone: s } });
  if (!namedServices) for (const s of gone.svc) addRule({ service: [{ gone: s }], proto: 'tcp' });
  for (const x of rules) {
    if (x.source[0]?.t === 'any') x.notSource = false;
    if (x.dest[0]?.t === 'any') x.notDest = false;
    const first = x.role !== null && 'it' in x.role ? x.role.it : null;
    x.also = first === null ? [] : x.also.filter((o) => o !== first);
  }

  const linkRules = r.chance(0.55);
  const nats: Nat[] = Array.from({ length: small ? 1 : r.int(2, 8) }, () => {
    const port = r.pick(FREE_PORTS);
    return {
      role: r.chance(0.7) ? (roles[0] as Role) : role(),
      proto: r.pick(['tcp', 'udp']),
      outside: port,
      target: r.chance(0.4) ? { set: r.pick(sets) } : { s: literal(r, someIn()).split('/')[0] as string },
      inside: r.chance(0.6) ? port : r.pick(FREE_PORTS),
      rule: linkRules ? r.pick(rules) : null,
      label: r.pick(LABELS),
    };
  });

  const pools: Pool[] = r.sample(inner, Math.max(2, Math.floor(inner.length * 0.7))).map((x) => ({
    role: x,
    first: x.net.replace(/0$/, '100'),
    last: x.net.replace(/0$/, '120'),
    leases: Array.from({ length: r.int(0, 3) }, (_, i) => ({
      mac: macOf(r),
      ip: x.net.replace(/0$/, String(20 + i)),
      host: `${r.pick(['dev', 'cam', 'till', 'pump'])}${i}`,
    })),
  }));
  if (pools.every((p) => p.leases.length === 0))
    pools[0]?.leases.push({ mac: macOf(r), ip: (pools[0] as Pool).first, host: 'dev0' });

  const routes: Route[] = ['192.0.2.128/25', '198.51.100.128/25', '10.200.0.0/16', '10.201.0.0/16']
    .slice(0, r.int(2, 4))
    .map((network) => ({
      network,
      gateway: { it: r.pick(gateways) },
      label: r.pick(LABELS),
    }));
  for (const s of gone.gw) routes.push({ network: '203.0.113.128/25', gateway: { gone: s }, label: 'old line' });

  const cas: Ca[] = AUTHORITIES.slice(0, small ? 1 : r.int(1, 3)).map((pki, i) => ({
    pki,
    name: `ca${i + 1}`,
    label: ['Quay root', 'Guests root', 'Harbour signing'][i] as string,
  }));
  const leaves = r.sample(
    LEAVES.filter((l) => cas.some((c) => c.pki.name === l.issuer)),
    small ? 2 : r.int(2, 6),
  );
  const certs: Cert[] = leaves.map((pki, i) => ({
    pki,
    ca: cas.find((c) => c.pki.name === pki.issuer) as Ca,
    name: `cert${i + 1}`,
    label: ['Admin page 2026', 'Remote access 2026', 'Wi-Fi EAP', 'Tills', 'Radar feed', 'Berth meters'][i] as string,
  }));

  const users: User[] = r.sample(USERS, small ? 2 : r.int(3, 7)).map((name) => ({
    name,
    label: `${name.charAt(0).toUpperCase()}${name.slice(1)} of the quay`,
    hash: passwordHash(r),
    enabled: !r.chance(0.1),
  }));
  const groups: Group[] = r
    .sample(['wardens', 'visitors', 'engineers', 'desk'], small ? 1 : r.int(2, 4))
    .map((name) => ({
      name,
      label: r.chance(0.3) ? name : 'people',
      members: r.sample(users, r.int(1, Math.min(3, users.length))).map((it) => ({ it })),
    }));
  for (const s of gone.user) groups[0]?.members.push({ gone: s });

  const servers: VpnServer[] = ['staff', 'phones', 'pilots'].slice(0, small ? 1 : r.int(1, 3)).map((name, i) => ({
    name,
    label: r.chance(0.3) ? name : 'from home',
    ca: r.pick(cas),
    cert: { it: r.pick(certs) },
    role: roles[0] as Role,
    net: `10.99.${i}.0/24`,
    group: r.chance(0.8) ? { it: r.pick(groups) } : null,
    port: 1194 + i,
  }));
  const more = (i: number): VpnServer => ({
    ...(servers[0] as VpnServer),
    name: `extra${i}`,
    net: `10.99.${10 + i}.0/24`,
    port: 1200 + i,
  });
  for (const [i, s] of gone.cert.entries()) servers.push({ ...more(i), cert: { gone: s } });
  for (const [i, s] of gone.group.entries()) servers.push({ ...more(5 + i), group: { gone: s } });

  const clients: VpnClient[] = r.chance(0.6)
    ? ['island', 'lightship'].slice(0, r.int(1, 2)).map((name, i) => ({
        name,
        label: 'site link',
        remote: `198.51.100.${20 + i}`,
        psk: secretOf(r),
        role: roles[0] as Role,
        networks: [`10.6${i}.0.0/16`, '10.70.0.0/24'].slice(0, r.int(1, 2)),
      }))
    : [];
  const peers: Peer[] = r.chance(0.4)
    ? ['barge', 'tender', 'buoy7'].slice(0, r.int(1, 3)).map((name, i) => ({
        name,
        label: 'far key',
        publicKey: keyOf(r),
        psk: keyOf(r),
        networks: [`10.98.0.${i + 2}/32`],
      }))
    : [];

  return {
    host: r.pick(['quay-gw', 'kq-edge-1', 'harbour01', 'marina-rt']),
    ports,
    portTable: r.chance(0.3)
      ? ports.names.map((_, i) => ({
          device: dev(i),
          mac: macOf(r),
          speed: r.pick(['1000', '10000', 'auto']),
          label: r.chance(0.4) ? 'patched to rack 2' : '',
        }))
      : [],
    roles,
    vlans,
    aggregates,
    sets,
    services,
    schedules,
    rules,
    nats,
    pools,
    gateways,
    routes,
    cas,
    certs,
    users,
    groups,
    servers,
    clients,
    peers,
    tunnelKey: peers.length > 0 ? keyOf(r) : null,
    radius: r.chance(0.75)
      ? {
          roles: r.sample(inner, Math.min(inner.length, r.int(1, 3))),
          aps: Array.from({ length: r.int(1, 3) }, (_, i) => ({
            name: `ap-${['north', 'south', 'pier'][i]}`,
            ip: `10.20.0.${31 + i}`,
            secret: secretOf(r),
          })),
        }
      : null,
    sensor: r.chance(0.6)
      ? {
          roles: r.sample(roles, 3),
          muted: r.sample(['2001219', '2010935', '2024364', '2100498'], 3),
          families: ['malware', 'scan', 'exploit'],
        }
      : null,
    ntp: r.sample(
      ['time-a.example.net', 'time-b.example.net', '192.0.2.123', 'clock.kestrelquay.example'],
      r.int(1, 3),
    ),
    ntpRoles: r.chance(0.4) ? r.sample(inner, Math.min(2, inner.length)) : [],
    tunables: tunables(root.fork('tunables'), ports.driver),
    remarks: r.chance(0.5)
      ? Array.from({ length: r.int(1, 4) }, () => ({
          by: r.pick(users),
          time: `2026-0${r.int(1, 9)}-1${r.int(0, 9)}T08:15:00Z`,
          text: r.pick([
            `${remarkPort()} goes to pontoon B, ${role().name} sits behind it`,
            `do not touch ${role().name}`,
            `${role().name}`,
            `swapped the cable of ${remarkPort()}`,
            `ask about ${r.pick(sets).name}`,
          ]),
        }))
      : [],
    adminCert: certs[0] as Cert,
    adminPort: r.pick([443, 8443, 4443]),
    console: { speed: r.pick(['115200', '9600', '38400']), flow: r.pick(['none', 'rts/cts']) },
    boot: r.chance(0.4) ? { delay: String(r.int(1, 10)), disk: r.pick(['/dev/ada0', '/dev/sda', 'nvd0']) } : null,
    serial: r.chance(0.4) ? `KQ${r.text(8, '0123456789ABCDEF')}` : null,
    licence: r.chance(0.2)
      ? `${r.text(4, 'ABCDEFGHJK23456789')}-${r.text(4, 'ABCDEFGHJK23456789')}-${r.text(4, 'ABCDEFGHJK23456789')}`
      : null,
    dyn: r.chance(0.4)
      ? { role: roles[0] as Role, url: 'https://names.example.net/update', login: 'kestrelquay', password: secretOf(r) }
      : null,
    mail: r.chance(0.4)
      ? { host: 'mail.example.net', login: 'alarm@kestrelquay.example', password: secretOf(r) }
      : null,
    saved: r.chance(0.7)
      ? {
          time: r.pick(['1795600000', '2026-11-24T17:03:11Z', '24.11.2026 17:03']),
          by: r.pick(users),
          label: 'after adding the last berth',
        }
      : null,
    history: r.chance(0.3) ? r.text(r.int(200, 900), B64) : null,
  };
}

function roleNames(r: Rng, count: number): (readonly [string, string])[] {
  const style = r.pick(['en', 'en', 'en', 'de', 'es', 'upper', 'code', 'dash', 'mixed']);
  const base = r.shuffle(ROLE_WORDS.slice(1));
  const out: (readonly [string, string])[] = [ROLE_WORDS[0] as readonly [string, string], ...base];
  const berths = Array.from({ length: 8 }, (_, i) => [`berth${201 + i}`, `Berth ${201 + i}`] as const);
  const mixed = [...out.slice(0, Math.max(3, count - r.int(0, 5))), ...berths, ...out.slice(count)].slice(0, count);
  const foreign = r.shuffle(style === 'de' ? GERMAN : SPANISH);
  return mixed.map(([name, label], i) => {
    switch (style) {
      case 'de':
      case 'es':
        return [foreign[i] ?? name, label];
      case 'upper':
        return [name.toUpperCase(), label];
      case 'code':
        return [`n${String(i + 1).padStart(2, '0')}`, label];
      case 'dash':
        return [`${name}-net`, label];
      case 'mixed':
        return [i % 3 === 2 ? `Z_${name}` : name.charAt(0).toUpperCase() + name.slice(1), label];
      default:
        return [name, label];
    }
  });
}

function vlanSuffix(r: Rng): (tag: number) => string {
  const form = r.pick(['.', '.', '.', ':', '_', '-vlan', 'v', '-', '.v']);
  return (tag) => form + tag;
}

function plantGone(
  r: Rng,
  setStyle: string,
): Record<'role' | 'set' | 'gw' | 'cert' | 'sched' | 'group' | 'user' | 'svc', string[]> {
  const kinds = ['role', 'set', 'gw', 'cert', 'sched', 'group', 'user', 'svc'] as const;
  const out = Object.fromEntries(kinds.map((k) => [k, [] as string[]])) as Record<(typeof kinds)[number], string[]>;
  const chosen = new Set<string>(['set', ...r.sample(kinds, r.int(2, 6))]);
  for (const k of kinds) if (chosen.has(k)) out[k] = r.sample(GONE[k] ?? [], k === 'set' && r.chance(0.4) ? 2 : 1);
  out.set = out.set.map((s) =>
    setStyle === 'dash'
      ? s.replaceAll('_', '-')
      : setStyle === 'upper'
        ? s.toUpperCase()
        : setStyle === 'plain'
          ? s.replaceAll('_', '')
          : s,
  );
  return out;
}

function tunables(r: Rng, driver: string | null): Tunable[] {
  if (r.chance(0.15)) return [];
  const d = driver ?? r.pick(['igb', 'ixl']);
  const bound =
    driver === null && r.chance(0.5)
      ? []
      : [`hw.${d}.num_queues`, `dev.${d}.0.fc`, `hw.${d}.rx_process_limit`, `dev.${d}.1.eee_control`];
  const all: Tunable[] = [
    ...r.sample(bound, 2).map((name) => ({ name, value: r.pick(['0', '2', '-1', '4096']), bound: 'yes' as const })),
    ...r
      .sample(['hw.vga.textmode', 'hw.pci.honor_msi_blacklist', 'hw.acpi.sleep_state', 'dev.cpu.0.freq'], r.int(1, 2))
      .map((name) => ({ name, value: r.pick(['0', '1']), bound: 'yes' as const })),
    ...r
      .sample(
        ['net.inet.tcp.tso', 'kern.ipc.nmbclusters', 'net.inet.ip.fastforwarding', 'kern.randompid', 'vm.swap_enabled'],
        r.int(1, 3),
      )
      .map((name) => ({ name, value: r.pick(['0', '1', '131072']), bound: 'no' as const })),
  ];
  return r.shuffle(all);
}

function literal(r: Rng, role: Role): string {
  const host = role.net.replace(/0$/, String(r.int(5, 90)));
  return r.pick([host, host, `${role.net}/${role.prefix}`, `192.0.2.${r.int(1, 250)}`]);
}

/** Documentation range of RFC 7042, section 2.1.2, in the spelling of this file. */
function macWriter(r: Rng): (r: Rng) => string {
  const style = r.fork('mac style').pick(['colon', 'colon', 'colon', 'upper', 'dash', 'dots', 'bare']);
  return (own) => {
    const plain = `00005e0053${own.hex(2)}`;
    const bytes = plain.match(/../g) as string[];
    switch (style) {
      case 'upper':
        return bytes.join(':').toUpperCase();
      case 'dash':
        return bytes.join('-');
      case 'dots':
        return (plain.match(/..../g) as string[]).join('.');
      case 'bare':
        return plain.toUpperCase();
      default:
        return bytes.join(':');
    }
  };
}

function secretOf(r: Rng): string {
  return r.chance(0.4) ? r.pick(PHRASES) : r.text(r.int(16, 24), B64);
}

/** 32 bytes in base64: 43 letters and a pad. */
function keyOf(r: Rng): string {
  return `${r.text(42, B64)}${r.pick(['A', 'E', 'I', 'M', 'Q', 'U', 'Y', 'c', 'g', 'k', 'o', 's', 'w', '0', '4', '8'])}=`;
}

/** Shapes of crypt(5). */
function passwordHash(r: Rng): string {
  switch (r.int(0, 2)) {
    case 0:
      return `$2y$10$${r.text(53, HASH_LETTERS)}`;
    case 1:
      return `$6$${r.text(12, HASH_LETTERS)}$${r.text(86, HASH_LETTERS)}`;
    default:
      return `$5$rounds=5000$${r.text(10, HASH_LETTERS)}$${r.text(43, HASH_LETTERS)}`;
  }
}
