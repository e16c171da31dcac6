import { switchSense } from '../../checks/facts/enabled.ts';
import { once } from '../../checks/facts/once.ts';
import { siteKey } from '../../compile/edits.ts';
import type { Decision } from '../../plan/plan.ts';
import { type FieldData, leafName } from '../../reading/fields/fields.ts';
import { type FieldKind, fieldType } from '../../reading/fields/value-types.ts';
import type { Reading } from '../../reading/reading.ts';
import { hiddenIn } from '../../reading/secrets/secrets-in-text.ts';
import { isBooleanPair, otherBoolean, parseBoolean } from '../../values/booleans.ts';
import { isOfKind } from '../../values/classify.ts';
import { type AsWritten, asWritten } from '../../values/material-form.ts';
import { wordsOf } from '../../values/name-words.ts';
import { siteAt, sitePath } from '../../xml/path.ts';
import { TAG, valueAt } from '../../xml/site.ts';
import { isWithin } from '../../xml/tree.ts';
import type { Backup } from './open.ts';

/** What a value may be, by what other records have in the same field. */
export interface ValueHint {
  /** The most telling kind that the field's values have in common. */
  readonly kind: FieldKind;
  /** The different values of a field that has few; none for a secret. */
  readonly choices: readonly string[];
  /** Whether the value that is asked about is of the kind, or one of the few. */
  readonly fits: boolean;
}

const MOST_CHOICES = 12;
const few = new Set<FieldKind>(['enumeration', 'boolean']);

const fieldsBySite = once((reading): ReadonlyMap<string, FieldData> => {
  const fields = new Map<string, FieldData>();
  for (const field of reading.values.fields)
    for (let place = 0; !field.begins && place < field.nodes.length; place++)
      fields.set(siteKey({ node: field.nodes[place]!, attr: field.attrs[place]! }), field);
  return fields;
});

/**
 * How a new value at a place compares with the values that other records have in the same field. Null where the place is
 * not there or its field has too few values to say anything. A value that does not fit may still be meant: it is said,
 * not refused.
 */
export function valueHint({ tree }: Backup, reading: Reading, path: string, value: string): ValueHint | null {
  const site = siteAt(tree, path);
  const field = site && fieldsBySite(reading).get(siteKey(site));
  if (!field || field.values.length < 3) return null;
  const { kind } = fieldType(field);
  const secret = hiddenIn(tree, reading).some((one) => siteKey(one.site) === siteKey(site));
  const distinct = [...new Set(field.values)];
  const choices = few.has(kind) && !secret && distinct.length <= MOST_CHOICES ? distinct : [];
  const text = value.trim();
  const fits = few.has(kind) ? distinct.includes(text) || isOther(kind, distinct, text) : isOfKind(text, kind as never);
  return { kind, choices, fits };
}

/** A certificate or key that is set at a place, in the form of what the file has there; null for anything else. */
export function formAt({ tree }: Backup, path: string, value: string): AsWritten | null {
  const site = siteAt(tree, path);
  return site && asWritten(valueAt(tree, site), value);
}

/** The side of a yes or no that the file happens not to have. */
const isOther = (kind: FieldKind, distinct: readonly string[], text: string) =>
  kind === 'boolean' && distinct.length === 1 && isBooleanPair(distinct[0]!, text);

/** A way to switch a record on or off: a field of its own that is named so and holds yes or no. */
export interface Switch {
  /** As it is now; null for a spelling that we do not know. */
  readonly on: boolean | null;
  /** Turns it the other way. */
  readonly flip: Decision;
}

/** The switch of a record, null where the file shows none: then there is nothing to offer. */
export function switchOf({ tree }: Backup, reading: Reading, record: number): Switch | null {
  for (const field of reading.values.fields) {
    const sense = switchSense(wordsOf(leafName(field)));
    if (!sense || field.tag || field.virtual || field.begins) continue;
    for (let place = 0; place < field.nodes.length; place++) {
      const node = field.nodes[place]!;
      const attr = field.attrs[place]!;
      if (field.records[place] !== record || !isWithin(tree, node, record) || attr === TAG) continue;
      const value = field.values[place]!;
      const distinct = new Set(field.values);
      distinct.delete(value);
      const seen = [...distinct].find((other) => isBooleanPair(value, other));
      const other = seen ?? (distinct.size === 0 ? otherBoolean(value) : null);
      const yes = parseBoolean(value);
      if (yes === null || other === null || /^\d+$/.test(value) !== /^\d+$/.test(other)) continue;
      const path = sitePath(tree, { node, attr });
      return { on: yes === (sense === 'on'), flip: { kind: 'set-value', path, value: other } };
    }
  }
  return null;
}
