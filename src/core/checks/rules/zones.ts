import { linksByRow } from '../facts/links.ts';
import { byReferences, once } from '../facts/once.ts';
import { rolesByNode, rowsByElement } from '../facts/tables.ts';

/** Zones are few, and most networks lie in one. */
const [MOST, SHARE] = [200, 0.6];

/**
 * Records that hold roles without being one, as zones do, with the indices of these: roles name them, or they name roles. Of such
 * a kind each role lies in one at most, and most roles in some.
 */
export const zonesOf = once((reading): ReadonlyMap<number, readonly number[]> => {
  const { collections, roles, values } = reading;
  const links = linksByRow(reading);
  const byElement = rowsByElement(reading);
  const roleAt = rolesByNode(reading);
  const kinds = new Map<number, Map<number, Set<number>>>();
  const kindOf = new Map<number, number>();
  for (const [kind, { records }] of collections.entries())
    if (records.length > 1 && records.length <= MOST) for (const node of records) kindOf.set(node, kind);
  const add = (zone: number, role: number) => {
    const kind = kindOf.get(zone);
    if (kind === undefined || roleAt.has(zone)) return;
    const held = kinds.get(kind) ?? new Map<number, Set<number>>();
    kinds.set(kind, held.set(zone, (held.get(zone) ?? new Set()).add(role)));
  };
  /** Records named in a record and in the records inside it. */
  function* namedIn(node: number) {
    const row = byElement.get(node);
    for (let at = row ?? 0; row !== undefined && at < values.after[row]!; at++)
      for (let link = links.first(at); link !== -1; link = links.next(link)) yield links.to(link);
  }
  for (const [node, role] of roleAt) for (const to of namedIn(node)) add(to, role);
  for (const node of kindOf.keys()) for (const to of namedIn(node)) if (roleAt.has(to)) add(node, roleAt.get(to)!);
  const zones = new Map<number, readonly number[]>();
  for (const held of kinds.values()) {
    const all = [...held.values()].flatMap((own) => [...own]);
    const isEach = new Set(all).size === all.length;
    if (held.size < 2 || !isEach || all.length < roles.length * SHARE) continue;
    for (const [zone, own] of held) zones.set(zone, [...own]);
  }
  return zones;
}, byReferences);
