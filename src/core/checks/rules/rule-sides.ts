import type { Reading } from '../../reading/reading.ts';
import { wordsOf } from '../../values/name-words.ts';
import { networksOf } from '../networks/networks.ts';
import { type Interval, includes, intervalOf, union } from './intervals.ts';
import type { RuleList } from './rule-facts.ts';
import { destinationWords, hasAny, inWords, outWords, sourceWords } from './rule-words.ts';

type Side = 'source' | 'destination';
export type Sides = ReadonlyMap<string, Side>;

/** Rules that must agree where no word tells, and their share of all that speak. */
const LEAST = 3;
const MOST = 0.8;

const known = new WeakMap<RuleList, Sides>();

/**
 * Which parts of a list's rules say where packets come from and which where they go. By what stands there: who comes in by
 * a network mostly has an address of it, and is mostly let go elsewhere. Words of the trade only where that tells nothing;
 * what neither tells is left out.
 */
export function sidesOf(reading: Reading, list: RuleList): Sides {
  const made = known.get(list);
  if (made) return made;
  const own = new Map<string, Interval[]>();
  for (const { role, extent } of networksOf(reading).blocks) {
    const record = `record ${reading.roles[role]!.node}`;
    own.set(record, [...(own.get(record) ?? []), intervalOf(extent)]);
  }
  const nets = new Map([...own].map(([record, extents]) => [record, union(extents)]));
  // Rules that say the same share it, and tell nothing more.
  const matches = new Set(list.rules.map(({ match }) => match));
  const sides = new Map<string, Side>();
  for (const name of list.parts.ends) {
    let inside = 0;
    let outside = 0;
    for (const match of matches) {
      const part = match.parts.get(name);
      if (part?.opaque !== '' || match.odd.turned.has(name)) continue;
      for (const via of list.parts.via.filter((one) => sideByWord(one) !== 'destination'))
        for (const record of match.parts.get(via)?.named.keys() ?? []) {
          const net = nets.get(record);
          if (!net) continue;
          const isIn =
            (part.numbers.length > 0 && includes(net, part.numbers)) ||
            (part.numbers.length === 0 && part.named.size > 0 && [...part.named.keys()].every((one) => one === record));
          if (isIn) inside++;
          else outside++;
        }
    }
    const side = bySight(inside, outside) ?? sideByWord(name);
    if (side) sides.set(name, side);
  }
  // A network is a way in unless its name says that it is the way out.
  for (const name of list.parts.via) sides.set(name, sideByWord(name) ?? 'source');
  known.set(list, sides);
  return sides;
}

function bySight(inside: number, outside: number): Side | null {
  const all = inside + outside;
  if (all < LEAST) return null;
  return inside >= all * MOST ? 'source' : outside >= all * MOST ? 'destination' : null;
}

/** The nearest name that says so: `source/address`. */
export function sideByWord(name: string): Side | null {
  for (const step of name.split('/').slice(-2).reverse()) {
    const words = wordsOf(step);
    if (hasAny(words, sourceWords) || hasAny(words, inWords)) return 'source';
    if (hasAny(words, destinationWords) || hasAny(words, outWords)) return 'destination';
  }
  return null;
}
