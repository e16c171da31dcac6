import { type FlatColumn, type FlatNode, isFieldName, marksType } from './flat-columns.ts';
import { kindOf } from './literals.ts';

/** Share of the triples that have to be in order. */
const MOSTLY = 0.9;
/** Names of fields there are at least, and triples for each thing on average. */
const FIELDS = 4;
const FACTS = 2.2;
/** Share of a field's values that are of its kind. */
const ONE_KIND = 0.7;

interface Roles {
  readonly subject: FlatColumn;
  readonly predicate: FlatColumn;
  readonly object: FlatColumn;
}

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
  for (const [at, name] of subject.values.entries()) {
    const own = things.get(name);
    if (own) own.push(at);
    else things.set(name, [at]);
  }
  // What things are called first tells them apart, unless no other speaks of them by it.
  const named = object.values.some((value) => things.has(value));
  const kindOfThing = kindsOf(things, roles);
  return [...things].map(([name, own]): FlatNode => {
    const kind = kindOfThing(name);
    const first = own[0]!;
    const leaf = (at: number, step: string, { sites }: FlatColumn): FlatNode => ({
      name: step,
      element: nodes[at]!,
      site: sites[at]!,
      below: [],
    });
    const called = leaf(first, subject.step, subject);
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
  for (const predicate of columns) {
    const names = new Set(predicate.values);
    if (names.size < FIELDS || names.size * 2 > predicate.values.length) continue;
    if ([...names].some((name) => !isFieldName(name))) continue;
    for (const subject of columns) {
      const rest = columns.filter((column) => column !== predicate && column !== subject);
      const [object, ...others] = rest.length === 1 ? rest : rest.filter((column) => !marksType(column));
      if (subject === predicate || !object || others.length > 0) continue;
      if (areTriples({ subject, predicate, object })) return { subject, predicate, object };
    }
  }
  return null;
}

/** Whether things have several fields each, nearly each field once, and its values are of one kind, not that of all others. */
function areTriples({ subject, predicate, object }: Roles): boolean {
  const all = subject.values.length;
  if (subject.values.some((value) => value === '')) return false;
  const things = new Set(subject.values);
  if (things.size * FACTS > all || things.size < 3) return false;
  const facts = new Set(subject.values.map((name, at) => `${name}\n${predicate.values[at]}`));
  if (facts.size < all * 0.6) return false;
  const kinds = new Map<string, Map<string, number>>();
  for (const [at, name] of predicate.values.entries()) {
    const value = object.values[at]!;
    if (value === '') continue;
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
  { predicate, object }: Roles,
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
  for (const of of [words, ...told.values()]) {
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
