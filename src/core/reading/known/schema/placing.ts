import { namespacesOf } from '../../../xml/namespaces.ts';
import type { Tree } from '../../../xml/tree.ts';
import type { KnownFormat } from '../format.ts';
import { walk } from '../placed.ts';
import { modelOf, type SchemaModel, type SchemaNode } from './model.ts';

/** Where a document's elements stand in the schema; made once for a tree. */
export interface Placing {
  readonly model: SchemaModel;
  readonly schemaOf: Int32Array;
  readonly scope: Int32Array;
  readonly tops: ReadonlyMap<number, readonly number[]>;
  /** 0 for elements that are not judged, 1 for those of which only types are, 2 for whole data trees. */
  readonly depth: Uint8Array;
  /** Elements of known modules that the schema does not have, the outermost. */
  readonly strange: readonly number[];
  /** All elements of one schema node, in the order of the document. */
  readonly elementsOf: (schema: number) => readonly number[];
}

const placings = new WeakMap<Tree, Placing | null>();

/** Null where the format has no schema or the document nothing of it. */
export function placingOf(tree: Tree, format: KnownFormat): Placing | null {
  let placing = placings.get(tree);
  if (placing === undefined) {
    placing = placed(tree, format);
    placings.set(tree, placing);
  }
  return placing;
}

function placed(tree: Tree, format: KnownFormat): Placing | null {
  const model = modelOf(format);
  const found =
    model &&
    walk(tree, format, (from, module, local) => model.nodes[from]!.members.get(`${module}:${local}`)?.id ?? -1);
  if (!found) return null;
  const { path: schemaOf, scope, tops } = found;
  const byScope = new Map<number, number[]>();
  const depth = new Uint8Array(tree.size);
  for (const top of tops) {
    const list = byScope.get(scope[top]!);
    if (list) list.push(top);
    else byScope.set(scope[top]!, [top]);
    depth.fill(depthAt(tree, format, top), top, tree.after[top]!);
  }
  // Where a box tells its state, what it does may break what its configuration may not (RFC 8342, 5.3).
  const telling = new Set<number>();
  for (let node = 0; node < tree.size; node++)
    if (schemaOf[node]! > 0 && model.nodes[schemaOf[node]!]!.row.state) telling.add(scope[node]!);
  for (const top of tops) if (telling.has(scope[top]!) && depth[top] === 2) depth.fill(1, top, tree.after[top]!);
  const strange: number[] = [];
  for (const node of found.strange) {
    const above = model.nodes[schemaOf[tree.parent[node]!]!];
    if (depth[node]! > 0 && above && isInside(above)) strange.push(node);
  }
  return { model, schemaOf, scope, tops: byScope, depth, strange, elementsOf: sorter(schemaOf, model.nodes.length) };
}

export const isInside = ({ row }: SchemaNode) => row.is === 'container' || row.is === 'list';

/** A filter names what it asks for, an edit and a notification hold a part. */
function depthAt(tree: Tree, format: KnownFormat, top: number): 0 | 1 | 2 {
  const spaces = namespacesOf(tree);
  let depth: 0 | 1 | 2 = 2;
  for (let node = tree.parent[top]!; node !== -1; node = tree.parent[node]!) {
    const local = spaces.local[tree.name[node]!]!;
    const space = spaces.of[node]!;
    if (!format.envelope.some(({ namespace }) => namespace === spaces.uris[space])) continue;
    if (local === 'filter') return 0;
    if (['edit-config', 'notification', 'action'].includes(local)) depth = 1;
  }
  return depth;
}

/** Sorts elements by their schema nodes when first asked. */
function sorter(schemaOf: Int32Array, count: number): (schema: number) => readonly number[] {
  let sorted: number[][] | null = null;
  return (schema) => {
    if (!sorted) {
      sorted = Array.from({ length: count }, () => []);
      for (const [node, id] of schemaOf.entries()) if (id > 0) sorted[id]!.push(node);
    }
    return sorted[schema]!;
  };
}
