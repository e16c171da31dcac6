import { isTag } from './device-forms.ts';
import type { Devices } from './device-set.ts';
import { type FieldData, leafName } from './fields.ts';
import { holderOf } from './list-names.ts';
import { isOrder } from './number-counts.ts';
import type { Structure } from './structure.ts';

/** What the trade calls a VLAN and its number: weak evidence. */
const vlanWord = /v(?:irtual[ _-]?)?lan|vid|tag/i;

/** True for what may be called so. */
export const isVlanWord = (name: string): boolean => vlanWord.test(name);

/**
 * True for VLAN IDs by which records may be told apart: those that tagged devices are derived from, or that the file calls so.
 * Numbers in a row are counted.
 */
export function areVlanIds(field: FieldData, structure: Structure, { derivations }: Devices): boolean {
  const { values, distinct, several, tag } = field;
  if (several || tag || distinct.length < values.length || !values.every(isTag) || isOrder(values)) return false;
  if (derivations.some((one) => one.tag === field.index)) return true;
  const { shapes } = structure;
  const holder = holderOf(structure, field.rowShape);
  return [leafName(field), shapes[field.rowShape]!.step, holder === -1 ? '' : shapes[holder]!.step].some(isVlanWord);
}
