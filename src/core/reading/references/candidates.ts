import { isKind } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';
import { eachToken } from '../names/tokens.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Facts, Given } from './facts.ts';

/** No field is tried on more keys. */
const MOST = 32;
/** Nor all fields together on many more, so that a file of thousands of fields costs no more than its length. */
const TOGETHER = 40_000;
const FEWEST = 4;

/** Keys by their index, each with the indices of the field's tokens that it holds. */
type Held = readonly (readonly [key: number, tokens: readonly number[]])[];

/** The keys that a field may name, each with the indices of the field's tokens that it holds: the likeliest of them. */
export function candidatesOf(field: FieldData, given: Given, facts: Facts): Held {
  if (given.switches.has(field) || given.nameless.has(field)) return [];
  const most = Math.max(FEWEST, Math.min(MOST, Math.floor(TOGETHER / given.fields.length)));
  return mostLikely([...keysHeld(field, given, facts, 2 * most)], most, given, facts, field);
}

/** Where very many keys have the field's tokens, those that have most, or the field's name. */
function mostLikely(found: Held, most: number, { keys }: Given, facts: Facts, field: FieldData): Held {
  if (found.length <= most) return found;
  const weight = new Map(
    found.map(([index, tokens]) => [index, tokens.length * (1 + 2 * facts.nameLikeness(field, keys.keys[index]!))]),
  );
  return [...found].sort((a, b) => weight.get(b[0])! - weight.get(a[0])!).slice(0, most);
}

/**
 * Keys that hold tokens of the field, with the indices of those tokens; a record's own key is left out.
 * @param most of the keys of one token.
 */
function keysHeld(
  field: FieldData,
  { keys, readers, devices, structure }: Given,
  { entries, ids }: Facts,
  most: number,
): Map<number, number[]> {
  const candidates = new Map<number, number[]>();
  // A part of a key has no place of its own; a derived device's own name names nothing else.
  // What says of what kind its records are names none.
  if (field.virtual || isKind(field) || devices.derivations.some(({ name }) => name === field.index)) return candidates;
  const reader = readers[field.index]!;
  const { tokens, kinds } = reader.counts;
  const numbers = ids[field.index]!;
  const own = new Uint8Array(tokens.length);
  let owns = false;
  // What lies in the only record of its kind need not name it.
  const isAroundAll = ({ rows, shape }: KeyField) => rows === 1 && lieIn(field.rowShape, shape, structure);
  for (let token = 0; token < tokens.length; token++) {
    if (tokens[token]!.length > 120) continue;
    const meant = reader.told?.[token] ?? -1;
    keys.from(
      entries[numbers[token]!]!,
      (index) => {
        const key = keys.keys[index]!;
        if (key.field === field || (meant !== -1 && meant !== index) || isAroundAll(key)) return;
        // An address that stands among names of records tells none of its own.
        if (kinds[token] === 'address' && key.kind === 'name') return;
        if (key.shape === field.rowShape) {
          own[token] = 1;
          owns = true;
          return;
        }
        const known = candidates.get(index);
        if (!known) candidates.set(index, [token]);
        else if (known[known.length - 1] !== token) known.push(token);
      },
      meant === -1 ? most : undefined,
    );
  }
  if (!owns) return candidates;
  // Of the records around, those that another record of them names.
  const named = new Map<number, Set<number>>();
  eachToken(field, reader, (_text, place, _from, token) => {
    if (own[token] === 0) return;
    const meant = reader.told?.[token] ?? -1;
    keys.from(entries[numbers[token]!]!, (index, row) => {
      const key = keys.keys[index]!;
      if (
        (meant !== -1 && meant !== index) ||
        key.field === field ||
        key.shape !== field.rowShape ||
        row === field.rows[place]
      )
        return;
      const known = named.get(index);
      if (known) known.add(token);
      else named.set(index, new Set([token]));
    });
  });
  for (const [index, set] of named) candidates.set(index, [...set]);
  return candidates;
}

/** Whether records of one shape lie in those of another. */
function lieIn(inner: number, outer: number, { shapes }: Structure): boolean {
  let at = inner === -1 ? -1 : shapes[inner]!.above;
  while (at !== -1 && at !== outer) at = shapes[at]!.above;
  return at !== -1;
}
