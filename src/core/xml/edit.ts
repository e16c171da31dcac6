import type { Patch } from '../patch/patch-set.ts';
import { bad, good, type Result } from '../trouble.ts';
import { encodeValue } from './escape.ts';
import { isName } from './name.ts';
import { pieceOf, runsOf, type Site } from './site.ts';
import { firstChild, isSelfClosed, Kind, nameOf, type Tree } from './tree.ts';

/** Whether the file's encoding holds a character; what does not fit is written by number. */
export type Fits = (char: string) => boolean;

/** Source patch that makes the units [from, to) of a site's decoded value into `text`, in the style of the place. */
export function writeSpan(
  tree: Tree,
  site: Site,
  from: number,
  to: number,
  text: string,
  fits: Fits,
  owner: string,
): Result<Patch> {
  const piece = pieceOf(tree, site, from, to);
  if (!piece) return bad({ code: 'value-in-two-pieces', offset: tree.start[site.node]! });
  const quote = piece.attribute ? (tree.text[tree.valueEnd[site.attr]!] as '"' | "'") : 'text';
  const encoded = encodeValue(text, piece.cdata ? 'cdata' : quote, fits);
  if (encoded === null) return bad({ code: 'character-does-not-fit', offset: piece.start, params: { char: text } });
  return good({ start: piece.start, end: piece.end, text: encoded, owner });
}

/** Source patches that make `text` the whole value of a leaf or an attribute. */
export function writeValue(tree: Tree, site: Site, text: string, fits: Fits, owner: string): Result<Patch[]> {
  const { node, attr } = site;
  if (attr >= 0) {
    const start = tree.valueStart[attr]!;
    const end = tree.valueEnd[attr]!;
    const encoded = encodeValue(text, tree.text[end] as '"' | "'", fits)!;
    return good([{ start, end, text: encoded, owner }]);
  }
  const start = tree.openEnd[node]!;
  if (isSelfClosed(tree, node)) {
    if (text === '') return good([]);
    let slash = start - 2;
    while (/\s/.test(tree.text[slash - 1]!)) slash--;
    const plain = encodeValue(text, 'text', fits)!;
    return good([{ start: slash, end: start, text: `>${plain}</${nameOf(tree, node)}>`, owner }]);
  }
  if (text === '' && firstChild(tree, node) === -1 && closesEmptyTags(tree)) {
    return good([{ start: start - 1, end: tree.end[node]!, text: '/>', owner }]);
  }
  // Comments between the runs stay: the value goes into one run, the others are emptied.
  const runs = runsOf(tree, node);
  const home = runs.find((run) => run.cdata || /\S/.test(tree.text.slice(run.start, run.end))) ??
    runs[0] ?? { start, end: start, cdata: false };
  const encoded = encodeValue(text, home.cdata ? 'cdata' : 'text', fits);
  if (encoded === null) return bad({ code: 'character-does-not-fit', offset: home.start, params: { char: text } });
  const emptied = runs.filter((run) => run !== home && run.end > run.start);
  return good([
    { start: home.start, end: home.end, text: encoded, owner },
    ...emptied.map((run) => ({ start: run.start, end: run.end, text: '', owner })),
  ]);
}

/** Whether the file writes most of its empty elements as `<a/>`. */
function closesEmptyTags(tree: Tree): boolean {
  let balance = 0;
  for (let node = 0; node < tree.size; node++) {
    if (tree.kind[node] !== Kind.element || tree.closeStart[node] !== tree.openEnd[node]) continue;
    balance += isSelfClosed(tree, node) ? 1 : -1;
  }
  return balance > 0;
}

/** Source patches that rename an element: its open and its close tag. */
export function writeTag(tree: Tree, node: number, name: string, owner: string): Result<Patch[]> {
  if (!isName(name)) return bad({ code: 'name-not-allowed', offset: tree.start[node]!, params: { name } });
  const length = nameOf(tree, node).length;
  const open = tree.start[node]! + 1;
  const patches = [{ start: open, end: open + length, text: name, owner }];
  if (!isSelfClosed(tree, node)) {
    const close = tree.closeStart[node]! + 2;
    patches.push({ start: close, end: close + length, text: name, owner });
  }
  return good(patches);
}
