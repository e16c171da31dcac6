import type { Met } from '../meeting.ts';
import type { Model, Role, Vlan } from '../model.ts';
import type { Device } from '../ports.ts';
import type { Coll, Field, Rec, Token } from '../records.ts';
import type { Rng } from '../rng.ts';
import type { Carrier } from './carriers.ts';
import { MetNetworks } from './met-networks.ts';
import type { Terms } from './terms.ts';

/** Ports, networks and all between them, where these meet in further ways than `networkRecords` knows. */
export function meetingRecords(model: Model, t: Terms, met: Met, rng: Rng): Coll[] {
  return new Meetings(model, t, met, rng).records();
}

class Meetings extends MetNetworks {
  records(): Coll[] {
    const { met, model, t } = this;
    const coll = (concept: string, records: Rec[], tagField: string | null = null): Coll => ({
      concept,
      section: 'sec.net',
      tagField,
      records,
    });
    const ports = model.portTable.map((port) => this.portRecord(port));
    const vlans = met.vlan === 'beside' || met.vlan === 'unit' ? [] : model.vlans.map((vlan) => this.vlanRecord(vlan));
    const made = [
      ...model.aggregates.map((a) => this.groupRecord('agg', a, [t.text('mode', a.mode)])),
      ...met.bridges.map((b) => this.groupRecord('bridge', b, [])),
      ...met.sessions.map((s) => this.sessionRecord(s)),
    ];
    const rows = met.members === 'rows' ? this.memberRows() : [];
    const devices = met.oneTable
      ? [coll('port', [...ports, ...vlans, ...made])]
      : [
          coll('port', ports),
          coll('vlan', vlans),
          ...(['agg', 'bridge', 'session'] as const).map((kind) =>
            coll(
              kind,
              made.filter(({ concept }) => concept === kind),
            ),
          ),
        ];
    const joins = model.roles.map((role) =>
      t.rec(`join:${role.name}`, 'join', [
        this.roleField(role),
        ...this.seatFields(role),
        ...(met.aside ? [t.text('metric', String(10 + model.roles.indexOf(role))), ...t.enabled(true)] : []),
      ]),
    );
    const tagField = t.d.keys.role === 'name' ? 'name' : t.d.keys.role === 'int' ? null : 'id';
    return [
      ...devices,
      coll('member', rows),
      ...(met.way === 'inner network'
        ? []
        : [
            coll(
              'role',
              model.roles.map((role) => this.roleRecord(role)),
              tagField,
            ),
          ]),
      ...(met.way === 'join' ? [coll('join', joins)] : []),
    ];
  }

  private portRecord({ device, mac, speed, label }: Model['portTable'][number]): Rec {
    const { met, t, model } = this;
    const c = this.at(device);
    const at = model.portTable.findIndex((port) => port.device === device);
    const group = [...model.aggregates, ...met.bridges].find(({ members }) =>
      members.some(({ base }) => base === device.base),
    );
    const above = group && met.members === 'upwards' ? this.at({ base: null, suffix: group.name }) : null;
    const held = this.heldBy(device);
    return t.rec(
      c.uid,
      'port',
      [
        ...this.ownKey(c),
        ...(met.way === 'slot' ? [t.text('slot', String(at >> 2)), t.text('position', String((at % 4) + 1))] : []),
        this.name(c),
        ...this.kind('port'),
        ...(above ? [this.field(above, 'partof', [this.token(above)])] : []),
        { ...t.text('mac', mac), hardware: true },
        t.text('speed', speed),
        ...this.address(device),
        ...(met.way === 'members' && met.lists ? this.vlanLists(device) : []),
        ...held.fields,
        ...this.label(label),
      ],
      { colls: held.colls },
    );
  }

  private vlanRecord(vlan: Vlan): Rec {
    const { met, t } = this;
    const c = this.at(vlan.device, vlan);
    const parent = this.at(vlan.parent);
    const ownName = !met.carriers.has(vlan) && this.isNamed(vlan);
    const carriers = met.carriers.get(vlan);
    const role = this.model.roles.find((one) => one.vlan === vlan);
    const lists = (concept: string, devices: readonly Device[]): Field[] =>
      devices.length === 0
        ? []
        : [
            {
              ...this.field(
                this.at(devices[0] as Device),
                concept,
                devices.map((device) => this.token(this.at(device), role && this.bind(role, device))),
              ),
              list: true,
            },
          ];
    return t.rec(c.uid, this.concept('vlan'), [
      ...this.ownKey(c),
      ...(carriers ? [t.text('name', this.vlanName(vlan))] : [this.field(parent, 'parent', [this.token(parent)])]),
      t.text('tag', String(vlan.tag)),
      ...(ownName ? [this.name(c)] : []),
      ...this.kind('vlan'),
      ...(carriers && !met.lists ? [...lists('untagged', carriers.plain), ...lists('tagged', carriers.tagged)] : []),
      ...this.address(vlan.device),
      ...this.heldBy(vlan.device, vlan).fields,
      ...this.label(vlan.label),
    ]);
  }

  private groupRecord(
    kind: 'agg' | 'bridge',
    group: { name: string; label: string; members: readonly Device[] },
    more: readonly Field[],
  ): Rec {
    const { met, t } = this;
    const c = this.at({ base: null, suffix: group.name });
    const members = group.members.map((device) => this.at(device));
    const first = members[0] as Carrier;
    const held = this.heldBy(c.device);
    return t.rec(
      c.uid,
      this.concept(kind),
      [
        ...this.ownKey(c),
        this.name(c),
        ...this.kind(kind),
        ...(met.members === 'list'
          ? [
              {
                ...this.field(
                  first,
                  'members',
                  members.map((one) => this.token(one)),
                ),
                list: true,
              },
            ]
          : []),
        ...more,
        ...this.address(c.device),
        ...(met.way === 'members' && met.lists ? this.vlanLists(c.device) : []),
        ...held.fields,
        ...this.label(group.label),
      ],
      {
        colls: [
          ...held.colls,
          ...(met.members === 'children'
            ? [
                this.inner(
                  'member',
                  members.map((one) => t.rec(`${c.uid}/${one.uid}`, 'member', [this.seat(one)])),
                ),
              ]
            : []),
        ],
      },
    );
  }

  private sessionRecord({ name, over, login }: Met['sessions'][number]): Rec {
    const { t } = this;
    const c = this.at({ base: null, suffix: name });
    const lower = this.at(over);
    const held = this.heldBy(c.device);
    return t.rec(
      c.uid,
      this.concept('session'),
      [
        ...this.ownKey(c),
        this.name(c),
        ...this.kind('session'),
        this.field(lower, 'over', [this.token(lower)]),
        t.text('login', login),
        ...this.address(c.device),
        ...(this.met.way === 'members' && this.met.lists ? this.vlanLists(c.device) : []),
        ...held.fields,
      ],
      { colls: held.colls },
    );
  }

  /** Rows that say of each port what it is a part of. */
  private memberRows(): Rec[] {
    return [...this.model.aggregates, ...this.met.bridges].flatMap(({ name, members }) => {
      const group = this.at({ base: null, suffix: name });
      return members.map((device) =>
        this.t.rec(`member:${name}/${device.base}`, 'member', [
          this.field(group, 'partof', [this.token(group)]),
          this.seat(this.at(device)),
        ]),
      );
    });
  }

  /** What a record of a device says of the networks on it: their names, parts that name them, or the networks themselves. */
  private heldBy(device: Device, vlan: Vlan | null = null): { fields: Field[]; colls: Coll[] } {
    const { met, model, t } = this;
    const none = { fields: [], colls: [] };
    const same = (one: Device) => (one.base ?? one.suffix) === (device.base ?? device.suffix);
    const plain = vlan ? [] : model.roles.filter((role) => this.isOn(role, device));
    const tagged = vlan ? [] : model.roles.filter((role) => role.vlan !== null && same(role.vlan.parent));
    if (met.way === 'inner network') {
      const records = [...plain, ...tagged].map((role) => this.roleRecord(role));
      return { fields: [], colls: records.length > 0 ? [this.inner('role', records)] : [] };
    }
    if (met.way !== 'held') {
      if (met.vlan !== 'unit' || vlan) return none;
      const units = model.vlans.filter((one) => same(one.parent)).map((one) => this.unit(one));
      return { fields: [], colls: units.length > 0 ? [this.inner('unit', units)] : [] };
    }
    const names = (roles: readonly Role[]): Token[] =>
      roles.map((role) => ({
        ...t.ref('role', role.name),
        bind: role.vlan ? this.bindTagged(role, role.vlan) : this.bind(role, role.device),
      }));
    const listed = vlan
      ? model.roles.filter((role) => role.vlan === vlan)
      : met.vlan === 'beside'
        ? [...plain, ...tagged]
        : plain;
    const first = names(listed)[0];
    const fields = first ? [{ ...t.viaField(first), tokens: names(listed), list: met.vlan === 'beside' }] : [];
    const units =
      met.vlan === 'unit' && !vlan
        ? model.vlans
            .filter((one) => same(one.parent))
            .map((one) => this.unit(one, names(model.roles.filter((role) => role.vlan === one))))
        : [];
    return { fields, colls: units.length > 0 ? [this.inner('unit', units)] : [] };
  }

  /** A part of a port's record that holds a VLAN number. */
  private unit(vlan: Vlan, roles: readonly Token[] = []): Rec {
    const { t } = this;
    const via = roles[0] ? [{ ...t.viaField(roles[0]), tokens: roles }] : [];
    return t.rec(t.uid('vlan', t.vlanKey(vlan)), 'unit', [
      ...(this.met.way === 'held' ? [] : this.ownKey(this.at(vlan.device, vlan))),
      t.text('tag', String(vlan.tag)),
      ...via,
      ...this.label(vlan.label),
    ]);
  }
}
