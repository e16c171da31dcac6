import { type FieldData, isNearlyOneEach } from '../fields/fields.ts';
import { kindOf } from '../names/literals.ts';
import type { Reader } from '../names/tokens.ts';
import { holdsDevices } from '../numbers/number-tables.ts';
import { pairOf } from '../numbers/paired-numbers.ts';
import type { Target } from '../references/references.ts';
import { isAddresses, isHardwareEach } from '../roles/role-signs.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Devices } from './device-set.ts';

/** What speaks for a table of ports: hardware addresses, names that end in numbers, most networks' way to it. */
const MACS = 2;
const NUMBERED = 1.5;
const MOST = 1;
const DIRECT = 1;
/** What others name records by may be no device's name. */
const KEYED = 0.5;
const ENOUGH = 2.5;
/** Steps from a network to its port: by what joins them, by a VLAN. */
const STEPS = 3;

/** What the search needs to know of the document. */
export interface Tables {
  readonly fields: readonly FieldData[];
  readonly readers: readonly Reader[];
  readonly byShape: ReadonlyMap<number, readonly FieldData[]>;
  readonly devices: Devices;
  readonly structure: Structure;
  readonly targets: readonly (readonly Target[])[];
  /** Whether the values are names that end in numbers. @param forms how many forms they may have. */
  readonly isNumbered: (field: FieldData, forms?: number) => boolean;
}

/**
 * The names of ports in the table that networks lead to: by a reference, by a record that joins both, by the record around
 * them or in them, one after the other. Null where no table on such a way is one of ports for sure, or its ports are known.
 * @param network shape of records that others name.
 */
export function portNames(network: number, tables: Tables): FieldData | null {
  const { byShape, structure, isNumbered } = tables;
  let best: { field: FieldData; weight: number; known: boolean } | null = null;
  for (const [shape, share] of waysFrom(network, tables)) {
    const list = byShape.get(shape) ?? [];
    const keyed = new Set(
      tables.targets.flatMap((all) =>
        all.flatMap(({ key, odds }) => (odds >= 0 && key.shape === shape ? [key.field] : [])),
      ),
    );
    const names = list.filter(
      (field) =>
        isOneEach(field) &&
        mostly(field, ['name', 'phrase']) &&
        !tables.targets[field.index]!.some(({ odds }) => odds >= 0),
    );
    const macs = list.some((one) => isHardware(one));
    const numbered = names.filter((one) => isNumbered(one, macs ? one.values.length : undefined));
    const free = (field: FieldData) => !keyed.has(field);
    const full = (field: FieldData) => field.values.length >= structure.shapes[shape]!.nodes.length && isOneWord(field);
    const field =
      numbered.find((one) => free(one) && isOneWord(one)) ??
      numbered.find(free) ??
      names.find((one) => free(one) && full(one)) ??
      numbered[0] ??
      names.find(full);
    if (!field) continue;
    const weight =
      (macs ? MACS : 0) +
      (numbered.length > 0 ? NUMBERED : 0) +
      (share >= 0.5 ? MOST : 0) +
      (share >= 1 ? DIRECT : 0) -
      (keyed.has(field) ? KEYED : 0);
    if (weight >= ENOUGH && weight > (best?.weight ?? 0))
      best = { field, weight, known: list.some((one) => holdsDevices(one, tables.devices)) };
  }
  return best && !best.known ? best.field : null;
}

/** Shapes without addresses that networks lead to, with the share of the networks that do. */
function waysFrom(network: number, { fields, readers, byShape, structure, targets }: Tables): Map<number, number> {
  const listOf = (shape: number) => byShape.get(shape) ?? [];
  // What has no address itself may be a zone of devices that have.
  const isZone = !listOf(network).some(isAddresses);
  const isOpen = (shape: number) =>
    shape !== network &&
    shape !== -1 &&
    (!listOf(shape).some(isAddresses) || (isZone && listOf(shape).some(isHardware)));
  const count = structure.shapes[network]!.nodes.length;
  const found = new Map<number, number>();
  const add = (shape: number, share: number) => {
    if (isOpen(shape) && byShape.has(shape) && share > (found.get(shape) ?? 0)) found.set(shape, share);
  };
  /** Shapes that stand for networks: they lie in these, or name most of them once each. */
  const holders = new Map<number, number>([[network, 1]]);
  for (const shape of byShape.keys())
    if (isOpen(shape) && recordAbove(shape, structure, byShape) === network) holders.set(shape, 0.9);
  for (const field of fields) {
    if (!isOpen(field.rowShape) || !targets[field.index]!.some(({ key, odds }) => odds >= 0 && key.shape === network))
      continue;
    const { tokens, times } = readers[field.index]!.counts;
    if (times.reduce((a, b) => a + b, 0) > tokens.length * 1.25) continue;
    holders.set(field.rowShape, Math.max(0.9 * (tokens.length / count), holders.get(field.rowShape) ?? 0));
    add(field.rowShape, 0.9 * (tokens.length / count));
  }
  for (const [shape, list] of byShape) if (isOpen(shape) && pairOf(listOf(network), list)) add(shape, 1);
  const outer = recordAbove(network, structure, byShape);
  if (outer !== -1) add(outer, 0.9);
  let edge = holders;
  for (let step = 0; step < STEPS; step++) {
    const next = new Map<number, number>();
    for (const [shape, share] of edge) {
      for (const { index } of byShape.get(shape) ?? [])
        for (const { key, odds } of targets[index]!)
          if (odds >= 0 && isOpen(key.shape) && !holders.has(key.shape)) next.set(key.shape, share);
      const around = recordAbove(shape, structure, byShape);
      if (shape !== network && around !== -1 && isOpen(around) && !holders.has(around)) next.set(around, share);
    }
    for (const [shape, share] of next) add(shape, share);
    edge = next;
  }
  return found;
}

/** The innermost shape above one that has fields, -1 for none. */
export function recordAbove(shape: number, { shapes }: Structure, byShape: ReadonlyMap<number, unknown>): number {
  let at = shapes[shape]!.above;
  while (at !== -1 && !byShape.has(at)) at = shapes[at]!.above;
  return at !== -1 && shapes[at]!.repeated ? at : -1;
}

const isOneEach = ({ several, distinct, values }: FieldData): boolean => !several && distinct.length === values.length;

const isHardware = (field: FieldData): boolean =>
  isHardwareEach(field) || (isNearlyOneEach(field) && mostly(field, ['mac']));

const isOneWord = ({ distinct }: FieldData): boolean => distinct.every((value) => /^\S{1,24}$/.test(value));

function mostly({ values }: FieldData, kinds: readonly string[]): boolean {
  const sample = values.slice(0, 20);
  return sample.filter((value) => kinds.includes(kindOf(value))).length >= sample.length * 0.7;
}
