import type { Authority, Leaf } from './pki.ts';
import type { Device, PortSet } from './ports.ts';

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
