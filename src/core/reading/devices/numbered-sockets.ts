import { largestOf } from '../../lists.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import { type FieldData, isOneEach } from '../fields/fields.ts';
import type { Reader } from '../names/tokens.ts';
import type { Target } from '../references/references.ts';
import { isAddresses } from '../roles/role-signs.ts';
import { isTag } from './device-forms.ts';
import { areCounted, isRate } from './own-ports.ts';

/**
 * Fields that name ports by bare numbers: the records of a table count from one, have a rate each, and are listed where VLANs are.
 * Elsewhere such a number says anything, so it makes no device that is looked for.
 */
export function numberedSockets(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  targets: readonly (readonly Target[])[],
  portFields: ReadonlySet<number>,
): ReadonlySet<number> {
  const found = new Set<number>();
  // Where ports have names, numbers only count their records.
  if (portFields.size > 0) return found;
  const byShape = fieldsByShape(fields);
  for (const [shape, list] of byShape) {
    const number = shape === -1 || list.some(isAddresses) ? undefined : list.find(isCount);
    if (!number || !list.some((field) => areSpeeds(field) && field.values.length === number.values.length)) continue;
    if (list.some((field) => field !== number && areCounted(field.values))) continue;
    const isSocket = new Set(number.distinct);
    const namesOf = ({ index }: FieldData) => readers[index]!.counts;
    const isNaming = ({ index }: FieldData) =>
      targets[index]!.some(
        ({ key, odds, tokens }) => odds >= 0 && key.field === number && tokens.size === readers[index]!.counts.size,
      );
    // A VLAN lists them twice: with tags, and without, where each socket is in one VLAN.
    const isList = (field: FieldData) =>
      readers[field.index]!.separator !== null && namesOf(field).tokens.every((token) => isSocket.has(token));
    const isPartition = (field: FieldData) =>
      isList(field) &&
      namesOf(field).times.every((times) => times === 1) &&
      namesOf(field).size * 2 > number.values.length;
    const vlans = [...byShape].flatMap(([other, own]) =>
      other !== shape && other !== -1 && own.some(areVlanIds) && own.some((one) => isNaming(one) || isPartition(one))
        ? own
        : [],
    );
    if (vlans.length === 0) continue;
    const naming = fields.filter(isNaming);
    const lists = vlans.filter(isList);
    for (const { index } of [number, ...naming, ...lists]) found.add(index);
  }
  return found;
}

/** Sockets of one box. */
const MOST = 128;

/** Numbers from one on, none left out. */
const isCount = (field: FieldData): boolean =>
  isOneEach(field) &&
  field.values.length > 1 &&
  field.values.length <= MOST &&
  field.values.every((value, at) => value === String(at + 1));

/** Rates of which some are left to the socket, or say how it talks; what queues may send is a number alone. */
const areSpeeds = (field: FieldData): boolean => isRate(field) && field.distinct.some((value) => /\p{L}/u.test(value));

/** IEEE 802.1Q: IDs, each once; what has no gaps may only count. */
const areVlanIds = (field: FieldData): boolean =>
  isOneEach(field) &&
  field.values.length > 1 &&
  field.values.every(isTag) &&
  largestOf(field.values.map(Number)) > field.values.length + 1;
