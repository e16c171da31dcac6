import type { Role, Vlan } from '../model.ts';
import type { Device } from '../ports.ts';
import { type Field, type Rec, T, type Token } from '../records.ts';
import { Carriers } from './carriers.ts';
import { maskOf } from './network.ts';

/** The records of networks, and what they say of where they sit. */
export class MetNetworks extends Carriers {
  /** The VLANs of a port: the one without a tag, and those with one. */
  protected vlanLists(device: Device): Field[] {
    const carries = (list: readonly Device[]) =>
      list.some(({ base, suffix }) => base === device.base && suffix === device.suffix);
    const tokens = (side: 'plain' | 'tagged'): Token[] =>
      [...this.met.carriers]
        .filter(([, carriers]) => carries(carriers[side]))
        .map(([vlan]) => {
          const role = this.model.roles.find((one) => one.vlan === vlan);
          return this.vlanToken(vlan, role && this.bind(role, device));
        });
    return (['plain', 'tagged'] as const).flatMap((side) => {
      const list = tokens(side);
      return list.length > 0 ? [{ ...this.vlanField(side === 'plain' ? 'untagged' : 'tagged', list), list: true }] : [];
    });
  }

  /** A VLAN by its number, or by its key, or by its name. */
  protected vlanToken(vlan: Vlan, bind?: Token['bind']): Token {
    const { met, t } = this;
    const to = t.uid('vlan', t.vlanKey(vlan));
    const text = met.vlan === 'tag' ? String(vlan.tag) : met.key === 'name' ? this.vlanName(vlan) : undefined;
    return { ...T(''), s: text, to, ...(bind ? { bind } : {}) };
  }

  protected vlanField(concept: string, tokens: Token[]): Field {
    return this.met.vlan === 'tag' || this.met.key === 'number'
      ? { concept: `${concept}.vlan`, compound: [concept, 'vlan', this.met.vlan === 'tag' ? 'tag' : 'id'], tokens }
      : { concept, tokens };
  }

  /** Where a network, or what stands for it, says what it sits on. */
  protected seatFields(role: Role): Field[] {
    const { met, t, model } = this;
    const { vlan } = role;
    if (met.way === 'members' && vlan) {
      const token = this.vlanToken(vlan);
      return [this.vlanField('via', [token])].map((field) =>
        field.compound ? field : { ...field, compound: ['vlan'] },
      );
    }
    const below = this.at(
      vlan && met.vlan === 'beside' ? vlan.parent : role.device,
      vlan && met.vlan !== 'beside' ? vlan : null,
    );
    const bind = vlan ? this.bindTagged(role, vlan) : this.bind(role, role.device);
    const tag = vlan ? [t.text('tag', String(vlan.tag))] : [];
    if (met.way === 'slot' && below.kind === 'port') {
      const at = model.portTable.findIndex(({ device }) => device.base === below.device.base);
      const numbers = [t.f('slot', { ...T(String(at >> 2)), bind }), t.text('position', String((at % 4) + 1))].map(
        (field) => ({ ...field, optional: true }),
      );
      return [...numbers, ...tag];
    }
    if (!vlan) return [this.seat(below, bind)];
    if (met.vlan === 'beside') return [this.seat(below, bind), ...tag];
    if (met.vlan === 'tag') return [t.f('tag', { ...T(String(vlan.tag)), to: below.uid, bind })];
    return [this.seat(below, bind)];
  }

  protected addressFields(address: string, prefix: number): Field[] {
    const { d, text } = this.t;
    switch (d.addressForm) {
      case 'cidr':
        return [text('address', `${address}/${prefix}`)];
      case 'mask':
        return [text('address', address), text('prefix', maskOf(prefix))];
      default:
        return [text('address', address), text('prefix', String(prefix))];
    }
  }

  /** Where zones list devices, these have the addresses. */
  protected address(device: Device): Field[] {
    if (this.met.way !== 'zone') return [];
    const same = (one: Device) => one.base === device.base && one.suffix === device.suffix;
    const role = this.model.roles.find((one) => same(one.device));
    if (role) return this.addressFields(role.address, role.prefix);
    const more = [...this.met.more.values()].flat().find((one) => same(one.device));
    return more ? this.addressFields(more.address, 24) : [];
  }

  protected roleRecord(role: Role): Rec {
    const { met, t } = this;
    const fields = t.keyFields('role', role.name, role.label);
    const enabled = t.enabled(role.enabled);
    const id = t.uid('role', role.name);
    if (met.way === 'zone') {
      const devices = [role.device, ...(met.more.get(role) ?? []).map(({ device }) => device)];
      const tokens = devices.map((device) =>
        this.token(this.at(device, device === role.device ? role.vlan : null), this.bind(role, device)),
      );
      return t.rec(id, 'role', [...fields, ...enabled, t.list('members', tokens)]);
    }
    const seat = ['held', 'join', 'inner port', 'inner network'].includes(met.way) ? [] : this.seatFields(role);
    const tagged = role.vlan !== null && met.vlan === 'beside';
    const tag = tagged && ['held', 'inner network'].includes(met.way) ? [this.ownTag(role, role.vlan as Vlan)] : [];
    const address = this.addressFields(role.address, role.prefix);
    return t.rec(
      id,
      'role',
      [
        ...fields,
        ...enabled,
        ...seat,
        ...tag,
        ...(met.way === 'inner network' && role.vlan === null ? this.boundHere(role, address) : address),
        ...(role.mtu === null ? [] : [t.text('mtu', String(role.mtu))]),
        ...(role.mac === null ? [] : [{ ...t.text('mac', role.mac), hardware: true }]),
      ],
      met.way === 'inner port'
        ? { colls: [this.inner('seat', [t.rec(`seat:${role.name}`, 'seat', this.seatFields(role))])] }
        : {},
    );
  }

  /** The VLAN number of a network that lies in its port, or is named by it. */
  protected ownTag(role: Role, vlan: Vlan): Field {
    const bind = this.met.way === 'inner network' ? { bind: this.bind(role, vlan.parent) } : {};
    return this.t.f('tag', { ...T(String(vlan.tag)), ...bind });
  }

  /** The fields of a network that lies in its port, the first of which says so. */
  protected boundHere(role: Role, [first, ...rest]: readonly Field[]): Field[] {
    const { tokens } = first as Field;
    return [
      { ...(first as Field), tokens: [{ ...(tokens[0] as Token), bind: this.bind(role, role.device) }] },
      ...rest,
    ];
  }
}
