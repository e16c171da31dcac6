import type { Chain, Need } from '../../carry/needs.ts';
import { outermost } from '../../carry/tick.ts';
import type { CarryDetail, CarryLink, CarryLinks, RecordMark } from '../../views.ts';
import { pathOf } from '../../xml/path.ts';
import { nodePlace } from '../backup/open.ts';
import { switchOf } from '../backup/value-hints.ts';
import { Row } from './carry-tree.ts';
import type { CarryView } from './carry-view.ts';
import { leavesOf, valueViews } from './record-values.ts';

/** How many values and links are told one by one. */
const VALUES = 200;
const LINKS = 60;

/** Everything about one row of the carry sheet; null for an id that is not there. */
export function carryDetail(view: CarryView, id: string): CarryDetail | null {
  const at = view.rowAt(id);
  if (at === -1) return null;
  const { backup, reading, tree: rows } = view;
  const { tree } = backup;
  const node = rows.node[at]!;
  const isEntry = rows.kind[at] === Row.record || rows.kind[at] === Row.setting || rows.units.of[node] === node;
  const key = reading.collections[rows.collection[at]!]?.key;
  const leaves = isEntry && rows.kind[at] !== Row.collection ? leavesOf(tree, rows, node, key?.by === 'tag') : [];
  const found = rows.kind[at] === Row.record ? switchOf(backup, reading, node) : null;
  const nodes = view.find(id);
  const own = view.entriesOf(id);
  const neededBy = linksBack(view, own, nodes);
  return {
    row: view.views([at])[0]!,
    place: nodePlace(backup, rows.kind[at] === Row.collection ? nodes[0]! : node),
    values: valueViews(backup, reading, view.plan, leaves.slice(0, VALUES)),
    valuesTotal: leaves.length,
    switch: found,
    needs: linksOn(view, own, nodes),
    neededBy: neededBy.links,
    missing: view.missing(id),
    dependents: neededBy.tops,
  };
}

/** What the entries of a row need, at once and through others. */
function linksOn(view: CarryView, own: Uint8Array, nodes: readonly number[]): CarryLinks {
  const { needs } = view;
  const direct = new Map<number, Need>();
  needs.unmet(own, (need) => {
    if (need.kind !== 'inside' && !direct.has(need.to)) direct.set(need.to, need);
  });
  const links = [...direct.values()].map((need) => linkOf(view, need.to, [need]));
  // Of many records at once only what they name themselves is told; what follows from it is in `missing`.
  if (nodes.length === 1) {
    for (const { node, why } of needs.allNeeds(nodes[0]!)) {
      const steps = why.filter(({ kind }) => kind !== 'inside');
      if (own[needs.of[node]!] || direct.has(node) || steps.length < 2 || steps.at(-1)!.to !== node) continue;
      links.push(linkOf(view, node, steps));
    }
  }
  return { total: links.length, links: links.slice(0, LINKS) };
}

/** What needs the entries of a row, and which records to leave out with it. */
function linksBack(
  view: CarryView,
  own: Uint8Array,
  nodes: readonly number[],
): { links: CarryLinks; tops: RecordMark[] } {
  const { needs } = view;
  const direct = new Map<number, Need>();
  needs.losses(own, (need) => {
    if (need.kind !== 'inside' && !direct.has(need.from)) direct.set(need.from, need);
  });
  const links = [...direct.values()].map((need) => linkOf(view, need.from, [need]));
  const chains: Chain[] = nodes.length === 1 ? needs.allNeededBy(nodes[0]!) : [];
  const lose = new Set([...direct.keys()]);
  for (const { node, why } of chains) {
    if (own[needs.of[node]!]) continue;
    lose.add(node);
    if (!direct.has(node)) links.push(linkOf(view, node, [...why].reverse()));
  }
  const { tree } = view.backup;
  const going = outermost(tree, [...lose]).filter((node) => !view.gone(node));
  return {
    links: { total: links.length, links: links.slice(0, LINKS) },
    tops: going.map((node) => ({ ...view.mark(node), path: pathOf(tree, node) })),
  };
}

function linkOf(view: CarryView, node: number, why: readonly Need[]): CarryLink {
  return {
    mark: view.mark(node),
    gone: view.gone(node),
    steps: why.length,
    why: why.map(({ from, to, kind, field, value }) => ({
      from: view.mark(from).name,
      to: view.mark(to).name,
      path: view.mark(to).path,
      kind,
      field,
      value,
    })),
  };
}
