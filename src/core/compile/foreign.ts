import { decodeReferences } from '../xml/escape.ts';
import { attributeValue, textOf } from '../xml/site.ts';
import {
  attributesOf,
  firstChild,
  firstElement,
  isElement,
  Kind,
  nameOf,
  nextSibling,
  type Tree,
} from '../xml/tree.ts';
import type { Foreign } from './edits.ts';
import {
  CDATA_KEY,
  COMMENT_KEY,
  type Item,
  isBlankText,
  itemAttributes,
  itemName,
  MARK,
  ownText,
  TEXT_KEY,
} from './items.ts';

/**
 * Whether an item of the other reader is what stands at a node of another document: names, attributes and values as they
 * read, comments and instructions, in order. How they are written there does not count, since layout, escapes, CDATA and
 * the style of empty elements are those of the document that they went into.
 * @returns the number of elements that agree; -1 where something does not.
 */
export function sameAsElsewhere({ from, node, declares }: Foreign, item: Item): number {
  const open: { node: number; item: Item; declared: ReadonlyMap<string, string> }[] = [
    { node, item, declared: declares },
  ];
  let elements = 0;
  for (let one = open.pop(); one; one = open.pop()) {
    if (!isElement(from, one.node)) {
      if (!sameSingle(from, one.node, one.item)) return -1;
      continue;
    }
    elements++;
    if (itemName(one.item) !== MARK + nameOf(from, one.node)) return -1;
    if (!sameAttributes(from, one.node, one.declared, itemAttributes(one.item))) return -1;
    const items = (one.item[itemName(one.item)] as Item[]).filter((inner) => !isBlankText(inner));
    const want = childrenOf(from, one.node);
    const got = items.filter((inner) => !(TEXT_KEY in inner) && !(CDATA_KEY in inner));
    if (want.length !== got.length || !sameText(from, one.node, one.item)) return -1;
    for (const [at, child] of want.entries()) open.push({ node: child, item: got[at]!, declared: none });
  }
  return elements;
}

const none: ReadonlyMap<string, string> = new Map();

function childrenOf(from: Tree, node: number): number[] {
  const children: number[] = [];
  for (let child = firstChild(from, node); child !== -1; child = nextSibling(from, child))
    if (from.kind[child] !== Kind.cdata) children.push(child);
  return children;
}

/** A leaf's text counts as it is; beside elements only what is no white space does. */
function sameText(from: Tree, node: number, item: Item): boolean {
  const wanted = textOf(from, node);
  const found = (item[itemName(item)] as Item[]).map(ownText).join('');
  if (firstElement(from, node) === -1) return wanted === found || (wanted.trim() === '' && found.trim() === '');
  return wanted.replace(/\s+/g, '') === found.replace(/\s+/g, '');
}

function sameAttributes(
  from: Tree,
  node: number,
  declared: ReadonlyMap<string, string>,
  got: Record<string, string>,
): boolean {
  const [first, end] = attributesOf(from, node);
  const wanted = new Map<string, string>();
  for (let attr = first; attr < end; attr++) wanted.set(from.names[from.attrName[attr]!]!, attributeValue(from, attr));
  for (const [name, value] of declared) wanted.set(name, value);
  const names = Object.keys(got);
  return (
    names.length === wanted.size &&
    names.every((name) => decodeReferences(got[name]!, true) === wanted.get(name.slice(MARK.length)))
  );
}

function sameSingle(from: Tree, node: number, item: Item): boolean {
  const name = itemName(item);
  if (from.kind[node] === Kind.instruction) return name === `?${nameOf(from, node)}`;
  if (name !== COMMENT_KEY) return false;
  const wanted = from.text.slice(from.start[node]! + 4, from.end[node]! - 3);
  const found = String((item[name] as Item[])[0]?.[TEXT_KEY] ?? '');
  // A letter that the encoding lacks is written by number, which means nothing in a comment but is read by people.
  return decodeReferences(wanted.replace(/\r\n?/g, '\n'), false) === decodeReferences(found, false);
}
