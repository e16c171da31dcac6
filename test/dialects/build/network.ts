import type { Kind } from '../dialect.ts';
import type { Model, Role, Vlan } from '../model.ts';
import type { Device } from '../ports.ts';
import type { Coll, Field, Token } from '../records.ts';
import type { Terms } from './terms.ts';

/** Ports, roles and what they sit on. */
export function networkRecords(model: Model, t: Terms): Coll[] {
  const {
    d,
    portTable,
    binding,
    optionalValues,
    keys,
    uid,
    vlanKey,
    ref,
    f,
    text,
    list,
    enabled,
    label,
    rec,
    keyFields,
    roleName,
  } = t;
  const colls: Coll[] = [];
  const portRef = (device: Device): string | undefined =>
    portTable.length > 0 && device.base !== null && device.suffix === '' ? uid('port', device.base) : undefined;
  const deviceToken = (device: Device, vlan: Vlan | null, silent: boolean): Token => {
    if (silent) optionalValues.push(`${device.base ?? ''}${device.suffix}`);
    const to = silent
      ? undefined
      : vlan !== null && binding !== 'inline'
        ? uid('vlan', vlanKey(vlan))
        : portRef(device);
    return { pre: '', post: '', device, silent, ...(to === undefined ? {} : { to }) };
  };
  const linkField = (device: Device, vlan: Vlan | null, bind?: Token['bind']): Field => {
    const kind: Kind = vlan ? 'vlan' : device.base === null ? 'agg' : 'port';
    const to = kind === 'vlan' ? uid('vlan', vlanKey(vlan as Vlan)) : uid(kind, device.base ?? device.suffix);
    return {
      concept: `${kind}.ref`,
      compound: [kind, 'id'],
      tokens: [{ pre: '', post: '', to, ...(bind ? { bind } : {}) }],
    };
  };
  /** The key of a device record is its name, or an identifier beside the name. */
  const deviceKey = (kind: Kind, key: string): Field[] =>
    d.keys[kind] === 'name' || d.keys[kind] === 'label' || d.keys[kind] === 'code'
      ? []
      : [text('id', keys.get(uid(kind, key)) as string)];
  const linked = binding === 'link' && (d.keys.vlan === 'int' || d.keys.vlan === 'hex' || d.keys.vlan === 'uuid');

  if (portTable.length > 0)
    colls.push({
      concept: 'port',
      section: 'sec.net',
      tagField: null,
      records: portTable.map((p) =>
        rec(uid('port', p.device.base as string), 'port', [
          ...deviceKey('port', p.device.base as string),
          { concept: linked ? 'name' : 'devname', tokens: [{ pre: '', post: '', device: p.device }] },
          { ...text('mac', p.mac), hardware: true },
          text('speed', p.speed),
          ...label(p.label),
        ]),
      ),
    });

  const bindOf = (x: Role): NonNullable<Token['bind']> => {
    const device = binding === 'inline' && x.vlan !== null ? x.vlan.parent : x.device;
    return { role: roleName(x), device };
  };
  const roleDevice = (x: Role): Field[] => {
    const bind = bindOf(x);
    if (linked) return [linkField(x.device, x.vlan, bind)];
    const silent = x.onAggregate || (x.vlan?.silent ?? false);
    const t = { ...deviceToken(bind.device, binding === 'inline' ? null : x.vlan, silent), bind };
    const out = [f('device', t)];
    if (binding === 'inline' && x.vlan !== null) out.push(text('tag', String(x.vlan.tag)));
    return out;
  };
  const addressFields = (x: Role): Field[] => {
    switch (d.addressForm) {
      case 'cidr':
        return [text('address', `${x.address}/${x.prefix}`)];
      case 'mask':
        return [text('address', x.address), text('prefix', maskOf(x.prefix))];
      default:
        return [text('address', x.address), text('prefix', String(x.prefix))];
    }
  };
  colls.push({
    concept: 'role',
    section: 'sec.net',
    tagField: d.keys.role === 'name' ? 'name' : d.keys.role === 'int' ? null : 'id',
    records: model.roles.map((x) =>
      rec(uid('role', x.name), 'role', [
        ...keyFields('role', x.name, x.label),
        ...enabled(x.enabled),
        ...(binding === 'join' ? [] : roleDevice(x)),
        ...addressFields(x),
        ...(x.mtu === null ? [] : [text('mtu', String(x.mtu))]),
        ...(x.mac === null ? [] : [{ ...text('mac', x.mac), hardware: true }]),
      ]),
    ),
  });
  if (binding === 'join')
    colls.push({
      concept: 'join',
      section: 'sec.net',
      tagField: null,
      records: model.roles.map((x) => rec(`join:${x.name}`, 'join', [f('via', ref('role', x.name)), ...roleDevice(x)])),
    });
  if (binding !== 'inline')
    colls.push({
      concept: 'vlan',
      section: 'sec.net',
      tagField: null,
      records: model.vlans.map((v) =>
        rec(uid('vlan', vlanKey(v)), 'vlan', [
          ...deviceKey('vlan', vlanKey(v)),
          linked ? linkField(v.parent, null) : f('parent', deviceToken(v.parent, null, v.parent.base === null)),
          text('tag', String(v.tag)),
          // A device that is called by a name of its own has to carry it.
          ...(d.vlanDevice || linked || v.device.base === null
            ? [f('devname', { pre: '', post: '', device: v.device, silent: v.silent })]
            : []),
          ...label(v.label),
        ]),
      ),
    });
  colls.push({
    concept: 'agg',
    section: 'sec.net',
    tagField: d.keys.agg === 'name' ? 'name' : null,
    records: model.aggregates.map((a) => {
      optionalValues.push(a.name);
      const key =
        d.keys.agg === 'name' || d.keys.agg === 'code' || d.keys.agg === 'label'
          ? []
          : [text('id', keys.get(uid('agg', a.name)) as string)];
      return rec(uid('agg', a.name), 'agg', [
        ...key,
        text('name', a.name),
        list(
          'members',
          a.members.map((m) => deviceToken(m, null, false)),
        ),
        text('mode', a.mode),
        ...label(a.label),
      ]);
    }),
  });

  return colls;
}

export function maskOf(prefix: number): string {
  const bits = prefix === 0 ? 0 : (0xffffffff << (32 - prefix)) >>> 0;
  return [24, 16, 8, 0].map((s) => (bits >>> s) & 255).join('.');
}
