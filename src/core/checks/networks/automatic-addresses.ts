import type { Finding } from '../../views.ts';
import { TEXT } from '../../xml/site.ts';
import { once } from '../facts/once.ts';
import { rowsByElement } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import type { NetworkFacts } from './networks.ts';

/** Ways to get an address from the other side (RFC 2131, RFC 9915, RFC 4862, RFC 1661), as files write them. */
const automatic = new Set(
  'dhcp dhcpv4 dhcp4 dhcpclient dhcp-client dhcpv6 dhcp6 slaac auto automatic autoconf pppoe ppp'.split(' '),
);

/** Roles whose record has one of those words as a value of its own, by index. */
const automaticRoles = once((reading): ReadonlySet<number> => {
  const { fields, above } = reading.values;
  const byElement = rowsByElement(reading);
  const roleOfRow = new Map<number, number>();
  for (const [index, { node }] of reading.roles.entries()) {
    const row = byElement.get(node);
    if (row !== undefined) roleOfRow.set(row, index);
  }
  const roles = new Set<number>();
  for (const field of fields) {
    const first = field.rows[0]!;
    if (!roleOfRow.has(first) && !roleOfRow.has(first === -1 ? -1 : above[first]!)) continue;
    for (let place = 0; place < field.values.length; place++) {
      if (!automatic.has(field.values[place]!.toLowerCase())) continue;
      const row = field.rows[place]!;
      const role = roleOfRow.get(row) ?? roleOfRow.get(above[row]!);
      if (role !== undefined) roles.add(role);
    }
  }
  return roles;
});

/** A role that asks the other side for its address is likely to get another one on other hardware. */
export function addressesOfRoles({ reading, renames, gone, place }: CheckInput, { blocks }: NetworkFacts): Finding[] {
  if (renames.size === 0) return [];
  const fixed = new Set(blocks.map(({ role }) => role));
  const bound = new Set(reading.bindings.map(({ role }) => role));
  return [...automaticRoles(reading)]
    .filter((role) => !fixed.has(role) && !gone(reading.roles[role]!.node) && bound.has(reading.roles[role]!.name))
    .map((role) => ({
      code: 'address-automatic' as const,
      severity: 'note' as const,
      place: place({ node: reading.roles[role]!.node, attr: TEXT }),
      params: { role: reading.roles[role]!.name },
      byPlan: true,
    }));
}
