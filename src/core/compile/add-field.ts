import type { Patch } from '../patch/patch-set.ts';
import { good, type Result } from '../trouble.ts';
import { type Fits, writeSpan } from '../xml/edit.ts';
import { encodeValue } from '../xml/escape.ts';
import { likeSite } from '../xml/like-site.ts';
import { type Site, TEXT, textOf, valueAt } from '../xml/site.ts';
import { attribute, attributesOf, elementsOf, isElement, isLeaf, isSelfClosed, Kind, type Tree } from '../xml/tree.ts';
import { type AddedAttribute, type AddedRecord, siteKey } from './edits.ts';

/** A field that a record did not have: an element behind one that is there, or an attribute. */
export type AddedField =
  | { readonly kind: 'element'; readonly added: AddedRecord; readonly patch: Patch }
  | { readonly kind: 'attribute'; readonly node: number; readonly added: AddedAttribute; readonly patch: Patch };

/**
 * The field at `like`, which lies in the record `from`, for the record `to`, with another value: copied as it is written
 * there, and put where it stands there, behind the same neighbour. Null where `to` has no such place.
 */
export function addField(
  tree: Tree,
  like: Site,
  from: number,
  to: number,
  value: string,
  fits: Fits,
  owner: string,
): Result<AddedField | null> {
  if (like.attr >= 0) {
    const twin = likeSite(tree, { node: like.node, attr: TEXT }, from, to);
    // The element itself may be the field, and lack as a whole.
    if (twin && attribute(tree, twin.node, tree.names[tree.attrName[like.attr]!]!) === -1)
      return good(addAttribute(tree, like, twin.node, value, fits, owner));
  }
  return addElement(tree, like, from, to, value, fits, owner);
}

function addAttribute(tree: Tree, like: Site, node: number, value: string, fits: Fits, owner: string): AddedField {
  const { text } = tree;
  const [first, end] = attributesOf(tree, node);
  const name = tree.names[tree.attrName[like.attr]!]!;
  // Behind the neighbour that it has there, else behind the last.
  const [likeFirst] = attributesOf(tree, like.node);
  const before = like.attr > likeFirst ? attribute(tree, node, tree.names[tree.attrName[like.attr - 1]!]!) : -1;
  const behind = before !== -1 ? before : end > first ? end - 1 : -1;
  const at = behind !== -1 ? tree.valueEnd[behind]! + 1 : tree.start[node]! + 1 + tree.names[tree.name[node]!]!.length;
  let blank = tree.attrStart[like.attr]!;
  while (/\s/.test(text[blank - 1]!)) blank--;
  const head = text.slice(blank, tree.valueStart[like.attr]!);
  const quote = text[tree.valueEnd[like.attr]!] as '"' | "'";
  const written = head + encodeValue(value, quote, fits)! + quote;
  return {
    kind: 'attribute',
    node,
    added: { name, value, owners: [owner] },
    patch: { start: at, end: at, text: written, owner },
  };
}

function addElement(
  tree: Tree,
  like: Site,
  from: number,
  to: number,
  value: string,
  fits: Fits,
  owner: string,
): Result<AddedField | null> {
  // The outermost element on the way that `to` does not have; it is to hold nothing else.
  let field = -1;
  let holder = to;
  for (let node = like.node; node !== from; node = tree.parent[node]!) {
    if (node === -1) return good(null);
    if (!likeSite(tree, { node, attr: TEXT }, from, to)) field = node;
  }
  if (field === -1 || !holdsOnly(tree, field, like)) return good(null);
  const above = tree.parent[field]!;
  if (above !== from) holder = likeSite(tree, { node: above, attr: TEXT }, from, to)!.node;
  const after = anchorOf(tree, field, above, holder);
  if (after === -1) return good(null);
  const whole = valueAt(tree, like);
  const lead = whole.length - whole.trimStart().length;
  const made = writeSpan(tree, like, lead, whole.trimEnd().length, value, fits, owner);
  if (!made.ok) return made;
  const { start, end, text: written } = made.value;
  const source = tree.text;
  const text =
    blankBefore(source, tree.start[after]!) +
    source.slice(tree.start[field]!, start) +
    written +
    source.slice(end, tree.end[field]!);
  const changed = whole.slice(0, lead) + value + whole.slice(whole.trimEnd().length);
  const at = tree.end[after]!;
  return good({
    kind: 'element',
    added: {
      device: null,
      after,
      parts: [field],
      values: new Map([[siteKey(like), changed]]),
      tags: new Map(),
      owners: [owner],
    },
    patch: { start: at, end: at, text, owner },
  });
}

/** The element of `to` that is like the one before `field` in `from`, or before that; else its last; -1 for none. */
function anchorOf(tree: Tree, field: number, from: number, to: number): number {
  if (isSelfClosed(tree, to)) return -1;
  let anchor = [...elementsOf(tree, to)].at(-1) ?? -1;
  for (const sibling of elementsOf(tree, from)) {
    if (sibling === field) break;
    const twin = likeSite(tree, { node: sibling, attr: TEXT }, from, to);
    if (twin) anchor = twin.node;
  }
  return anchor;
}

/** True where no other value and no remark stands in an element; attributes may tell what it is. */
function holdsOnly(tree: Tree, field: number, like: Site): boolean {
  for (let node = field; node < tree.after[field]!; node++) {
    if (tree.kind[node] === Kind.comment) return false;
    if (node !== like.node && isElement(tree, node) && isLeaf(tree, node) && textOf(tree, node).trim() !== '')
      return false;
  }
  return true;
}

function blankBefore(text: string, at: number): string {
  let from = at;
  while (from > 0 && /[ \t\r\n]/.test(text[from - 1]!)) from--;
  return text.slice(from, at);
}
