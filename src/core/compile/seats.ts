import { type Plan, renamesOf, type Seat, subjectOf } from '../plan/plan.ts';
import type { Binding, Reading, Role, TaggedRecord, Tagging } from '../reading/reading.ts';
import type { Trouble } from '../trouble.ts';
import { pathFinder } from '../xml/path.ts';
import { valueAt } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';

/** IEEE 802.1Q: 0 marks a frame without a VLAN, 4095 is reserved (ieee802-dot1q-types, typedef vlanid). */
export const VLAN_IDS = { first: 1, last: 4094 } as const;

export const isVlanId = (tag: number) => Number.isInteger(tag) && tag >= VLAN_IDS.first && tag <= VLAN_IDS.last;

/** Where one role sits in the result. */
export interface RoleSeat {
  readonly role: Role;
  /** Where the donor writes it; null for a role without a place, or with several. */
  readonly binding: Binding | null;
  /** In the donor's names, as decisions are. */
  readonly seat: Seat;
  /** Subject of the decision that put it there; null where it stays. */
  readonly owner: string | null;
}

/** Every role with its seat; what the plan says of roles that the file does not have is trouble. */
export function seatsOf(tree: Tree, reading: Reading, plan: Plan, troubles: Trouble[] = []): RoleSeat[] {
  const moves = new Map<number, { seat: Seat; owner: string }>();
  const roles = new Set(reading.roles.map(({ node }) => node));
  const find = pathFinder(tree);
  for (const decision of plan.decisions) {
    if (decision.kind !== 'move-role') continue;
    const { role: path, to: seat } = decision;
    const node = find(path);
    if (!roles.has(node)) troubles.push({ code: 'plan-role-missing', params: { path } });
    else if (seat.on === 'tag' && !isVlanId(seat.tag))
      troubles.push({ code: 'plan-tag-out-of-range', params: { path, port: seat.port, tag: seat.tag } });
    else moves.set(node, { seat, owner: subjectOf(decision) });
  }
  const devices = new DeviceIndex(reading, renamesOf(plan));
  const bindings = bindingsByRole(reading);
  return reading.roles.map((role) => {
    const own = bindings.get(role.node) ?? [];
    const binding = own.length === 1 ? own[0]! : null;
    const move = moves.get(role.node);
    if (move && own.length > 1) {
      troubles.push({ code: 'plan-role-many-ports', params: { role: role.name, count: own.length } });
    } else if (move) return { role, binding, seat: move.seat, owner: move.owner };
    return { role, binding, seat: donorSeat(tree, devices, own[0] ?? null), owner: null };
  });
}

function bindingsByRole(reading: Reading): Map<number, Binding[]> {
  const byRole = new Map<number, Binding[]>();
  for (const binding of reading.bindings) {
    const list = byRole.get(binding.node);
    if (list) list.push(binding);
    else byRole.set(binding.node, [binding]);
  }
  return byRole;
}

/** Where the donor has a role. */
export function donorSeat(tree: Tree, devices: DeviceIndex, binding: Binding | null): Seat {
  if (!binding) return { on: 'none' };
  if (binding.tag) {
    const tag = valueAt(tree, binding.tag).trim();
    if (/^\d{1,4}$/.test(tag)) return { on: 'tag', port: binding.port, tag: Number(tag) };
  }
  const below = devices.below(binding.port);
  return below ? { on: 'tag', ...below } : { on: 'port', port: binding.port };
}

export const sameSeat = (a: Seat, b: Seat): boolean =>
  a.on === b.on &&
  (a.on === 'none' || (b.on !== 'none' && a.port === b.port)) &&
  (a.on !== 'tag' || (b.on === 'tag' && a.tag === b.tag));

/** A record that defines a tagged device, with the list that it is in. */
export interface Defined {
  readonly tagging: Tagging;
  readonly record: TaggedRecord;
}

const seatKey = (port: string, tag: number) => `${tag} ${port}`;

/** The devices of the donor and what they are called in the result. */
export class DeviceIndex {
  private readonly parts = new Map<string, { port: string; portAt: number }>();
  private readonly defined = new Map<string, Defined>();
  private readonly named = new Map<string, string>();
  private readonly under = new Map<string, { port: string; tag: number }>();

  constructor(
    reading: Reading,
    private readonly renames: ReadonlyMap<string, string>,
  ) {
    for (const { value, port, portAt } of reading.mentions)
      if (!this.parts.has(value)) this.parts.set(value, { port, portAt });
    for (const tagging of reading.tagging) {
      for (const record of tagging.records) {
        if (record.parent === null || record.tag === null) continue;
        const key = seatKey(record.parent, record.tag);
        if (!this.defined.has(key)) this.defined.set(key, { tagging, record });
        this.under.set(record.device, { port: record.parent, tag: record.tag });
      }
    }
    for (const { name, parent, tag } of reading.ports) {
      if (parent === null || tag === null) continue;
      if (!this.named.has(seatKey(parent, tag))) this.named.set(seatKey(parent, tag), name);
      if (!this.under.has(name)) this.under.set(name, { port: parent, tag });
    }
  }

  /** Port and VLAN ID of a tagged device; null for any other. */
  below(device: string): { port: string; tag: number } | null {
    return this.under.get(device) ?? null;
  }

  /** The record that defines a tagged device. */
  record(port: string, tag: number): Defined | null {
    return this.defined.get(seatKey(port, tag)) ?? null;
  }

  /** The donor's name of a tagged device, defined by a record or only named; null where there is none. */
  tagged(port: string, tag: number): string | null {
    return this.record(port, tag)?.record.device ?? this.named.get(seatKey(port, tag)) ?? null;
  }

  /** What one of the donor's devices is called in the result; a name that the donor does not have stays. */
  renamed(device: string): string {
    const whole = this.renames.get(device);
    if (whole !== undefined) return whole;
    const part = this.parts.get(device);
    const port = part?.port ?? this.under.get(device)?.port;
    const portAt = part?.portAt ?? 0;
    const to = port === undefined ? undefined : this.renames.get(port);
    if (port === undefined || to === undefined || !device.startsWith(port, portAt)) return device;
    return device.slice(0, portAt) + to + device.slice(portAt + port.length);
  }

  /** What a new tagged device is called in the result. */
  composed({ marks, onParent }: Tagging, port: string, tag: number): string {
    return `${onParent ? this.renamed(port) : ''}${marks}${tag}`;
  }
}
