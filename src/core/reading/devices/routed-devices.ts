import type { FieldData } from '../fields/fields.ts';
import { kindOf } from '../names/literals.ts';
import { isPlainLiteral, mayBeParent } from './device-forms.ts';
import type { Devices } from './device-set.ts';

/** A port, the mark of a device that is a part of it, and a number: `te1/2.30`, `fibre-2:30`. */
const routed = /^(.{2,36}\d)([.:])(\d{1,4})$/;
/** Fewer such names may be chance. */
const LEAST = 2;
/** Share of a field's values that are such names of known ports. */
const MOST = 0.6;

/**
 * Devices with an address that are a part of a port, by their names alone: a value of another field, a mark and a number, where
 * no record holds that number.
 * @param held in how many fields each value stands.
 */
export function routedDevices(
  devices: Devices,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  held: () => ReadonlyMap<string, number>,
): void {
  for (const list of byShape.values()) {
    const named = list.filter(({ values, tag }) => !tag && routed.test(values[0]!) && !isPlainLiteral(values[0]!));
    if (named.length === 0 || !list.some(({ values }) => kindOf(values[0]!) === 'address')) continue;
    for (const { distinct } of named) {
      const parts = distinct.flatMap((name) => {
        const [, port, mark, number] = routed.exec(name) ?? [];
        return port !== undefined && mayBeParent(port) && held().has(port)
          ? [{ name, port, mark: mark!, number: Number(number) }]
          : [];
      });
      if (parts.length < LEAST || parts.length < distinct.length * MOST) continue;
      for (const { name, port, mark, number } of parts) devices.derive(name, port, mark, number);
    }
  }
}
