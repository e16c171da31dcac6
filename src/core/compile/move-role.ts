import type { Patch } from '../patch/patch-set.ts';
import { type Plan, renamesOf, type Seat } from '../plan/plan.ts';
import type { Binding, Reading, Role } from '../reading/reading.ts';
import type { Trouble } from '../trouble.ts';
import type { Fits } from '../xml/edit.ts';
import { pathOf } from '../xml/path.ts';
import { type Site, valueAt } from '../xml/site.ts';
import { isWithin, type Tree } from '../xml/tree.ts';
import { type AddedField, addField } from './add-field.ts';
import { type AddedAttribute, type AddedRecord, siteKey } from './edits.ts';
import { PlaceWriter } from './place-writer.ts';
import { type Place, RolePlaces } from './role-places.ts';
import { type Defined, DeviceIndex, donorSeat, type RoleSeat, sameSeat, seatsOf } from './seats.ts';
import type { SpanChange } from './set-values.ts';
import { keyOf, type Made, TaggedRecords, type Wanted } from './tagged-record.ts';

export interface Moves {
  readonly parts: readonly SpanChange[];
  /** Whole values, by `siteKey`. */
  readonly whole: ReadonlyMap<string, { readonly site: Site; readonly value: string; readonly owner: string }>;
  readonly added: readonly AddedRecord[];
  readonly attributes: ReadonlyMap<number, AddedAttribute>;
  /** Insertions for `added` and `attributes`. */
  readonly patches: readonly Patch[];
}

/**
 * What it takes to put roles where the plan says: the place where a role names its device and, for a tagged device that
 * no record defines, one record more. Nothing else of the file changes.
 */
export function moveRoles(
  tree: Tree,
  reading: Reading,
  plan: Plan,
  fits: Fits,
  gone: (node: number) => boolean,
  troubles: Trouble[],
): Moves {
  const moves = new Mover(tree, reading, plan, fits, gone, troubles);
  const seats = seatsOf(tree, reading, plan, troubles);
  return moves.all(seats.filter(({ owner, role }) => owner !== null && !gone(role.node)));
}

interface Moving extends RoleSeat {
  readonly owner: string;
}

const isOnVlan = (binding: Binding | null): binding is Binding => binding !== null && binding.vlan !== -1;

/** Whether a role has its VLAN ID to itself, where it names its port. */
const hasTagBeside = ({ tag, vlan, ofPort }: Binding) => tag !== null && vlan === -1 && !ofPort;

const wantedKey = ({ port, tag }: { port: string; tag: number }) => `${tag} ${port}`;

class Mover {
  private readonly values: PlaceWriter;
  private readonly devices: DeviceIndex;
  private readonly made = new Map<string, Made>();
  private readonly fields: AddedField[] = [];
  /** Records of tagged devices by node: a role may be one itself. */
  private readonly defined = new Map<number, Defined>();
  private readonly places: RolePlaces;
  /** True where roles have the VLAN ID beside the port. */
  private readonly beside: boolean;

  constructor(
    private readonly tree: Tree,
    private readonly reading: Reading,
    plan: Plan,
    private readonly fits: Fits,
    private readonly gone: (node: number) => boolean,
    private readonly troubles: Trouble[],
  ) {
    this.values = new PlaceWriter(tree);
    this.places = new RolePlaces(tree, reading);
    this.devices = new DeviceIndex(reading, renamesOf(plan));
    for (const tagging of reading.tagging)
      for (const record of tagging.records) this.defined.set(record.node, { tagging, record });
    this.beside = reading.bindings.some(hasTagBeside);
  }

  all(seats: readonly RoleSeat[]): Moves {
    const moving = seats.filter(
      (seat): seat is Moving =>
        seat.owner !== null && !sameSeat(seat.seat, donorSeat(this.tree, this.devices, seat.binding)),
    );
    const patches = this.addRecords(moving);
    for (const move of moving) this.move(move);
    const added = [...this.made.values()].map((made) => made.added);
    for (const field of this.fields) {
      patches.push(field.patch);
      if (field.kind === 'element') added.push(field.added);
    }
    const attributes = new Map(
      this.fields.flatMap((field) => (field.kind === 'attribute' ? [[field.node, field.added] as const] : [])),
    );
    return { parts: this.values.parts, whole: this.values.whole, added, attributes, patches };
  }

  /** Records for tagged devices that have none, in the order of ports and VLAN IDs, whatever order they were asked in. */
  private addRecords(moving: readonly Moving[]): Patch[] {
    const wanted = new Map<string, Wanted>();
    for (const move of moving) {
      const { role, binding, seat, owner } = move;
      if (seat.on !== 'tag' || this.writesTagBeside(move) || binding?.ofPort || isOnVlan(binding)) continue;
      if (this.devices.tagged(seat.port, seat.tag) !== null) continue;
      const key = wantedKey(seat);
      const known = wanted.get(key);
      // Of two roles on one new device the one that comes first in the file names it.
      if (known) wanted.set(key, { ...known, owners: [...known.owners, owner] });
      else
        wanted.set(key, {
          port: seat.port,
          tag: seat.tag,
          label: role.label ?? role.name,
          word: role.name,
          owners: [owner],
        });
    }
    const records = new TaggedRecords({
      tree: this.tree,
      reading: this.reading,
      devices: this.devices,
      fits: this.fits,
      gone: this.gone,
    });
    const sorted = [...wanted].sort(([, a], [, b]) => (a.port < b.port ? -1 : a.port > b.port ? 1 : a.tag - b.tag));
    const texts = new Map<number, { text: string; owners: string[] }>();
    for (const [key, one] of sorted) {
      const made = records.make(one);
      if (!made.ok) {
        this.troubles.push(made.trouble);
        continue;
      }
      this.made.set(key, made.value);
      const { after } = made.value.added;
      const before = texts.get(after);
      texts.set(after, {
        text: (before?.text ?? '') + made.value.text,
        owners: [...new Set([...(before?.owners ?? []), ...one.owners])],
      });
    }
    return [...texts].map(([after, { text, owners }]) => {
      const at = this.tree.end[after]!;
      return { start: at, end: at, text, owner: owners.join(' + ') };
    });
  }

  private move(move: Moving): void {
    const { role, binding, seat, owner } = move;
    const own = this.defined.get(role.node);
    if (binding && seat.on === 'tag' && own && isWithin(this.tree, binding.site.node, role.node)) {
      this.retag(role, own, seat, owner);
      return;
    }
    if (binding?.ofPort) {
      this.troubles.push({ code: 'plan-role-is-port', params: { role: role.name } });
      return;
    }
    if (isOnVlan(binding) && this.moveToVlan(role, binding, seat, owner)) return;
    const place: Place | null = binding
      ? { site: binding.site, tag: hasTagBeside(binding) ? binding.tag : null, linked: this.places.isLinked(binding) }
      : this.places.emptyPlace(role, this.holderOf(seat));
    if (!place) {
      if (seat.on !== 'none') this.trouble('plan-role-no-place', role, { what: 'port' });
      return;
    }
    if (this.gone(place.site.node)) return;
    if (this.wouldEmptyPart(move, place)) {
      this.trouble('plan-role-in-text', role, {});
      return;
    }
    if (this.writesTagBeside(move)) {
      this.moveBeside(role, place, seat, owner);
      return;
    }
    if (seat.on === 'none') this.values.empty(place.site, owner);
    else {
      const other = this.placeFor(place, role, seat);
      const right = other !== place && place.site.part ? null : other;
      const text = right ? this.nameOf(right, seat) : null;
      if (!right) this.trouble('plan-role-no-place', role, { what: 'port' });
      else if (text !== null) {
        if (right !== place) this.values.empty(place.site, owner);
        this.values.write(right.site, text, owner);
      }
    }
    if (!own || !binding) return;
    for (const { holds, site } of own.record.spots)
      if ((holds === 'parent' || holds === 'tag') && siteKey(site) !== siteKey(place.site))
        this.values.empty(site, owner);
  }

  /** Whether a role would lose its port or VLAN ID where that is a part of a text. */
  private wouldEmptyPart(move: Moving, { site: at, tag }: Place): boolean {
    if (move.seat.on === 'none' && at.part) return true;
    const { texts } = this.reading.values;
    for (const { holds, site, from } of this.defined.get(move.role.node)?.record.spots ?? [])
      if ((holds === 'parent' || holds === 'tag') && texts.has(site.node, site.attr) && from !== at.part?.[0])
        return true;
    return tag?.part !== undefined && move.seat.on !== 'tag' && this.writesTagBeside(move);
  }

  /** A role that names a VLAN whose own record has ports goes where another VLAN is; false where it may name a port itself. */
  private moveToVlan(role: Role, { site, vlan }: Binding, seat: Seat, owner: string): boolean {
    const isNamed = this.places.linkedTo(site) === vlan;
    const isThere = (one: Binding) =>
      isOnVlan(one) &&
      this.places.linkedHolder(one.site) === this.places.linkedHolder(site) &&
      sameSeat(donorSeat(this.tree, this.devices, one), seat);
    const other = isNamed ? this.reading.bindings.find(isThere) : undefined;
    if (other) this.values.write(site, valueAt(this.tree, other.site), owner);
    else if (isNamed && seat.on !== 'tag') return false;
    else this.trouble('plan-role-on-vlan', role, {});
    return true;
  }

  /** A role that names port and VLAN ID apart. */
  private moveBeside(role: Role, place: Place, seat: Seat, owner: string): void {
    const tag = place.tag ?? (seat.on === 'tag' ? this.places.emptyTag(role) : null);
    if (seat.on === 'tag' && !tag && !this.addTag(role, seat.tag, owner)) return;
    const port = seat.on === 'none' ? '' : this.nameOf(place, { on: 'port', port: seat.port });
    if (port === null) return;
    if (seat.on === 'none') this.values.empty(place.site, owner);
    else this.values.write(place.site, port, owner);
    if (tag && seat.on === 'tag') this.values.write(tag, String(seat.tag), owner);
    else if (tag) this.values.empty(tag, owner);
  }

  /** A role that is itself the record of a tagged device: its own parts change, and whoever names the device follows. */
  private retag(role: Role, { tagging, record }: Defined, seat: Extract<Seat, { on: 'tag' }>, owner: string): void {
    if (this.devices.tagged(seat.port, seat.tag) !== null) {
      this.trouble('plan-tag-taken', role, { port: seat.port, tag: seat.tag });
      return;
    }
    const parent = record.spots.find(({ holds }) => holds === 'parent');
    const text =
      parent && valueAt(this.tree, parent.site).slice(parent.from, parent.to) !== record.parent
        ? keyOf(this.reading, seat.port, false)
        : this.devices.renamed(seat.port);
    if (text === null) {
      this.troubles.push({ code: 'plan-port-no-record', params: { port: seat.port } });
      return;
    }
    const device = this.devices.composed(tagging, seat.port, seat.tag);
    for (const spot of record.spots) {
      const { holds, site, from, to } = spot;
      const now = holds === 'tag' ? String(seat.tag) : holds === 'parent' ? text : holds === 'device' ? device : null;
      if (now !== null) this.values.parts.push({ site, from, to, text: now, owner });
    }
    const own = new Set(record.spots.map(({ site }) => siteKey(site)));
    for (const { site, from, to, value } of this.reading.mentions)
      if (value === record.device && !own.has(siteKey(site)))
        this.values.parts.push({ site, from, to, text: device, owner });
  }

  /** What a role writes to sit on a device of the result; null, with trouble, where the file gives it no name. */
  private nameOf(place: Place, seat: Exclude<Seat, { on: 'none' }>): string | null {
    const made = seat.on === 'tag' ? this.made.get(wantedKey(seat)) : undefined;
    const device = seat.on === 'port' ? seat.port : this.devices.tagged(seat.port, seat.tag);
    if (!place.linked) return made ? made.added.device : device === null ? null : this.devices.renamed(device);
    if (made) return made.key;
    if (device === null) return null;
    const key = this.recordKey(seat) ?? keyOf(this.reading, device, true);
    if (key === null) this.troubles.push({ code: 'plan-port-no-record', params: { port: device } });
    return key;
  }

  private recordKey(seat: Seat): string | null {
    const defined = seat.on === 'tag' ? this.devices.record(seat.port, seat.tag) : null;
    const spot = defined?.record.spots.find(({ field }) => field === defined.tagging.key);
    return spot ? valueAt(this.tree, spot.site).slice(spot.from, spot.to) : null;
  }

  private writesTagBeside({ binding }: Moving): boolean {
    if (binding && hasTagBeside(binding)) return true;
    return this.beside && this.reading.tagging.length === 0;
  }

  /**
   * Where a role names records of the kind that its new seat has: ports and tagged devices may have a field each. Null where
   * it has no room for it.
   */
  private placeFor(place: Place, role: Role, seat: Exclude<Seat, { on: 'none' }>): Place | null {
    const holder = place.linked ? this.holderOf(seat) : -1;
    const now = this.places.linkedHolder(place.site);
    return holder === -1 || now === -1 || now === holder ? place : this.places.emptyPlace(role, holder);
  }

  /** What holds the record of a seat's device; -1 where none defines it. */
  private holderOf(seat: Seat): number {
    if (seat.on === 'none') return -1;
    const made = seat.on === 'tag' ? this.made.get(wantedKey(seat)) : undefined;
    const device = seat.on === 'port' ? seat.port : this.devices.tagged(seat.port, seat.tag);
    const record =
      made?.added.after ??
      (seat.on === 'tag' ? this.devices.record(seat.port, seat.tag)?.record.node : undefined) ??
      this.reading.deviceKeys.find((one) => one.device === device)?.node;
    return record === undefined ? -1 : this.tree.parent[record]!;
  }

  /** Gives a role the field for the VLAN ID that others have; false, with trouble, where it has no room for it. */
  private addTag(role: Role, value: number, owner: string): boolean {
    for (const { tag, node } of this.reading.bindings) {
      if (!tag || tag.part || node === -1 || !isWithin(this.tree, tag.node, node)) continue;
      const made = addField(this.tree, tag, node, role.node, String(value), this.fits, owner);
      if (!made.ok) {
        this.troubles.push(made.trouble);
        return false;
      }
      const field = made.value;
      if (field === null || (field.kind === 'element' && this.gone(field.added.after))) continue;
      this.fields.push(field);
      return true;
    }
    this.trouble('plan-role-no-place', role, { what: 'tag' });
    return false;
  }

  private trouble(code: Trouble['code'], role: Role, params: Record<string, string | number>): void {
    this.troubles.push({ code, params: { role: role.name, path: pathOf(this.tree, role.node), ...params } });
  }
}
