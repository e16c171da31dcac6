import type { Model, Role } from './model.ts';
import type { Rng } from './rng.ts';

/** Faults of addresses that can be planted in an invented box, by the code of the finding. */
export const FAULTS = [
  'pool-outside',
  'pool-reversed',
  'pool-over-router',
  'lease-outside',
  'next-hop-unreachable',
  'next-hop-own',
  'address-not-a-host',
  'subnets-overlap',
  'address-doubled',
  'client-doubled',
] as const;
export type Fault = (typeof FAULTS)[number];

type Span = readonly [first: number, last: number];

const numberOf = (address: string): number => address.split('.').reduce((sum, octet) => sum * 256 + Number(octet), 0);
const textOf = (number: number): string => [24, 16, 8, 0].map((bits) => Math.floor(number / 2 ** bits) % 256).join('.');

function spanOf({ address, prefix }: Pick<Role, 'address' | 'prefix'>): Span {
  const size = 2 ** (32 - prefix);
  const first = Math.floor(numberOf(address) / size) * size;
  return [first, first + size - 1];
}

const lies = (address: string, [first, last]: Span) => numberOf(address) >= first && numberOf(address) <= last;

/** Puts pools and gateways where they belong, then one fault. A box that has no place for it stays as it is. */
export function plantFault(model: Model, fault: Fault, rng: Rng): void {
  tidy(model);
  const inner = model.roles.slice(1);
  const pool = rng.pick(model.pools);
  const role = rng.pick(inner);
  const leases = model.pools.flatMap((one) => one.leases.map((lease) => ({ lease, pool: one })));
  const lease = leases.length > 0 ? rng.pick(leases) : null;
  const gateway = rng.pick(model.gateways);
  switch (fault) {
    case 'pool-outside':
      pool.last = textOf(spanOf(pool.role)[1] + 9);
      break;
    case 'pool-reversed':
      [pool.first, pool.last] = [pool.last, pool.first];
      break;
    case 'pool-over-router':
      pool.first = pool.role.address;
      break;
    case 'lease-outside':
      if (lease) lease.lease.ip = '10.77.3.9';
      break;
    case 'next-hop-unreachable':
      gateway.ip = '172.20.9.1';
      break;
    case 'next-hop-own':
      gateway.ip = gateway.role.address;
      break;
    case 'address-not-a-host':
      role.address = textOf(spanOf(role)[rng.pick([0, 1])]!);
      break;
    case 'address-doubled':
      if (lease) lease.lease.ip = lease.pool.role.address;
      break;
    case 'client-doubled': {
      const several = model.pools.find((one) => one.leases.length > 1);
      if (several) several.leases[1]!.mac = several.leases[0]!.mac;
      break;
    }
    case 'subnets-overlap':
      overlap(model, role, inner.find((one) => one !== role)!);
      break;
    default:
      fault satisfies never;
  }
}

function tidy({ pools, gateways }: Model): void {
  for (const pool of pools) {
    const [first] = spanOf(pool.role);
    [pool.first, pool.last] = [textOf(first + 40), textOf(first + 50)];
  }
  const taken = new Set(pools.flatMap(({ role, leases }) => [role.address, ...leases.map(({ ip }) => ip)]));
  for (const gateway of gateways) {
    let at = spanOf(gateway.role)[0] + 1;
    while (textOf(at) === gateway.role.address || taken.has(textOf(at))) at++;
    gateway.ip = textOf(at);
    taken.add(gateway.ip);
  }
}

/** Two roles in one network, with all their addresses apart. */
function overlap({ pools, gateways }: Model, role: Role, other: Role): void {
  const first = spanOf({ ...other, prefix: 24 })[0];
  Object.assign(other, { prefix: 24, address: textOf(first + 1) });
  Object.assign(role, { prefix: 24, address: textOf(first + 5) });
  for (const pool of pools) {
    if (pool.role !== role && pool.role !== other) continue;
    const from = first + (pool.role === role ? 100 : 150);
    [pool.first, pool.last] = [textOf(from), textOf(from + 10)];
    for (const [at, lease] of pool.leases.entries()) lease.ip = textOf(first + (pool.role === role ? 20 : 30) + at);
  }
  for (const [at, gateway] of gateways.entries())
    if (gateway.role === role || gateway.role === other) gateway.ip = textOf(first + 240 + at);
}

/**
 * What is wrong with the addresses of a box, each as its code and the addresses that it is told by.
 * @param isOn whether a role that is switched off counts
 */
export function faultsIn({ roles, pools, gateways }: Model, isOn: (role: Role) => boolean): Set<string> {
  const found = new Set<string>();
  const tell = (fault: Fault, ...addresses: string[]) => found.add([fault, ...addresses].join(' '));
  const leases = pools.flatMap(({ role, leases }) => leases.map((lease) => ({ ...lease, role })));
  const routers = [...roles.map(({ address }) => address), ...gateways.map(({ ip }) => ip)];
  for (const { role, first, last } of pools) {
    if (numberOf(first) > numberOf(last)) {
      tell('pool-reversed', first, last);
      continue;
    }
    if (!lies(first, spanOf(role)) || !lies(last, spanOf(role))) tell('pool-outside', first, last);
    if (routers.some((one) => lies(one, [numberOf(first), numberOf(last)]))) tell('pool-over-router', first, last);
  }
  for (const { role, ip } of leases) if (!lies(ip, spanOf(role))) tell('lease-outside', ip);
  for (const { role, ip } of gateways) {
    if (!lies(ip, spanOf(role))) tell('next-hop-unreachable', ip);
    if (isOn(role) && ip === role.address) tell('next-hop-own', ip);
  }
  const hosts = [...roles.map((role) => ({ role, ip: role.address })), ...leases, ...gateways];
  for (const { role, ip } of hosts) if (spanOf(role).includes(numberOf(ip))) tell('address-not-a-host', ip);
  const on = roles.filter(isOn);
  for (const [at, one] of on.entries())
    for (const other of on.slice(at + 1)) {
      const [a, b] = [spanOf(one), spanOf(other)];
      if (a[0] <= b[1] && b[0] <= a[1]) tell('subnets-overlap', ...[textOf(a[0]), textOf(b[0])].sort());
    }
  const held = new Map<string, string>();
  for (const { ip, mac } of [...on.map(({ address }) => ({ ip: address, mac: '' })), ...leases]) {
    const other = held.get(ip);
    if (other === undefined) held.set(ip, mac);
    else if (mac === '' || mac !== other) tell('address-doubled', ip);
  }
  for (const pool of pools) {
    const seen = new Set<string>();
    for (const { mac, ip } of pool.leases) {
      if (!lies(ip, spanOf(pool.role))) continue;
      if (seen.has(mac)) tell('client-doubled', ip);
      seen.add(mac);
    }
  }
  return found;
}
