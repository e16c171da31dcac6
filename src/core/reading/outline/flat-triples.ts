import { kindOf } from '../names/literals.ts';
import { type FlatColumn, type FlatNode, isFieldName, marksType } from './flat-columns.ts';

/** Share of the triples that have to be in order. */
const MOSTLY = 0.9;
/** Names of fields there are at least, and triples for each thing on average. */
const FIELDS = 4;
const FACTS = 2.2;
/** Share of a field's values that are of its kind. */
const ONE_KIND = 0.7;

/** Kinds of thing that a column tells are no more than these, and have so many triples on average. */
const KINDS = 40;
const OF_KIND = 4;

interface Roles {
  readonly subject: FlatColumn;
  readonly predicate: FlatColumn;
  readonly object: FlatColumn;
  /** What says of which kind the subject is, which then is a name among its kind only. */
  readonly kind: FlatColumn | null;
  /** A column that only marks something: of what type the object is, or of what kind the subject. */
  readonly mark: FlatColumn | null;
}

/** For each triple which thing it is about. */
const thingsIn = ({ subject, kind }: Pick<Roles, 'subject' | 'kind'>): readonly string[] =>
  kind ? subject.values.map((name, at) => `${kind.values[at]}\n${name}`) : subject.values;

/**
 * Things that are written as triples: `<fact of="zone3" is="port" to="eth1"/>`. Each thing becomes a record, by the first of
 * its triples, called by what the triples say that it is, or by what its name begins with. Null for anything else.
 * @param tag the name of the elements.
 */
export function triplesOf(nodes: readonly number[], columns: readonly FlatColumn[], tag: string): FlatNode[] | null {
  const roles = rolesOf(columns);
  if (!roles) return null;
  const { subject, predicate, object } = roles;
  const things = new Map<string, number[]>();
  for (const [at, thing] of thingsIn(roles).entries()) {
    const own = things.get(thing);
    if (own) own.push(at);
    else things.set(thing, [at]);
  }
  // What things are called first tells them apart, unless no other speaks of them by it.
  const names = new Set(subject.values);
  const named = object.values.some((value) => names.has(value));
  const kindOfThing = roles.kind ? null : kindsOf(things, roles);
  return [...things].map(([thing, own]): FlatNode => {
    const first = own[0]!;
    const kind = kindOfThing ? kindOfThing(thing) : roles.kind!.values[first]!;
    const leaf = (at: number, step: string, { sites }: FlatColumn): FlatNode => ({
      name: step,
      element: nodes[at]!,
      site: sites[at]!,
      below: [],
    });
    const again = own.slice(1).flatMap((at) => subject.sites[at] ?? []);
    const called = { ...leaf(first, subject.step, subject), again };
    const facts = own.map((at) => leaf(at, predicate.values[at]!, object));
    return {
      name: kind === null ? tag : `${tag}{${kind}}`,
      element: nodes[first]!,
      site: null,
      below: named ? [called, ...facts] : [...facts, called],
    };
  });
}

function rolesOf(columns: readonly FlatColumn[]): Roles | null {
  if (columns.length < 3 || columns.length > 4) return null;
  const withKind: Roles[] = [];
  let without: Roles | null = null;
  for (const predicate of columns) {
    const names = new Set(predicate.values);
    if (names.size < FIELDS || names.size * 2 > predicate.values.length) continue;
    if ([...names].some((name) => !isFieldName(name))) continue;
    for (const subject of columns) {
      if (subject === predicate) continue;
      const rest = columns.filter((column) => column !== predicate && column !== subject);
      const [object, ...others] = rest.length === 1 ? rest : rest.filter((column) => !marksType(column));
      const mark = rest.find((column) => column !== object) ?? null;
      const plain = { subject, predicate, object: object!, kind: null, mark };
      if (object && others.length === 0 && areTriples(plain)) {
        if (columns.length === 3 || standTogether(plain)) return plain;
        without ??= plain;
      }
      const [one, two] = rest;
      if (two && tellsKind(one!, subject)) withKind.push({ subject, predicate, object: two, kind: one!, mark: null });
      if (two && tellsKind(two, subject)) withKind.push({ subject, predicate, object: one!, kind: two, mark: null });
    }
  }
  return withKind.find((roles) => standTogether(roles) && areTriples(roles)) ?? without;
}

/** Whether all that is said of each thing stands together, nothing twice. */
function standTogether(roles: Roles): boolean {
  const about = thingsIn(roles);
  const runs = about.filter((thing, at) => thing !== about[at - 1]).length;
  const facts = new Set(about.map((thing, at) => `${thing}\n${roles.predicate.values[at]}`));
  return runs === new Set(about).size && facts.size === about.length;
}

/** Whether a column may tell the kinds of things: few words, fewer than things, each many times. */
const tellsKind = ({ values }: FlatColumn, subject: FlatColumn): boolean => {
  const kinds = new Set(values);
  if (kinds.size < 2 || kinds.size > KINDS || kinds.size * OF_KIND > values.length) return false;
  return kinds.size < new Set(subject.values).size && [...kinds].every(isFieldName);
};

/** Whether things have several fields each, nearly each field once, and its values are of one kind, not that of all others. */
function areTriples({ subject, predicate, object, kind }: Omit<Roles, 'mark'>): boolean {
  const all = subject.values.length;
  if (subject.values.some((value) => value === '')) return false;
  const about = thingsIn({ subject, kind });
  const things = new Set(about);
  if (things.size * FACTS > all || things.size < 3) return false;
  const facts = new Set(about.map((thing, at) => `${thing}\n${predicate.values[at]}`));
  if (facts.size < all * 0.6) return false;
  const kinds = new Map<string, Map<string, number>>();
  for (const [at, field] of predicate.values.entries()) {
    const value = object.values[at]!;
    if (value === '') continue;
    const name = kind ? `${kind.values[at]} ${field}` : field;
    let own = kinds.get(name);
    if (!own) {
      own = new Map();
      kinds.set(name, own);
    }
    own.set(kindOf(value), (own.get(kindOf(value)) ?? 0) + 1);
  }
  let pure = 0;
  let told = 0;
  const most = new Set<string>();
  for (const own of kinds.values()) {
    const sum = [...own.values()].reduce((one, two) => one + two, 0);
    const [kind, count] = [...own].sort((one, two) => two[1] - one[1])[0]!;
    told += sum;
    if (count >= sum * ONE_KIND) pure += sum;
    if (sum > 1) most.add(kind);
  }
  return pure >= told * MOSTLY && most.size > 1;
}

/** What each thing is: by a field that all have and that tells things of other fields apart, else by the word before a number. */
function kindsOf(
  things: ReadonlyMap<string, readonly number[]>,
  { predicate, object, mark }: Roles,
): (name: string) => string | null {
  let best: { of: Map<string, string>; alike: number } | null = null;
  const fieldsOf = new Map([...things].map(([name, own]) => [name, new Set(own.map((at) => predicate.values[at]!))]));
  const told = new Map<string, Map<string, string>>();
  for (const [name, own] of things)
    for (const at of own) {
      const field = predicate.values[at]!;
      const of = told.get(field) ?? new Map<string, string>();
      told.set(field, of.set(name, object.values[at]!));
    }
  const words = new Map(
    [...things.keys()].flatMap((name) => {
      const word = /^(.*[^\d\s])\d+$/.exec(name)?.[1];
      return word === undefined ? [] : [[name, word.replace(/[^\p{L}]+$/u, '')] as const];
    }),
  );
  const marked = new Map(
    [...things].flatMap(([name, own]) => {
      const marks = new Set(own.map((at) => mark?.values[at] ?? ''));
      return marks.size === 1 ? [[name, [...marks][0]!] as const] : [];
    }),
  );
  for (const of of [marked, words, ...told.values()]) {
    const kinds = new Set(of.values());
    if (of.size < things.size * MOSTLY || kinds.size * 2.5 > things.size || kinds.size < 2) continue;
    const alike = alikeness(of, fieldsOf);
    if (alike > (best?.alike ?? alikeness(new Map([...things.keys()].map((name) => [name, ''])), fieldsOf) + 0.1))
      best = { of, alike };
  }
  return (name) => best?.of.get(name) ?? null;
}

/** Mean share of the fields of a kind that its things have: 0 to 1. */
function alikeness(kinds: ReadonlyMap<string, string>, fieldsOf: ReadonlyMap<string, ReadonlySet<string>>): number {
  const groups = new Map<string, ReadonlySet<string>[]>();
  for (const [name, kind] of kinds) groups.set(kind, [...(groups.get(kind) ?? []), fieldsOf.get(name)!]);
  let sum = 0;
  for (const group of groups.values()) {
    const all = new Set(group.flatMap((fields) => [...fields]));
    sum += group.reduce((one, fields) => one + fields.size, 0) / all.size;
  }
  return sum / kinds.size;
}
