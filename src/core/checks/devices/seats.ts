import { isVlanId, type RoleSeat } from '../../compile/seats.ts';
import type { Seat } from '../../plan/plan.ts';
import { MAX_DEVICE_NAME, parseDeviceName } from '../../values/device-name.ts';
import { wordsOf } from '../../values/name-words.ts';
import type { Finding } from '../../views.ts';
import { type Site, TEXT } from '../../xml/site.ts';
import { nameOf as nameOfNode } from '../../xml/tree.ts';
import { valueIn } from '../amended/set-value.ts';
import { siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { takeBack } from '../repairs/repairs.ts';
import { isTooLong } from '../repairs/short-names.ts';

/** Where roles sit in the result, and the tagged devices and aggregates that they sit on. */
export function checkSeats(input: CheckInput): Finding[] {
  return [
    ...sharedDevices(input),
    ...aggregateMembers(input),
    ...withoutPort(input),
    ...missingPorts(input),
    ...longNames(input),
    ...taggedRecords(input),
  ];
}

type Placed = Exclude<Seat, { on: 'none' }>;

interface OnDevice extends RoleSeat {
  readonly seat: Placed;
}

/** Roles that go over and have a device; a tagged device that is named as a port is taken for what it is. */
function seated({ seats, devices, gone }: CheckInput): OnDevice[] {
  return seats.flatMap((one) => {
    const { seat, role, binding } = one;
    if (seat.on === 'none' || gone(role.node) || (binding !== null && gone(binding.site.node))) return [];
    const below = seat.on === 'port' ? devices.below(seat.port) : null;
    return [{ ...one, seat: below ? { on: 'tag' as const, ...below } : seat }];
  });
}

const siteOf = ({ binding, role }: RoleSeat): Site => binding?.site ?? { node: role.node, attr: TEXT };

function nameOf({ devices }: CheckInput, seat: Placed): string {
  if (seat.on === 'port') return devices.renamed(seat.port);
  const known = devices.tagged(seat.port, seat.tag);
  return known === null ? `${devices.renamed(seat.port)} VLAN ${seat.tag}` : devices.renamed(known);
}

/** Two roles on one device: frames for the one cannot be told from frames for the other. */
function sharedDevices(input: CheckInput): Finding[] {
  const findings: Finding[] = [];
  const holders = new Map<string, OnDevice>();
  for (const one of seated(input)) {
    const { seat, role } = one;
    const key = `${input.devices.renamed(seat.port)} ${seat.on === 'tag' ? seat.tag : ''}`;
    const other = holders.get(key);
    if (!other) {
      holders.set(key, one);
      continue;
    }
    const byPlan = one.owner !== null || other.owner !== null;
    // Ports that are renamed to one name are told of as such.
    if (!byPlan && other.seat.port !== seat.port) continue;
    findings.push({
      code: 'role-shares-device',
      severity: byPlan ? 'error' : 'warning',
      place: input.place(siteOf(one)),
      params: { role: role.name, other: other.role.name, port: nameOf(input, seat) },
      byPlan,
      repairs: [one, other].flatMap(moveBack),
    });
  }
  return findings;
}

function aggregateMembers(input: CheckInput): Finding[] {
  const aggregateOf = new Map<string, string>();
  const bridged = new Set<string>();
  const doubled: Finding[] = [];
  for (const { device, node, members } of input.reading.aggregates)
    for (const { port, site } of members) {
      if (input.gone(node) || input.gone(site.node)) continue;
      if (aggregateOf.has(port))
        doubled.push({
          code: 'member-doubled',
          severity: 'warning',
          place: input.place(site),
          params: { port: input.devices.renamed(port), aggregate: input.devices.renamed(aggregateOf.get(port)!) },
          byPlan: false,
        });
      aggregateOf.set(port, device);
      if (isBridge(input, node, device)) bridged.add(port);
    }
  const taken = seated(input).flatMap((one) => {
    const aggregate = aggregateOf.get(one.seat.port);
    // The record of the port itself may well say what it is called.
    const own = one.binding !== null && one.role.name === one.binding.port && one.binding.node === one.role.node;
    // A port of a bridge may have tagged devices of its own beside it; common practice, no source.
    const beside = one.seat.on === 'tag' && bridged.has(one.seat.port);
    if (aggregate === undefined || own || beside) return [];
    const byPlan = one.owner !== null;
    return [
      {
        code: 'port-in-aggregate' as const,
        severity: byPlan ? ('error' as const) : ('warning' as const),
        place: input.place(siteOf(one)),
        params: {
          role: one.role.name,
          port: input.devices.renamed(one.seat.port),
          aggregate: input.devices.renamed(aggregate),
        },
        byPlan,
        repairs: moveBack(one),
      },
    ];
  });
  return [...doubled, ...taken];
}

const bridgeWords = new Set(
  'bridge bridges br switch brucke bruecke puente puentes pont ponts ponte brug мост 网桥'.split(' '),
);

/** Whether several ports are one network rather than one link, as far as words of the trade tell. */
function isBridge({ tree }: CheckInput, node: number, device: string): boolean {
  const around = [node, tree.parent[node]!].flatMap((at) => (at === -1 ? [] : wordsOf(nameOfNode(tree, at))));
  return [...around, device.replace(/[\d_-].*$/, '').toLowerCase()].some((word) => bridgeWords.has(word));
}

/** Gives the move of a role up, where it was moved. */
export const moveBack = ({ owner, role }: RoleSeat) => (owner === null ? [] : takeBack([owner], { name: role.name }));

/** A role that loses its port by the plan, or has none where most have one. */
function withoutPort({ seats, gone, place, reading, tree }: CheckInput): Finding[] {
  const common = seats.filter(({ seat }) => seat.on !== 'none').length * 2 >= seats.length;
  const devices = new Set([
    ...reading.deviceKeys.map(({ node }) => node),
    ...reading.tagging.flatMap(({ records }) => records.map(({ node }) => node)),
  ]);
  const naming = reading.references.filter(({ to }) => devices.has(to)).map(({ site }) => site.node);
  // A role may name its device in a field of another kind than most do.
  const namesDevice = (node: number) => naming.some((at) => at >= node && at < tree.after[node]!);
  return seats
    .filter(({ seat, owner, role }) => seat.on === 'none' && !gone(role.node) && (owner !== null || common))
    .filter(({ owner, role }) => owner !== null || !namesDevice(role.node))
    .map((one) => ({
      code: 'role-without-port' as const,
      severity: one.owner === null ? ('note' as const) : ('warning' as const),
      place: place(siteOf(one)),
      params: { role: one.role.name },
      byPlan: one.owner !== null,
      repairs: moveBack(one),
    }));
}

/** Ports that the new box does not have, where it is known: those of roles, and those of aggregates under roles. */
function missingPorts(input: CheckInput): Finding[] {
  const { receiver, reading, devices, place } = input;
  if (receiver === null) return [];
  const has = new Set(receiver);
  const soft = new Set(reading.ports.flatMap(({ name, kind }) => (kind === 'other' ? [name] : [])));
  // Loopback, tunnels, bridges: the new box makes them from the file.
  const isMade = (port: string) => soft.has(port) || parseDeviceName(port)?.kind === 'pseudo';
  const aggregates = new Map(reading.aggregates.map((aggregate) => [aggregate.device, aggregate]));
  const findings: Finding[] = [];
  const told = new Set<string>();
  const free = freePorts(input, receiver);
  const tell = (port: string, role: string, site: Site, byPlan: boolean) => {
    findings.push({
      code: 'port-not-on-receiver',
      severity: 'error',
      place: place(site),
      params: { port: devices.renamed(port), role },
      byPlan,
      repairs: free.has(port)
        ? free.names.map((to) => ({
            code: 'rename-port' as const,
            params: { name: port, to },
            decisions: [{ kind: 'rename-port' as const, from: port, to }],
          }))
        : [],
    });
  };
  for (const one of seated(input)) {
    const base = baseOf(input, one.seat.port);
    if (has.has(devices.renamed(base)) || isMade(base)) continue;
    const aggregate = aggregates.get(base);
    if (!aggregate) tell(base, one.role.name, siteOf(one), one.owner !== null);
    else if (!told.has(base)) {
      told.add(base);
      for (const { port, site } of aggregate.members)
        if (!has.has(devices.renamed(port))) tell(port, one.role.name, site, false);
    }
  }
  return findings;
}

/** Ports of the new box that nothing has yet, a few; a name that the old file does not have cannot be put on one. */
function freePorts({ reading, devices }: CheckInput, receiver: readonly string[]) {
  const own = new Set(reading.mentions.map(({ port }) => port));
  const taken = new Set([...own].map((port) => devices.renamed(port)));
  return { names: receiver.filter((name) => !taken.has(name)).slice(0, OFFERED), has: (port: string) => own.has(port) };
}

const OFFERED = 6;

function baseOf({ devices }: CheckInput, port: string): string {
  let base = port;
  const seen = new Set<string>();
  for (let below = devices.below(base); below && !seen.has(base); below = devices.below(base)) {
    seen.add(base);
    base = below.port;
  }
  return base;
}

/** Names that moves make up and that are too long. */
function longNames(input: CheckInput): Finding[] {
  const { added, seats, place } = input;
  return added.flatMap(({ device, owners }) => {
    if (device === null || !isTooLong(input, device)) return [];
    const seat = seats.find(({ owner }) => owner !== null && owners.includes(owner));
    return [
      {
        code: 'port-name-long' as const,
        severity: 'warning' as const,
        place: seat ? place(siteOf(seat)) : null,
        params: { port: device, limit: MAX_DEVICE_NAME },
        byPlan: true,
        repairs: seat ? moveBack(seat) : [],
      },
    ];
  });
}

/** What records of tagged devices say that does not fit: one VLAN ID twice on a port, numbers that are none, names. */
function taggedRecords({ reading, tree, set, gone, place, devices }: CheckInput): Finding[] {
  const findings: Finding[] = [];
  const add = (code: Finding['code'], site: Site, params: Finding['params']) => {
    findings.push({ code, severity: 'warning', place: place(site), params, byPlan: false });
  };
  const seen = new Set<string>();
  for (const { marks, onParent, records } of reading.tagging) {
    const composed = (parent: string | null, tag: number) => `${onParent ? parent : ''}${marks}${tag}`;
    const usual = records.filter(({ device, parent, tag }) => tag !== null && device === composed(parent, tag)).length;
    for (const { node, device, parent, tag, spots } of records) {
      if (gone(node)) continue;
      const site = (holds: string) => spots.find((spot) => spot.holds === holds)?.site ?? { node, attr: TEXT };
      if (tag !== null && !isVlanId(tag)) add('tag-out-of-range', site('tag'), { tag, device });
      const written =
        tag === null && spots.some(({ holds }) => holds === 'tag') ? valueIn(tree, set, site('tag')).trim() : '';
      if (written !== '') add('tag-out-of-range', site('tag'), { tag: written, device });
      if (tag === null || parent === null) continue;
      const key = `${tag} ${parent}`;
      if (seen.has(key)) add('tag-doubled', site('tag'), { tag, port: parent });
      seen.add(key);
      const named = spots.some(({ holds }) => holds === 'device');
      // A shorter one where that name would be too long.
      const isLong = composed(devices.renamed(parent), tag).length > MAX_DEVICE_NAME;
      if (named && usual >= 2 && device !== composed(parent, tag) && !isLong)
        add('tag-name-differs', site('device'), { device, port: parent, tag });
    }
  }
  const told = new Set<number>();
  for (const { tag, node, role } of reading.bindings) {
    if (!tag || gone(tag.node) || gone(node) || told.has(siteKey(tag.node, tag.attr))) continue;
    told.add(siteKey(tag.node, tag.attr));
    const written = valueIn(tree, set, tag).trim();
    if (/^\d+$/.test(written) && !isVlanId(Number(written)))
      add('tag-out-of-range', tag, { tag: Number(written), device: role });
  }
  return findings;
}
