import type { Dialect, Kind, Operator } from './dialect.ts';
import type { AddressSet, End, Maybe, Model, Role, Service, Vlan } from './model.ts';
import type { Device } from './ports.ts';
import type { Rng } from './rng.ts';

/** One item of a value: plain text, a device name, or the text by which a record is named. */
export interface Token {
  readonly pre: string;
  readonly post: string;
  readonly s?: string;
  readonly device?: Device;
  /** Written, but free to be reported or not. */
  readonly silent?: boolean;
  readonly to?: string;
  readonly gone?: Kind;
  /** A role sits on this device; said where the device, or the key of its record, is written. */
  readonly bind?: { readonly role: string; readonly device: Device };
}

export interface Field {
  readonly concept: string;
  /** More concepts, for a field whose word is made of several. */
  readonly compound?: readonly string[];
  readonly tokens: readonly Token[];
  readonly list?: boolean;
  readonly free?: boolean;
  readonly secret?: boolean;
  readonly certificate?: boolean;
  readonly hardware?: boolean;
  readonly optional?: boolean;
  /** Several lines, kept as they are. */
  readonly block?: boolean;
  readonly bool?: boolean;
}

export interface Rec {
  readonly uid: string;
  readonly concept: string;
  fields: Field[];
  singles: Rec[];
  colls: Coll[];
  hardware?: boolean;
  optional?: boolean;
}

export interface Coll {
  readonly concept: string;
  readonly section: string;
  readonly records: Rec[];
  /** The field whose value may serve as the record's own tag. */
  readonly tagField: string | null;
}

/** The model in the terms of one dialect, before any layout. */
export interface Doc {
  readonly singles: { readonly rec: Rec; readonly section: string }[];
  readonly colls: Coll[];
  readonly keyText: (uid: string) => string;
  readonly optionalValues: string[];
}

const KINDS: readonly Kind[] = [
  'port',
  'role',
  'vlan',
  'agg',
  'set',
  'svc',
  'sched',
  'rule',
  'gw',
  'ca',
  'cert',
  'user',
  'group',
];
const STEMS = ['x', 'obj', 'seg', 'r', 'k', 'q', 'it', 'w', 'zz', 'el', 'u', 'tk', 'm', 'h', 'bx'];

const T = (s: string): Token => ({ pre: '', post: '', s });
const wrap = (t: Token, o: Operator): Token => ({ ...t, pre: o.pre + t.pre, post: t.post + o.post });

export function buildRecords(model: Model, d: Dialect, root: Rng): Doc {
  const r = root.fork('records');
  const keys = new Map<string, string>();
  const optionalValues: string[] = [];
  const colls: Coll[] = [];
  const singles: Doc['singles'] = [];
  const portTable = model.portTable.length > 0 && (d.portTable || d.binding === 'link') ? model.portTable : [];
  const binding = d.binding === 'link' && portTable.length === 0 ? 'role' : d.binding;

  const stems = r.fork('stems').shuffle(STEMS);
  const uid = (kind: Kind, name: string): string => `${kind}:${name}`;
  const register = (kind: Kind, names: readonly string[], labels: readonly string[]): void => {
    const mode = d.keys[kind];
    // One stem for each kind: two kinds of record never share a code.
    const stem = (stems[KINDS.indexOf(kind)] as string) + (r.fork(`dash ${kind}`).chance(0.3) ? '-' : '');
    const drawn = r.fork(`keys ${kind}`);
    names.forEach((name, i) => {
      const key = {
        name: () => name,
        label: () => labels[i] as string,
        code: () => stem + (d.keyStart + i),
        hex: () => drawn.hex(d.hexDigits),
        uuid: () => uuidOf(drawn),
        int: () => String(d.keyStart + i),
      }[mode]();
      keys.set(uid(kind, name), key);
    });
  };
  const goneText = (kind: Kind, s: string): string => {
    const drawn = r.fork(`gone ${kind} ${s}`);
    switch (d.keys[kind]) {
      case 'hex':
        return drawn.hex(d.hexDigits);
      case 'uuid':
        return uuidOf(drawn);
      case 'int':
        return String(d.keyStart + 60 + drawn.int(0, 30));
      case 'code':
        return firstKey(kind).replace(/\d+$/, String(d.keyStart + 60 + drawn.int(0, 30)));
      default:
        return d.keys[kind] === 'name' ? s.replaceAll(' ', '-') : s;
    }
  };
  const firstKey = (kind: Kind): string => [...keys].find(([k]) => k.startsWith(`${kind}:`))?.[1] ?? 'x1';

  const vlanKey = (v: Vlan): string => `${v.device.base ?? ''}${v.device.suffix}`;
  register(
    'port',
    portTable.map((p) => p.device.base as string),
    [],
  );
  register(
    'role',
    model.roles.map((x) => x.name),
    model.roles.map((x) => x.label),
  );
  register('vlan', model.vlans.map(vlanKey), []);
  for (const [kind, list] of [
    ['agg', model.aggregates],
    ['set', model.sets],
    ['svc', model.services],
    ['sched', model.schedules],
    ['gw', model.gateways],
    ['ca', model.cas],
    ['cert', model.certs],
    ['user', model.users],
    ['group', model.groups],
  ] as const)
    register(
      kind,
      list.map((x) => x.name),
      list.map((x) => x.label),
    );
  register(
    'rule',
    model.rules.map((x) => x.uid),
    [],
  );

  const ref = (kind: Kind, name: string): Token => ({ pre: '', post: '', to: uid(kind, name) });
  const maybe = (kind: Kind, m: Maybe<{ name: string }>): Token =>
    'it' in m ? ref(kind, m.it.name) : { pre: '', post: '', s: goneText(kind, m.gone), gone: kind };
  const f = (concept: string, ...tokens: Token[]): Field => ({ concept, tokens });
  const text = (concept: string, s: string): Field => f(concept, T(s));
  const free = (concept: string, s: string): Field => ({ concept, tokens: [T(s)], free: true });
  const list = (concept: string, tokens: Token[]): Field => ({ concept, tokens, list: true });
  const flag = (concept: string, on: boolean): Field[] =>
    on
      ? [{ concept, tokens: [T(d.yes)], bool: true }]
      : d.no === null
        ? []
        : [{ concept, tokens: [T(d.no)], bool: true }];
  const enabled = (on: boolean): Field[] => (d.inverse ? flag('disabled', !on) : flag('enabled', on));
  const label = (s: string): Field[] => (d.labels && s !== '' ? [free('label', s)] : []);
  const rec = (id: string, concept: string, fields: Field[], more: Partial<Rec> = {}): Rec => ({
    uid: id,
    concept,
    fields: fields.filter((x) => x.tokens.length > 0),
    singles: [],
    colls: [],
    ...more,
  });

  /** The fields by which others name a record of this kind, and the one that people read. */
  const keyFields = (kind: Kind, name: string, lab: string): Field[] => {
    const key = keys.get(uid(kind, name)) as string;
    switch (d.keys[kind]) {
      case 'name':
        return [text('name', key), ...label(lab)];
      case 'label':
        return [free('label', key)];
      case 'code':
        return [text('id', key), ...(lab !== '' ? [free('label', lab)] : [])];
      default:
        return [text('id', key), text('name', name), ...label(lab)];
    }
  };
  /** How the role is called in a binding: by its name where it has one, else by its key. */
  const roleName = (x: Role): string => (d.keys.role === 'code' ? (keys.get(uid('role', x.name)) as string) : x.name);

  // --- Devices.
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

  // --- Named objects.
  const setEntries = (s: AddressSet): Field[] => {
    const literals = s.entries.flatMap((e) => ('s' in e ? [T(e.s)] : []));
    const nested = s.entries.flatMap((e) => ('set' in e ? [wrap(ref('set', e.set.name), d.setMark)] : []));
    return d.keys.set === 'int'
      ? [list('entries', literals), { ...list('set.ref', nested), compound: ['members', 'set'] }]
      : [list('entries', [...literals, ...nested])];
  };
  const svcEntries = (s: Service): Field[] => {
    const literals = s.entries.flatMap((e) => ('s' in e ? [T(e.s)] : []));
    const nested = s.entries.flatMap((e) => ('service' in e ? [ref('svc', e.service.name)] : []));
    return d.keys.svc === 'int'
      ? [list('entries', literals), { ...list('svc.ref', nested), compound: ['members', 'svc'] }]
      : [list('entries', [...literals, ...nested])];
  };
  const tagged = (kind: Kind): string | null =>
    d.keys[kind] === 'name' ? 'name' : d.keys[kind] === 'code' ? 'id' : null;
  colls.push(
    {
      concept: 'set',
      section: 'sec.policy',
      tagField: tagged('set'),
      records: model.sets.map((s) =>
        rec(uid('set', s.name), 'set', [...keyFields('set', s.name, s.label), ...setEntries(s)]),
      ),
    },
    {
      concept: 'svc',
      section: 'sec.policy',
      tagField: tagged('svc'),
      records: model.services.map((s) =>
        rec(uid('svc', s.name), 'svc', [...keyFields('svc', s.name, s.label), ...svcEntries(s)]),
      ),
    },
    {
      concept: 'sched',
      section: 'sec.policy',
      tagField: tagged('sched'),
      records: model.schedules.map((s) =>
        rec(uid('sched', s.name), 'sched', [
          ...keyFields('sched', s.name, s.label),
          text('span', s.span),
          text('days', s.days),
        ]),
      ),
    },
  );

  // --- Rules.
  const viaField = (t: Token): Field =>
    d.keys.role === 'int' ? { concept: 'role.ref', compound: ['role', 'id'], tokens: [t] } : f('via', t);
  const endTokens = (ends: readonly End[], negate: boolean): Token[] => {
    const not = negate && d.negation !== 'field' ? d.negation : { pre: '', post: '' };
    return ends.flatMap((e) => {
      switch (e.t) {
        case 'any':
          return d.any === null ? [] : [T(d.any)];
        case 'self':
          return [T(d.self)];
        case 'literal':
          return [wrap(T(e.s), not)];
        case 'net':
          return [wrap(wrap(ref('role', e.role.name), d.netOf), not)];
        case 'addr':
          return [wrap(wrap(ref('role', e.role.name), d.addressOf), not)];
        case 'set':
          return [wrap(wrap(ref('set', e.set.name), d.setMark), not)];
        case 'gone': {
          const kind = e.kind;
          const t: Token = { pre: '', post: '', s: goneText(kind, e.s), gone: kind };
          return [wrap(wrap(t, kind === 'set' ? d.setMark : d.netOf), not)];
        }
        default:
          return e satisfies never;
      }
    });
  };
  const endFields = (
    side: 'source' | 'dest',
    ends: readonly End[],
    negate: boolean,
    id: string,
  ): { fields: Field[]; single: Rec | null } => {
    const flags = negate && d.negation === 'field' ? flag(side === 'source' ? 'negsrc' : 'negdst', true) : [];
    if (d.ends === 'one')
      return { fields: [{ ...list(side, endTokens(ends, negate)), list: ends.length > 1 }, ...flags], single: null };
    const of = (kinds: readonly End['t'][]): Token[] =>
      endTokens(
        ends.filter((e) => kinds.includes(e.t)),
        negate,
      );
    const roles = ends.filter((e) => e.t === 'net' || e.t === 'addr' || (e.t === 'gone' && e.kind === 'role'));
    const roleTokens = roles.flatMap((e) =>
      e.t === 'net' || e.t === 'addr' ? [ref('role', e.role.name)] : endTokens([e], false),
    );
    const sets = ends.filter((e) => e.t === 'set' || (e.t === 'gone' && e.kind === 'set'));
    const setTokens = sets.flatMap((e) =>
      e.t === 'set'
        ? [ref('set', e.set.name)]
        : e.t === 'gone'
          ? [{ pre: '', post: '', s: goneText('set', e.s), gone: 'set' as Kind }]
          : [],
    );
    const literals = of(['literal', 'any', 'self']);
    if (d.ends === 'nested') {
      const inner: Field[] = [f('via', ...roleTokens), f('set.ref', ...setTokens), f('address', ...literals)].map(
        (x) => (x.concept === 'set.ref' ? { ...x, compound: ['set'] } : x),
      );
      return { fields: flags, single: rec(`${id}/${side}`, side, inner) };
    }
    return {
      fields: [
        {
          concept: `${side}.role`,
          compound: [side, 'role', ...(d.keys.role === 'int' ? ['id'] : [])],
          tokens: roleTokens,
        },
        { concept: `${side}.set`, compound: [side, 'set', ...(d.keys.set === 'int' ? ['id'] : [])], tokens: setTokens },
        { concept: side, tokens: literals, list: literals.length > 1 },
        ...flags,
      ],
      single: null,
    };
  };
  const rulesNamed = model.nats.some((n) => n.rule !== null) || d.keys.rule === 'int';
  const serviceFields = (service: Model['rules'][number]['service']): Field[] => {
    const literals = service.flatMap((s) => ('s' in s ? [T(s.s)] : []));
    const named = service.flatMap((s): Token[] =>
      'service' in s
        ? [ref('svc', s.service.name)]
        : 'gone' in s
          ? [{ pre: '', post: '', s: goneText('svc', s.gone), gone: 'svc' }]
          : [],
    );
    if (d.keys.svc !== 'int') return [{ ...list('service', [...named, ...literals]), list: service.length > 1 }];
    return [
      { ...list('svc.ref', named), compound: ['svc', 'id'], list: named.length > 1 },
      { ...list('service', literals), list: literals.length > 1 },
    ];
  };
  const idWord = (kind: Kind, concept: string, t: Token): Field =>
    d.keys[kind] === 'int' ? { concept: `${kind}.ref`, compound: [kind, 'id'], tokens: [t] } : f(concept, t);
  const ruleRoles = (x: Model['rules'][number]): Field[] => {
    if (x.role === null) return d.any === null || d.keys.role === 'int' ? [] : [f('via', T(d.any))];
    const tokens = [maybe('role', x.role), ...x.also.map((o) => ref('role', o.name))];
    return [{ ...viaField(tokens[0] as Token), tokens, list: tokens.length > 1 }];
  };
  colls.push({
    concept: 'rule',
    section: 'sec.policy',
    tagField: null,
    records: model.rules.map((x) => {
      const s = endFields('source', x.source, x.notSource, x.uid);
      const t = endFields('dest', x.dest, x.notDest, x.uid);
      return rec(
        uid('rule', x.uid),
        'rule',
        [
          ...(rulesNamed ? [text('id', keys.get(uid('rule', x.uid)) as string)] : []),
          text('action', x.action === 'permit' ? d.permit : d.deny),
          ...ruleRoles(x),
          ...(x.proto === null ? [] : [text('proto', x.proto)]),
          ...s.fields,
          ...t.fields,
          ...serviceFields(x.service),
          ...(x.when === null ? [] : [idWord('sched', 'when', maybe('sched', x.when))]),
          ...(x.gateway === null ? [] : [idWord('gw', 'gwref', ref('gw', x.gateway.name))]),
          ...label(x.label),
          ...enabled(x.enabled),
          ...(x.log ? flag('log', true) : []),
        ],
        { singles: [s.single, t.single].filter((q) => q !== null).filter((q) => q.fields.length > 0) },
      );
    }),
  });
  colls.push({
    concept: 'nat',
    section: 'sec.policy',
    tagField: null,
    records: model.nats.map((n, i) =>
      rec(`nat:${i}`, 'nat', [
        viaField(ref('role', n.role.name)),
        text('proto', n.proto),
        text('outport', String(n.outside)),
        'set' in n.target
          ? d.keys.set === 'int'
            ? { concept: 'set.ref', compound: ['set', 'id'], tokens: [ref('set', n.target.set.name)] }
            : f('inside', wrap(ref('set', n.target.set.name), d.setMark))
          : text('inside', n.target.s),
        text('inport', String(n.inside)),
        ...(n.rule === null ? [] : [idWord('rule', 'ruleref', ref('rule', n.rule.uid))]),
        ...label(n.label),
      ]),
    ),
  });

  // --- Services of the box.
  colls.push(
    {
      concept: 'pool',
      section: 'sec.svc',
      tagField: d.keys.role === 'name' || d.keys.role === 'code' ? 'via' : null,
      records: model.pools.map((p) =>
        rec(
          `pool:${p.role.name}`,
          'pool',
          [viaField(ref('role', p.role.name)), text('first', p.first), text('last', p.last)],
          {
            colls: [
              {
                concept: 'lease',
                section: '',
                tagField: null,
                records: p.leases.map((l, i) =>
                  rec(`lease:${p.role.name}:${i}`, 'lease', [
                    text('mac', l.mac),
                    text('ip', l.ip),
                    text('host', l.host),
                  ]),
                ),
              },
            ],
          },
        ),
      ),
    },
    {
      concept: 'gw',
      section: 'sec.net',
      tagField: tagged('gw'),
      records: model.gateways.map((g) =>
        rec(uid('gw', g.name), 'gw', [
          ...keyFields('gw', g.name, g.label),
          viaField(ref('role', g.role.name)),
          text('ip', g.ip),
          text('monitor', g.monitor),
          text('metric', String(g.metric)),
        ]),
      ),
    },
    {
      concept: 'route',
      section: 'sec.net',
      tagField: null,
      records: model.routes.map((x, i) =>
        rec(`route:${i}`, 'route', [
          text('network', x.network),
          idWord('gw', 'gwref', maybe('gw', x.gateway)),
          ...label(x.label),
        ]),
      ),
    },
  );

  // --- Trust.
  const pem = (s: string): { s: string; block: boolean } => {
    switch (d.pem) {
      case 'pem':
        return { s, block: true };
      case 'base64-pem':
        return { s: base64(`${s}\n`), block: false };
      default: {
        const body = s.split('\n').filter((l) => !l.startsWith('-----'));
        return d.pem === 'der' ? { s: body.join(''), block: false } : { s: body.join('\n'), block: true };
      }
    }
  };
  const blob = (concept: string, s: string, mark: 'secret' | 'certificate'): Field => {
    const p = pem(s);
    return { concept, tokens: [T(p.s)], block: p.block, [mark]: true };
  };
  const caKind = (c: { name: string; label: string }): Field[] => keyFields('ca', c.name, c.label);
  colls.push(
    {
      concept: 'ca',
      section: 'sec.trust',
      tagField: null,
      records: model.cas.map((c) =>
        rec(uid('ca', c.name), 'ca', [...caKind(c), blob('chain', c.pki.cert, 'certificate')]),
      ),
    },
    {
      concept: 'cert',
      section: 'sec.trust',
      tagField: null,
      records: model.certs.map((c) =>
        rec(uid('cert', c.name), 'cert', [
          ...keyFields('cert', c.name, c.label),
          idWord('ca', 'issuer', ref('ca', c.ca.name)),
          blob('chain', c.pki.cert, 'certificate'),
          blob('key', c.pki.key, 'secret'),
        ]),
      ),
    },
    {
      concept: 'user',
      section: 'sec.trust',
      tagField: tagged('user'),
      records: model.users.map((u) => {
        const key = keyFields('user', u.name, '');
        return rec(uid('user', u.name), 'user', [
          ...key,
          ...(d.labels || d.keys.user === 'code' ? [free('fullname', u.label)] : []),
          { ...text('hash', u.hash), secret: true },
          ...enabled(u.enabled),
        ]);
      }),
    },
    {
      concept: 'group',
      section: 'sec.trust',
      tagField: tagged('group'),
      records: model.groups.map((g) => {
        const members = list(
          'userref',
          g.members.map((m) => maybe('user', m)),
        );
        return rec(uid('group', g.name), 'group', [
          ...keyFields('group', g.name, g.label),
          d.keys.user === 'int' ? { ...members, concept: 'user.ref', compound: ['user', 'id'] } : members,
        ]);
      }),
    },
    {
      concept: 'vpn',
      section: 'sec.svc',
      tagField: 'name',
      records: model.servers.map((v) =>
        rec(`vpn:${v.name}`, 'vpn', [
          text('name', v.name),
          ...label(v.label),
          idWord('ca', 'caref', ref('ca', v.ca.name)),
          idWord('cert', 'certref', maybe('cert', v.cert)),
          viaField(ref('role', v.role.name)),
          text('tunnelnet', v.net),
          text('tlsport', String(v.port)),
          ...(v.group === null ? [] : [idWord('group', 'groupref', maybe('group', v.group))]),
        ]),
      ),
    },
    {
      concept: 'client',
      section: 'sec.svc',
      tagField: null,
      records: model.clients.map((c) =>
        rec(`client:${c.name}`, 'client', [
          text('name', c.name),
          ...label(c.label),
          text('remote', c.remote),
          viaField(ref('role', c.role.name)),
          list('allowed', c.networks.map(T)),
          { ...text('psk', c.psk), secret: true },
        ]),
      ),
    },
    {
      concept: 'peer',
      section: 'sec.svc',
      tagField: null,
      records: model.peers.map((p) =>
        rec(`peer:${p.name}`, 'peer', [
          text('name', p.name),
          text('pubkey', p.publicKey),
          { ...text('psk', p.psk), secret: true },
          list('allowed', p.networks.map(T)),
          ...label(p.label),
        ]),
      ),
    },
    {
      concept: 'ntp',
      section: 'sec.svc',
      tagField: null,
      records: model.ntp.map((h, i) => rec(`ntp:${i}`, 'ntp', [text('host', h), text('metric', String(i + 1))])),
    },
    {
      concept: 'tunable',
      section: 'sec.base',
      tagField: null,
      records: model.tunables.map((t) =>
        rec(
          `tunable:${t.name}`,
          'tunable',
          [text('name', t.name), text('value', t.value)],
          t.bound === 'yes' ? { hardware: true } : { optional: true },
        ),
      ),
    },
    {
      concept: 'remark',
      section: 'sec.base',
      tagField: null,
      records: model.remarks.map((m, i) =>
        rec(`remark:${i}`, 'remark', [
          { ...text('by', keyOr(keys, uid('user', m.by.name), m.by.name)), optional: true },
          text('time', m.time),
          free('label', m.text),
        ]),
      ),
    },
  );

  // --- One of a kind.
  const rolesField = (roles: readonly Role[]): Field => {
    const tokens = roles.map((x) => ref('role', x.name));
    return d.keys.role === 'int'
      ? { concept: 'roles.ref', compound: ['role', 'id'], tokens, list: true }
      : list('roles', tokens);
  };
  const one = (section: string, x: Rec): void => {
    singles.push({ rec: x, section });
  };
  const console_ = rec('console', 'console', [text('speed', model.console.speed), text('flow', model.console.flow)], {
    hardware: true,
  });
  one(
    'sec.base',
    rec(
      'general',
      'general',
      [
        text('host', model.host),
        text('domain', 'kestrelquay.example'),
        text('zone', 'Europe/Dublin'),
        list('resolver', ['192.0.2.53', '198.51.100.53'].map(T)),
        ...(model.serial === null ? [] : [{ ...text('serial', model.serial), optional: true }]),
        ...(model.licence === null ? [] : [{ ...text('licence', model.licence), optional: true }]),
      ],
      {
        singles: [
          console_,
          ...(model.boot === null
            ? []
            : [
                rec('boot', 'boot', [text('loader', model.boot.delay), text('disk', model.boot.disk)], {
                  hardware: true,
                }),
              ]),
          rec('admin', 'admin', [
            idWord('cert', 'certref', ref('cert', model.adminCert.name)),
            text('tlsport', String(model.adminPort)),
            text('keylife', '10'),
          ]),
        ],
      },
    ),
  );
  if (model.radius !== null)
    one(
      'sec.svc',
      rec('radius', 'radius', [rolesField(model.radius.roles)], {
        colls: [
          {
            concept: 'ap',
            section: '',
            tagField: null,
            records: model.radius.aps.map((a) =>
              rec(`ap:${a.name}`, 'ap', [
                text('name', a.name),
                text('ip', a.ip),
                { ...text('secret', a.secret), secret: true },
              ]),
            ),
          },
        ],
      }),
    );
  if (model.sensor !== null)
    one(
      'sec.svc',
      rec('sensor', 'sensor', [
        rolesField(model.sensor.roles),
        list('muted', model.sensor.muted.map(T)),
        list('families', model.sensor.families.map(T)),
      ]),
    );
  if (model.tunnelKey !== null)
    one(
      'sec.svc',
      rec('tunnelkey', 'data', [{ ...text('key', model.tunnelKey), secret: true }, text('tlsport', '51820')]),
    );
  if (model.dyn !== null)
    one(
      'sec.svc',
      rec('dyn', 'dyn', [
        viaField(ref('role', model.dyn.role.name)),
        text('url', model.dyn.url),
        text('login', model.dyn.login),
        { ...text('secret', model.dyn.password), secret: true },
      ]),
    );
  if (model.mail !== null)
    one(
      'sec.base',
      rec('mail', 'mail', [
        text('smtphost', model.mail.host),
        text('login', model.mail.login),
        { ...text('secret', model.mail.password), secret: true },
      ]),
    );
  if (model.history !== null) one('sec.base', rec('history', 'history', [text('value', model.history)]));
  if (model.saved !== null)
    one(
      'sec.base',
      rec('saved', 'saved', [
        text('time', model.saved.time),
        { ...text('by', keyOr(keys, uid('user', model.saved.by.name), model.saved.by.name)), optional: true },
        free('label', model.saved.label),
      ]),
    );

  return {
    singles,
    colls: colls.filter((c) => c.records.length > 0),
    keyText: (id) => {
      const key = keys.get(id);
      if (key === undefined) throw new Error(`no key for ${id}`);
      return key;
    },
    optionalValues: [...new Set(optionalValues)],
  };
}

function keyOr(keys: ReadonlyMap<string, string>, id: string, other: string): string {
  return keys.get(id) ?? other;
}

function uuidOf(r: Rng): string {
  return [8, 4, 4, 4, 12].map((n) => r.hex(n)).join('-');
}

function maskOf(prefix: number): string {
  const bits = prefix === 0 ? 0 : (0xffffffff << (32 - prefix)) >>> 0;
  return [24, 16, 8, 0].map((s) => (bits >>> s) & 255).join('.');
}

/** Standard base64 of ASCII text, RFC 4648 section 4. */
function base64(ascii: string): string {
  return btoa(ascii);
}
