import { osFamily } from '../devices/os-names.ts';
import { type FieldData, localName } from '../fields/fields.ts';
import { isLiteral, isSlot, kindOf } from './literals.ts';
import type { Operator } from './operators.ts';

/**
 * True for what kind of record a name is of, as its element or its list is called, and a mark: `nic:`, `/nic_list/`, `port2(`
 * and `)`.
 */
export function isOfKind(operator: Operator, kinds: ReadonlySet<string>): boolean {
  const word = wordBefore(operator);
  return word !== null && kinds.has(word);
}

/** The one word, and a mark, before a name; null where anything else stands around it. */
export function wordBefore({ before, after }: Operator): string | null {
  const word = /^\/?([\p{L}_][\p{L}\p{M}\p{N}_.-]*)[^\p{L}\p{M}\p{N}\s_.-]$/u.exec(before)?.[1];
  return word !== undefined && /^['"\])}>]*$/.test(after) ? word : null;
}

/**
 * The kinds of record before all names of a field, marked alike: `port:` and `vlan:`. Most are known, or the names are those of
 * devices; null for none.
 */
export function kindsBefore(values: readonly string[], kinds: ReadonlySet<string>): Operator[] | null {
  const found = new Map<string, Operator>();
  let marks: string | null = null;
  let devices = 0;
  for (const value of values) {
    const [, before, name, after] =
      /^(\/?[\p{L}_][\p{L}\p{M}\p{N}_.-]*[^\p{L}\p{M}\p{N}\s_.-])(\S.*?)([)\]}]?)$/u.exec(value) ?? [];
    if (before === undefined || (isLiteral(kindOf(name!)) && !isSlot(name!))) return null;
    const own = `${before.startsWith('/')} ${before.at(-1)!} ${after!}`;
    if (marks !== null && marks !== own) return null;
    marks = own;
    if (osFamily(name!) || isSlot(name!)) devices++;
    found.set(before, { before, after: after! });
  }
  const all = [...found.values()];
  const known = all.filter((one) => isOfKind(one, kinds)).length;
  return known * 2 > all.length || devices * 2 > values.length ? all : null;
}

/** What kinds of record are called: the steps to them, what tells them from others of their tag, and what these begin with. */
export function kindNames(fields: readonly FieldData[]): ReadonlySet<string> {
  const names = new Set<string>();
  const steps = new Set(fields.flatMap(({ steps }) => steps));
  for (const step of steps)
    for (const name of step.split(/[{}[\]]/)) {
      const local = localName(name);
      names.add(local);
      for (const { index } of local.matchAll(/[-_.]|(?<=[\p{Ll}\d])(?=\p{Lu})/gu)) names.add(local.slice(0, index));
    }
  names.delete('');
  return names;
}

/** The marks around a name behind the kind of its record: `:` of `zone:office`, `()` of `zone(office)`; null for any other operator. */
export function markAfterKind(operator: Operator, kinds: ReadonlySet<string>): string | null {
  const { before, after } = operator;
  if (isOfKind(operator, kinds) || (wordBefore(operator) !== null && /\d/.test(before)))
    return `${before.startsWith('/') ? '/' : ''}${before.at(-1)!}${after}`;
  return after === '' ? (/^\p{L}+([^\p{L}\p{M}\p{N}\s]+)$/u.exec(before)?.[1] ?? null) : null;
}
