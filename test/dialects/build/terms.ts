import type { Dialect, Kind } from '../dialect.ts';
import type { Maybe, Model, Role, Vlan } from '../model.ts';
import { type Field, type Rec, T, type Token } from '../records.ts';
import type { Rng } from '../rng.ts';

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

export type Terms = ReturnType<typeof termsOf>;

/** The vocabulary of building: the keys that this dialect gives the records, and short ways to make fields. */
export function termsOf(model: Model, d: Dialect, root: Rng) {
  const r = root.fork('records');
  const keys = new Map<string, string>();
  const optionalValues: string[] = [];
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
      case 'name':
        // Named certificates are numbered; what is gone looks like the rest.
        return kind === 'cert' ? `cert${drawn.int(7, 9)}` : s;
      default:
        return s;
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
  const tagged = (kind: Kind): string | null =>
    d.keys[kind] === 'name' ? 'name' : d.keys[kind] === 'code' ? 'id' : null;
  const viaField = (t: Token): Field =>
    d.keys.role === 'int' ? { concept: 'role.ref', compound: ['role', 'id'], tokens: [t] } : f('via', t);
  const idWord = (kind: Kind, concept: string, t: Token): Field =>
    d.keys[kind] === 'int' ? { concept: `${kind}.ref`, compound: [kind, 'id'], tokens: [t] } : f(concept, t);

  /** Where words say nothing, only a value that looks like one can be told for a secret. */
  const wordless = d.words.fields === 'opaque' || d.words.fields === 'letters';
  const secret = (concept: string, s: string): Field =>
    wordless && !/^[A-Za-z0-9+/]{16,}$/.test(s)
      ? { ...text(concept, s), optional: true }
      : { ...text(concept, s), secret: true };

  return {
    d,
    wordless,
    secret,
    portTable,
    binding,
    optionalValues,
    keys,
    uid,
    vlanKey,
    goneText,
    ref,
    maybe,
    f,
    text,
    free,
    list,
    flag,
    enabled,
    label,
    rec,
    keyFields,
    roleName,
    tagged,
    viaField,
    idWord,
  };
}

function uuidOf(r: Rng): string {
  return [8, 4, 4, 4, 12].map((n) => r.hex(n)).join('-');
}
