import { osFamily } from '../devices/os-names.ts';
import type { FieldData } from '../fields/fields.ts';
import type { Operator } from './operators.ts';

/** A word for the kind of a device or its list, a mark, and its name: `ethernet:eth0`, `vlan(eth2.30)`, `/sockets/0/1`, `jack:Dock 3`. */
const headed = /^(\/?\p{L}[\p{L}\p{M}_.-]{0,30}[:/|=(@>])([\p{L}\d](?:\S| (?=\d)){0,22}?)([)\]]?)$/u;

/** What each value with such a word begins with. */
const head = /^\/?\p{L}[\p{L}\p{M}_.-]{0,30}[:/|=(@>][\p{L}\d]/u;

/**
 * Words for kinds of device before the names of ports, where most names of a field have such a word.
 * @param tokensOf the items of the values.
 */
export function deviceOperators(
  field: FieldData,
  tokensOf: (field: FieldData) => Iterable<string>,
  isPort: (token: string) => boolean,
): Operator[] {
  if (field.tag || !head.test(field.distinct[0]!)) return [];
  const found = new Map<string, Operator>();
  let all = 0;
  let ports = 0;
  for (const token of tokensOf(field)) {
    all++;
    const [, before, name, after] = headed.exec(token) ?? [];
    if (before === undefined || !(osFamily(name!) || isPort(name!))) continue;
    ports++;
    found.set(`${before} ${after}`, { before, after: after! });
  }
  return ports * 2 > all ? [...found.values()] : [];
}
