import { type Edits, siteKey } from '../compile/edits.ts';
import { unitsOf } from '../compile/units.ts';
import { pathOf, sitePath } from '../xml/path.ts';
import type { Side } from './graft.ts';
import type { GraftAccount } from './graft-ledger.ts';
import type { Matcher } from './match.ts';

/** A reference that goes over and names something that is neither taken nor on the receiver. */
export interface Loose {
  readonly path: string;
  readonly value: string;
  readonly target: string;
}

/**
 * References that go over, whose target does not, and whose target the receiver does not have under that key.
 * @param matcher finds elements of the donor in the receiver.
 */
export function looseEnds(
  { tree, reading }: Side,
  receiver: Side,
  matcher: Matcher,
  edits: Edits,
  account: GraftAccount,
): Loose[] {
  const units = unitsOf(tree, reading);
  const found = new Map<number, number>([[tree.root, receiver.tree.root]]);
  const counterpart = (node: number): number => {
    const known = found.get(node);
    if (known !== undefined) return known;
    const above = counterpart(tree.parent[node]!);
    if (above !== -1)
      for (const { from, to } of matcher.pair(tree.parent[node]!, above, false).pairs) found.set(from, to);
    if (!found.has(node)) found.set(node, -1);
    return found.get(node)!;
  };
  const goes = (node: number) => !account.donor.leftOut.has(units.of[node]!) && account.goes(node);
  const list: Loose[] = [];
  for (const { site, value, to, tier } of reading.references) {
    if (tier === 'possible' || !goes(site.node) || goes(to) || counterpart(to) !== -1) continue;
    const edit = edits.values.get(siteKey(site));
    if (edit?.owners.some((owner) => owner.startsWith('set-value'))) continue;
    list.push({ path: sitePath(tree, site), value, target: pathOf(tree, to) });
  }
  return list;
}
