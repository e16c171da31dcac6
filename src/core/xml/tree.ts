/**
 * The flat span tree: what the strict read leaves behind. Every offset counts UTF-16 units of `text`, the decoded
 * document without its byte-order mark, and always refers to the original text.
 *
 * Nodes are numbered in document order. Character data has no nodes of its own: it is what lies between the spans of
 * an element's children, so a file of a hundred thousand lines holds one number per element, not two.
 */
export const Kind = { element: 0, cdata: 1, comment: 2, instruction: 3 } as const;
export type Kind = (typeof Kind)[keyof typeof Kind];

export interface Tree {
  readonly text: string;
  /** Interned element, attribute and instruction names, as written, prefix included. */
  readonly names: readonly string[];
  /** Number of nodes; each array below up to `attrFirst` has this length (`attrFirst` has one more). */
  readonly size: number;
  readonly kind: Uint8Array;
  /** Node number of the parent, -1 outside the root element. */
  readonly parent: Int32Array;
  /** Index into `names`; -1 for CDATA and comments. */
  readonly name: Int32Array;
  /** First unit of the node: its `<`. */
  readonly start: Int32Array;
  /** One past the `>` of the open tag; for nodes that are no elements equal to `end`. */
  readonly openEnd: Int32Array;
  /** The `<` of the close tag; for `<a/>` and nodes that are no elements equal to `end`. */
  readonly closeStart: Int32Array;
  /** One past the last unit of the node. */
  readonly end: Int32Array;
  /** One past the node's last descendant, as a node number. */
  readonly after: Int32Array;
  /** Index of the node's first attribute; its attributes end where the next node's begin. */
  readonly attrFirst: Int32Array;
  readonly attrName: Int32Array;
  /** First unit of the attribute's name. */
  readonly attrStart: Int32Array;
  /** Span of the attribute's value, quotes excluded. */
  readonly valueStart: Int32Array;
  readonly valueEnd: Int32Array;
  readonly root: number;
}

export function nameOf(tree: Tree, node: number): string {
  return tree.names[tree.name[node]!] ?? '';
}

export function isElement(tree: Tree, node: number): boolean {
  return tree.kind[node] === Kind.element;
}

/** First child node of any kind, -1 for none. */
export function firstChild(tree: Tree, node: number): number {
  return tree.after[node]! > node + 1 ? node + 1 : -1;
}

/** Next sibling of any kind, -1 for none. */
export function nextSibling(tree: Tree, node: number): number {
  const next = tree.after[node]!;
  return next < tree.size && tree.parent[next] === tree.parent[node] ? next : -1;
}

export function firstElement(tree: Tree, node: number): number {
  const child = firstChild(tree, node);
  return child === -1 || isElement(tree, child) ? child : nextElement(tree, child);
}

export function nextElement(tree: Tree, node: number): number {
  let next = nextSibling(tree, node);
  while (next !== -1 && !isElement(tree, next)) next = nextSibling(tree, next);
  return next;
}

/** The sibling element before a node, -1 for none. */
export function previousElement(tree: Tree, node: number): number {
  const parent = tree.parent[node]!;
  let at = node - 1;
  while (at > parent) {
    while (tree.parent[at] !== parent) at = tree.parent[at]!;
    if (isElement(tree, at)) return at;
    at--;
  }
  return -1;
}

export function* elementsOf(tree: Tree, node: number): Generator<number> {
  for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) yield child;
}

/** An element with no element inside; its text is a value. */
export function isLeaf(tree: Tree, node: number): boolean {
  return firstElement(tree, node) === -1;
}

export function isSelfClosed(tree: Tree, node: number): boolean {
  return isElement(tree, node) && tree.openEnd[node] === tree.end[node];
}

/** Range of the node's attributes as indices into the `attr*` arrays: [first, end). */
export function attributesOf(tree: Tree, node: number): [first: number, end: number] {
  return [tree.attrFirst[node]!, tree.attrFirst[node + 1]!];
}

/** Index of the named attribute, -1 where the node has none. */
export function attribute(tree: Tree, node: number, name: string): number {
  const [first, end] = attributesOf(tree, node);
  for (let at = first; at < end; at++) if (tree.names[tree.attrName[at]!] === name) return at;
  return -1;
}

/** As `attribute`, by the name's index in `names`. */
export function attributeIndexed(tree: Tree, node: number, name: number): number {
  const [first, end] = attributesOf(tree, node);
  for (let at = first; at < end; at++) if (tree.attrName[at] === name) return at;
  return -1;
}

/** The child element of that name, -1 for none; the first one where several have it. */
export function childNamed(tree: Tree, node: number, name: string): number {
  for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
    if (nameOf(tree, child) === name) return child;
  }
  return -1;
}

/** True where `node` is `above` or lies inside it. */
export function isWithin(tree: Tree, node: number, above: number): boolean {
  return node >= above && node < tree.after[above]!;
}
