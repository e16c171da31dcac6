import type { Foreign } from '../compile/edits.ts';
import type { Patch } from '../patch/patch-set.ts';
import type { Fits } from '../xml/edit.ts';
import { namespaceAt } from '../xml/namespaces.ts';
import { attributeValue, textOf } from '../xml/site.ts';
import {
  attribute,
  attributesOf,
  firstElement,
  isElement,
  isLeaf,
  isSelfClosed,
  Kind,
  nameOf,
  nextSibling,
  type Tree,
} from '../xml/tree.ts';
import { isDeclaration } from './match.ts';
import type { Insert, Orders } from './merge.ts';
import { indentOf, type Style, styleOf } from './style.ts';
import { Writer } from './writer.ts';

const OWNER = 'graft';

/** Puts elements of one document into another: patches on the other's text, and the same as facts. */
export class Placing {
  readonly patches: Patch[] = [];
  readonly foreign: Foreign[] = [];
  private readonly style: Style;
  private readonly writer: Writer;
  /** Whether either document declares namespaces. */
  private spaced: boolean | null = null;

  constructor(
    private readonly from: Tree,
    private readonly to: Tree,
    fits: Fits,
  ) {
    this.style = styleOf(to);
    this.writer = new Writer(from, this.style, fits);
  }

  /** In the place of an element, which goes. */
  swap({ from: node, to: other }: Orders['swaps'][number]): void {
    const { to } = this;
    const declares = this.declaresFor(node, to.parent[other]!);
    const text = this.writer.write(node, this.style.oneLine ? null : indentOf(to, other), declares);
    this.patches.push({ start: to.start[other]!, end: to.end[other]!, text, owner: OWNER });
    this.foreign.push({ place: 'after', at: other, from: this.from, node, declares });
  }

  /** Those that go to one place go there together. */
  insert(inserts: readonly Insert[]): void {
    const groups = new Map<string, Insert[]>();
    for (const one of inserts) {
      const key = `${one.place} ${one.at}`;
      const group = groups.get(key);
      if (group) group.push(one);
      else groups.set(key, [one]);
    }
    for (const group of groups.values()) {
      const { place, at } = group[0]!;
      const nodes = group.flatMap((one) => one.nodes);
      if (place === 'after') this.after(at, nodes);
      else this.first(at, nodes);
    }
  }

  private after(element: number, nodes: readonly number[]): void {
    const { to, style } = this;
    const indent = style.oneLine ? null : indentOf(to, element);
    // A comment on the same line belongs to the element.
    let at = element;
    for (let next = nextSibling(to, at); indent !== null && next !== -1; next = nextSibling(to, next)) {
      if (to.kind[next] !== Kind.comment || /[^ \t]/.test(to.text.slice(to.end[at]!, to.start[next]!))) break;
      at = next;
    }
    const offset = to.end[at]!;
    const lead = indent === null ? '' : style.lineEnd + indent;
    const parent = to.parent[element]!;
    this.patches.push({ start: offset, end: offset, text: this.written(nodes, parent, lead, indent), owner: OWNER });
    this.note('after', at, nodes, parent);
  }

  private first(parent: number, nodes: readonly number[]): void {
    const { to, style } = this;
    const start = to.openEnd[parent]!;
    const child = firstElement(to, parent);
    const own = indentOf(to, parent);
    const outer = own ?? '';
    const broken =
      child === -1
        ? own !== null && !style.oneLine && !(style.dense.get(nameOf(to, parent)) ?? false)
        : indentOf(to, child) !== null;
    const indent = !broken ? null : child === -1 ? outer + style.step : indentOf(to, child)!;
    const lead = indent === null ? '' : style.lineEnd + indent;
    const body = this.written(nodes, parent, lead, indent);
    const tail = indent === null ? '' : style.lineEnd + outer;
    if (isSelfClosed(to, parent)) {
      let slash = start - 2;
      while (/\s/.test(to.text[slash - 1]!)) slash--;
      this.patches.push({ start: slash, end: start, text: `>${body}${tail}</${nameOf(to, parent)}>`, owner: OWNER });
    } else {
      // White space that is there already leads to what follows.
      const empty = to.closeStart[parent] === start;
      this.patches.push({ start, end: start, text: empty ? body + tail : body, owner: OWNER });
    }
    this.note('first', parent, nodes, parent);
  }

  private written(nodes: readonly number[], parent: number, lead: string, indent: string | null): string {
    return nodes.map((node) => lead + this.writer.write(node, indent, this.declaresFor(node, parent))).join('');
  }

  private note(place: Foreign['place'], at: number, nodes: readonly number[], parent: number): void {
    for (const node of nodes)
      this.foreign.push({ place, at, from: this.from, node, declares: this.declaresFor(node, parent) });
  }

  /** Namespaces that an element means by its prefixes and that the place does not mean by them. */
  private declaresFor(node: number, parent: number): ReadonlyMap<string, string> {
    const { from, to } = this;
    this.spaced ??= [...from.names, ...to.names].some(isDeclaration);
    const declares = new Map<string, string>();
    if (!this.spaced || !isElement(from, node)) return declares;
    const above = from.parent[node]!;
    for (const prefix of prefixesIn(from, node)) {
      const name = prefix === '' ? 'xmlns' : `xmlns:${prefix}`;
      if (prefix === 'xml' || attribute(from, node, name) !== -1) continue;
      const meant = above === -1 ? null : namespaceAt(from, above, prefix);
      if (meant === namespaceAt(to, parent, prefix)) continue;
      if (meant !== null) declares.set(name, meant);
      else if (prefix === '') declares.set(name, '');
    }
    return declares;
  }
}

/** Prefixes of names inside an element, and what stands like one in a value; '' for names without. */
function prefixesIn(tree: Tree, top: number): Set<string> {
  const prefixes = new Set<string>();
  const add = (name: string, bare: boolean) => {
    const cut = name.indexOf(':');
    if (cut > 0) prefixes.add(name.slice(0, cut));
    else if (bare) prefixes.add('');
  };
  const inValue = (value: string) => {
    const found = /^\s*([\p{L}_][\p{L}\p{N}._-]*):[\p{L}_]/u.exec(value);
    if (found) prefixes.add(found[1]!);
  };
  for (let node = top; node < tree.after[top]!; node++) {
    if (!isElement(tree, node)) continue;
    add(nameOf(tree, node), true);
    const [first, end] = attributesOf(tree, node);
    for (let attr = first; attr < end; attr++) {
      const name = tree.names[tree.attrName[attr]!]!;
      if (isDeclaration(name)) continue;
      add(name, false);
      inValue(attributeValue(tree, attr));
    }
    if (isLeaf(tree, node) && tree.closeStart[node]! - tree.openEnd[node]! < 200) inValue(textOf(tree, node));
  }
  return prefixes;
}
