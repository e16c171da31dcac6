import { type Met, markOf, type Seat } from '../meeting.ts';
import type { Model, Role, Vlan } from '../model.ts';
import type { Device } from '../ports.ts';
import type { Coll, Field, Rec, Token } from '../records.ts';
import { wrap } from '../records.ts';
import type { Rng } from '../rng.ts';
import type { Terms } from './terms.ts';

/** A port, or what is made of some, as a record. */
export interface Carrier {
  readonly kind: Seat;
  readonly uid: string;
  readonly device: Device;
  /** Its own name is free to be reported or not. */
  readonly silent: boolean;
  readonly vlan: Vlan | null;
}

/** What networks sit on, and how it is named where they meet it. */
export class Carriers {
  private readonly numbers = new Map<string, number>();

  constructor(
    protected readonly model: Model,
    protected readonly t: Terms,
    protected readonly met: Met,
    protected readonly rng: Rng,
  ) {
    for (const c of this.all()) t.keys.set(c.uid, this.keyOf(c));
    for (const name of [...model.aggregates, ...met.bridges, ...met.sessions].map((one) => one.name))
      t.optionalValues.push(name);
  }

  protected all(): Carrier[] {
    const { model, met } = this;
    return [
      ...model.portTable.map(({ device }) => this.at(device)),
      ...model.vlans.map((vlan) => this.at(vlan.device, vlan)),
      ...[...model.aggregates, ...met.bridges, ...met.sessions].map(({ name }) =>
        this.at({ base: null, suffix: name }),
      ),
    ];
  }

  protected at(device: Device, vlan: Vlan | null = null): Carrier {
    const { met, t } = this;
    if (vlan)
      return { kind: 'vlan', uid: t.uid('vlan', t.vlanKey(vlan)), device: vlan.device, silent: vlan.silent, vlan };
    const named = (list: readonly { name: string }[]) => list.some(({ name }) => name === device.suffix);
    const kind =
      device.base !== null ? 'port' : named(met.bridges) ? 'bridge' : named(met.sessions) ? 'session' : 'agg';
    return { kind, uid: `${kind}:${device.base ?? device.suffix}`, device, silent: device.base === null, vlan: null };
  }

  protected keyOf({ kind, uid, vlan }: Carrier): string {
    const { met } = this;
    const counted = met.oneTable ? 'all' : kind;
    const number = this.numbers.get(counted) ?? 1;
    this.numbers.set(counted, number + 1);
    if (vlan && met.vlan === 'tag') return String(vlan.tag);
    switch (met.key) {
      case 'number':
        return String(number);
      case 'code':
        return `${{ port: 'pt', vlan: 'vn', agg: 'bu', bridge: 'sw', session: 'se' }[kind]}${number}`;
      case 'hex':
        return this.rng.fork(`key ${uid}`).hex(10);
      default:
        return `${{ port: 'Socket', vlan: 'Tagged', agg: 'Pair', bridge: 'Group', session: 'Dial' }[kind]} ${number}`;
    }
  }

  /** The field by which other records name the record; none where the device's name does. */
  protected ownKey(c: Carrier): Field[] {
    if (this.met.key === 'name' || (c.vlan && this.met.vlan === 'tag')) return [];
    const key = this.t.keys.get(c.uid) as string;
    return [this.met.key === 'label' ? this.t.free('label', key) : this.t.text('id', key)];
  }

  protected label(text: string): Field[] {
    return this.met.key === 'label' ? [] : this.t.label(text);
  }

  /** A name of what a network sits on, as other records write it. */
  protected token(c: Carrier, bind?: Token['bind']): Token {
    const { words } = this.t.d;
    const kind = c.kind === 'vlan' && this.met.vlan === 'unit' ? 'unit' : c.kind;
    const around = markOf(this.met, words.item(kind), words.container(kind));
    const isRecord = c.kind !== 'port' || this.met.portTable;
    const byName = this.met.key === 'name' || !isRecord;
    const to = isRecord && !(byName && c.silent) ? { to: c.uid } : {};
    const core: Token = byName
      ? { pre: '', post: '', device: c.device, silent: c.silent, ...to }
      : { pre: '', post: '', ...to };
    return { ...wrap(core, around), ...(bind ? { bind } : {}) };
  }

  /** A field that holds such a name. Numbers that each kind counts for itself stand in a field for each. */
  protected field(c: Carrier, concept: string, tokens: Token[]): Field {
    const { key, mark, oneTable } = this.met;
    if (key !== 'number' || mark !== 'none' || oneTable) return { concept, tokens };
    return { concept: `${concept}.${c.kind}`, compound: [concept, c.kind, 'id'], tokens };
  }

  protected name(c: Carrier): Field {
    return this.t.f('devname', { pre: '', post: '', device: c.device, silent: c.silent });
  }

  /** What people call a VLAN that lists its ports. */
  protected vlanName(vlan: Vlan): string {
    const names = ['amber', 'birch', 'cobalt', 'dune', 'ember', 'flint', 'grove', 'heron', 'indigo', 'jade', 'krill'];
    const at = this.model.vlans.indexOf(vlan);
    return (names[at % names.length] as string) + (at < names.length ? '' : 'two');
  }

  protected concept(kind: Seat): Seat {
    return this.met.oneTable ? 'port' : kind;
  }

  protected kind(kind: Seat): Field[] {
    return this.met.oneTable ? [this.t.text('kind', this.t.d.words.item(kind))] : [];
  }

  protected inner(concept: string, records: Rec[]): Coll {
    return { concept, section: '', tagField: null, records };
  }

  protected seat(c: Carrier, bind?: Token['bind']): Field {
    return this.field(c, 'device', [this.token(c, bind)]);
  }

  protected roleField(role: Role): Field {
    return this.t.viaField(this.t.ref('role', role.name));
  }

  protected bind(role: Role, device: Device): NonNullable<Token['bind']> {
    return { role: this.t.roleName(role), device };
  }

  /** Whether the record of a VLAN holds the name of its device: such as are not made of the port's have to. */
  protected isNamed({ device, parent }: Vlan): boolean {
    const { met } = this;
    return met.vlanNamed || !`${device.base ?? ''}${device.suffix}`.startsWith(parent.base ?? parent.suffix);
  }

  /** The device that the truth says a tagged network sits on; see the rules in the README. */
  protected bindTagged(role: Role, vlan: Vlan): NonNullable<Token['bind']> {
    const { met } = this;
    if (met.vlan === 'beside') return this.bind(role, vlan.parent);
    const isNamed =
      met.vlan === 'unit'
        ? met.key === 'name' && met.way !== 'held'
        : this.isNamed(vlan) || (met.key === 'name' && met.vlan !== 'tag' && met.way !== 'held');
    const { base, suffix } = vlan.parent;
    return this.bind(role, isNamed ? vlan.device : { base, suffix: `${suffix}.${vlan.tag}` });
  }

  protected isOn(role: Role, device: Device): boolean {
    return role.vlan === null && (role.device.base ?? role.device.suffix) === (device.base ?? device.suffix);
  }
}
