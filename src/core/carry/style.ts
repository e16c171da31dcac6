import { attributesOf, firstChild, firstElement, isElement, isSelfClosed, nameOf, type Tree } from '../xml/tree.ts';

/** How a document is written, as far as it shows; what it does not show is as most documents have it. */
export interface Style {
  readonly lineEnd: string;
  /** What an element inside another is indented by, more than that one. */
  readonly step: string;
  /** True for a document whose elements do not stand on lines of their own. */
  readonly oneLine: boolean;
  readonly empty: '/>' | ' />' | '></';
  readonly quote: '"' | "'";
  /** Tags whose elements have what is inside them on the same line (true), or on lines of their own. */
  readonly dense: ReadonlyMap<string, boolean>;
}

export function styleOf(tree: Tree): Style {
  const { text } = tree;
  const ends = new Map<string, number>();
  for (const [end] of text.matchAll(/\r\n|\r|\n/g)) ends.set(end, (ends.get(end) ?? 0) + 1);
  const steps = new Map<string, number>();
  const empties = new Map<Style['empty'], number>();
  const quotes = new Map<Style['quote'], number>();
  const dense = new Map<string, boolean>();
  let onLines = 0;
  let inLines = 0;
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const [first, last] = attributesOf(tree, node);
    for (let attr = first; attr < last; attr++) count(quotes, text[tree.valueEnd[attr]!] as Style['quote']);
    if (isSelfClosed(tree, node)) count(empties, /\s/.test(text[tree.openEnd[node]! - 3] ?? '') ? ' />' : '/>');
    else if (tree.closeStart[node] === tree.openEnd[node] && firstChild(tree, node) === -1) count(empties, '></');
    const child = firstElement(tree, node);
    if (child === -1) continue;
    const before = text.slice(tree.openEnd[node]!, tree.start[child]!);
    const broken = /[\r\n]/.test(before);
    if (broken) onLines++;
    else inLines++;
    if (!dense.has(nameOf(tree, node))) dense.set(nameOf(tree, node), !broken);
    const outer = indentOf(tree, node);
    const inner = indentOf(tree, child);
    if (broken && outer !== null && inner?.startsWith(outer) && inner !== outer)
      count(steps, inner.slice(outer.length));
  }
  const flat = inLines > 0 && onLines === 0;
  return {
    lineEnd: most(ends) ?? '\n',
    step: most(steps) ?? (onLines > 0 ? '' : '  '),
    oneLine: flat,
    empty: most(empties) ?? '/>',
    quote: most(quotes) ?? '"',
    dense,
  };
}

function count<T>(counts: Map<T, number>, key: T): void {
  counts.set(key, (counts.get(key) ?? 0) + 1);
}

function most<T>(counts: ReadonlyMap<T, number>): T | null {
  let best: T | null = null;
  for (const [key, number] of counts) if (best === null || number > counts.get(best)!) best = key;
  return best;
}

/** The blanks before a node that begins its line; null for one that something stands before. */
export function indentOf(tree: Tree, node: number): string | null {
  let at = tree.start[node]!;
  while (at > 0 && (tree.text[at - 1] === ' ' || tree.text[at - 1] === '\t')) at--;
  return at === 0 || /[\r\n]/.test(tree.text[at - 1]!) ? tree.text.slice(at, tree.start[node]!) : null;
}
