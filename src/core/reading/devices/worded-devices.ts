import type { FieldData } from '../fields/fields.ts';
import { bareName, type Composable } from './composed-devices.ts';
import type { Devices } from './device-set.ts';

/** One word for all and the number of each, `vlan100`. */
const worded = /^(\p{L}[\p{L}_-]{0,11})(\d{1,4})$/u;

/**
 * Tagged devices that are called by a word and the number of their record, beside ports that are sure, where no record says what
 * they are called.
 */
export function composeWorded(devices: Devices, fields: readonly FieldData[], composable: readonly Composable[]): void {
  if (!devices.tabled || devices.derivations.length > 0 || composable.length === 0) return;
  // What is made of ports may stand in their table, too.
  const known = new Set([...devices.tables].flatMap(({ distinct }) => distinct));
  for (const { distinct, tag } of fields) {
    if (tag || distinct.length > MOST || distinct.some((value) => value.length > LONGEST)) continue;
    const others = distinct.map(bareName).filter((name) => !known.has(name));
    if (others.length < LEAST || others.length === distinct.length) continue;
    const stem = worded.exec(others[0]!)?.[1];
    if (stem === undefined || !others.every((name) => worded.exec(name)?.[1] === stem)) continue;
    for (const { shape, parent, tag: number, rows } of composable) {
      const rowOf = new Map([...rows].map(([row, one]) => [one.tag, row]));
      if (rowOf.size < rows.size || !others.every((name) => rowOf.has(name.slice(stem.length)))) continue;
      const names = new Map<string, number>();
      for (const [row, one] of rows) {
        names.set(stem + one.tag, row);
        devices.named.set(stem + one.tag, { parent: one.parent, tag: Number(one.tag) });
      }
      devices.composed.set(shape, names);
      const own = parent?.rowShape === shape ? parent.index : null;
      devices.derivations.push({ shape, name: null, parent: own, tag: number.index });
      return;
    }
  }
}

/** Fewer may be so by chance. */
const LEAST = 2;
const MOST = 4000;
const LONGEST = 48;
