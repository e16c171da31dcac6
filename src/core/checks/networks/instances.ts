import { recordLists } from '../../reading/keys/record-lists.ts';
import { once } from '../facts/once.ts';

/**
 * Which of several boxes or instances in one file each role belongs to, by its index; 0 for all where there is one. Lists of
 * roles that share a name are apart: in one network two roles are never called alike.
 */
export const instancesOf = once((reading): readonly number[] => {
  const { roles } = reading;
  if (new Set(roles.map(({ name }) => name)).size === roles.length) return roles.map(() => 0);
  const lists = roles.map(({ node }) => recordLists(reading).indexOf(node));
  const firstOf = new Map<string, number>();
  const apart = roles.some(({ name }, role) => {
    const first = firstOf.get(name);
    if (first === undefined) firstOf.set(name, lists[role]!);
    return first !== undefined && first !== lists[role];
  });
  return apart ? lists : lists.map(() => 0);
});
