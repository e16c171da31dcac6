import type { Devices } from './device-set.ts';
import type { Given } from './facts.ts';
import { type FieldData, leafName } from './fields.ts';
import type { KeyField } from './keys.ts';
import { type Kind, kindOf } from './literals.ts';
import { letters, overlap } from './number-names.ts';

/** Kinds of record that numbers may name. */
export interface Table {
  readonly key: KeyField;
  readonly values: ReadonlySet<string>;
  readonly names: readonly string[];
  /** The records have a name beside the number. */
  readonly called: boolean;
  /** Kinds of literal that they list. */
  readonly literals: ReadonlySet<Kind>;
  /** They are devices, which few fields name by a number. */
  readonly device: boolean;
  /** How many fields they have. */
  readonly width: number;
  /** They have an address and one name each: the logical networks, which most others name. */
  readonly network: boolean;
}

/** True for a field that mostly holds devices, one to a record. */
export function holdsDevices({ distinct, several, tag }: FieldData, devices: Devices): boolean {
  if (several || tag) return false;
  const sample = distinct.slice(0, 20);
  return sample.length > 0 && sample.filter((value) => devices.has(value)).length * 2 >= sample.length;
}

/** Kinds of record that go by numbers, the best key of each. */
export function tablesOf(
  { keys, structure, devices, fields }: Given,
  endings: readonly string[],
  literalsOf: (key: KeyField) => ReadonlySet<Kind>,
): Table[] {
  const called = new Set<number>();
  for (const key of keys.keys) if (key.kind === 'name' || key.kind === 'phrase') called.add(key.shape);
  const addressed = new Set<number>();
  for (const { rowShape, distinct, several } of fields)
    if (!several && distinct.slice(0, 10).every((value) => kindOf(value) === 'address')) addressed.add(rowShape);
  const widths = new Map<number, number>();
  for (const { rowShape } of fields) widths.set(rowShape, (widths.get(rowShape) ?? 0) + 1);
  const held = new Set(devices.derivations.map(({ shape }) => shape));
  for (const field of fields)
    if (!addressed.has(field.rowShape) && holdsDevices(field, devices)) held.add(field.rowShape);
  const named = keys.keys.some(({ kind, field }) => kind === 'integer' && endings.includes(letters(leafName(field))));
  return keys.keys.flatMap((key): Table[] => {
    const { kind, field, best, bestOfKind } = key;
    if (kind !== 'integer') return [];
    const shape = structure.shapes[key.shape]!;
    const steps = [shape.step, shape.above === -1 ? '' : structure.shapes[shape.above]!.step];
    const names = steps.map(letters).filter((name) => name.length > 1);
    const name = letters(leafName(field));
    // Called as identifiers are; or by that and the records' own name, as `role_no` is.
    const ending = endings.find((one) => name.length > one.length && name.endsWith(one));
    const own = ending !== undefined && bestOfKind && overlap(name.slice(0, name.length - ending.length), names) >= 0.5;
    if (!field.tag && !endings.includes(name) && !own && (named || !best)) return [];
    return [
      {
        key,
        values: new Set(field.distinct),
        names,
        called: called.has(key.shape),
        network: called.has(key.shape) && addressed.has(key.shape),
        width: widths.get(key.shape) ?? 0,
        literals: literalsOf(key),
        device: held.has(key.shape),
      },
    ];
  });
}
