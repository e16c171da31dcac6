import { osFamily } from '../devices/os-names.ts';
import type { FieldData } from '../fields/fields.ts';
import type { Operator } from './operators.ts';

/** A word for the kind of a device, a mark, and its name: `ethernet:eth0`, `vlan(eth2.30)`. */
const headed = /^(\p{L}{1,20}[:/|=(@>])(\p{L}\S{0,22}?)([)\]]?)$/u;

/** Words for kinds of device before the names of ports, where most values of a field have such a word. */
export function deviceOperators({ distinct, tag }: FieldData, isPort: (token: string) => boolean): Operator[] {
  if (tag || !headed.test(distinct[0]!)) return [];
  const found = new Map<string, Operator>();
  let ports = 0;
  for (const value of distinct) {
    const [, before, name, after] = headed.exec(value) ?? [];
    if (before === undefined || !(osFamily(name!) || isPort(name!))) continue;
    ports++;
    found.set(`${before} ${after}`, { before, after: after! });
  }
  return ports * 2 > distinct.length ? [...found.values()] : [];
}
