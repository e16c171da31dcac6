import type { Fits } from '../xml/edit.ts';
import { decodeReferences, encodeValue } from '../xml/escape.ts';
import { attributeValue, type Run, runsOf, textOf } from '../xml/site.ts';
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
import { type Style, styleOf } from './style.ts';

/** Writes nodes of one document in the style of another. */
export class Writer {
  private flat: boolean | null = null;

  constructor(
    private readonly from: Tree,
    private readonly style: Style,
    private readonly fits: Fits,
  ) {}

  /**
   * @param indent blanks before lines of the node itself, without those before its first; null to write on one line.
   * @param declares attributes that come to its own.
   */
  write(node: number, indent: string | null, declares: ReadonlyMap<string, string> = new Map()): string {
    const { from, style } = this;
    if (!isElement(from, node)) return this.single(node);
    let open = `<${nameOf(from, node)}`;
    const [first, end] = attributesOf(from, node);
    for (let attr = first; attr < end; attr++)
      open += this.attribute(from.names[from.attrName[attr]!]!, attributeValue(from, attr));
    for (const [name, value] of declares) open += this.attribute(name, value);
    const inside = this.inside(node, indent);
    const close = `</${nameOf(from, node)}>`;
    if (inside !== '') return `${open}>${inside}${close}`;
    return style.empty === '></' ? `${open}>${close}` : open + style.empty;
  }

  private attribute(name: string, value: string): string {
    const { quote } = this.style;
    return ` ${name}=${quote}${encodeValue(value, quote, this.fits)}${quote}`;
  }

  private inside(node: number, indent: string | null): string {
    const { from, style } = this;
    const mixed = firstElement(from, node) === -1 || textOf(from, node).trim() !== '';
    let inside = '';
    if (mixed) {
      // Text counts, so nothing comes between it and what stands beside it.
      for (const piece of this.pieces(node)) inside += typeof piece === 'string' ? piece : this.write(piece, null);
      return firstElement(from, node) === -1 && inside.trim() === '' ? '' : inside;
    }
    const dense = indent === null || this.isDense(node);
    const inner = dense ? null : indent + style.step;
    for (let child = firstChild(from, node); child !== -1; child = nextSibling(from, child)) {
      if (from.kind[child] === Kind.cdata) continue;
      inside += (inner === null ? '' : style.lineEnd + inner) + this.write(child, inner);
    }
    return inner === null ? inside : `${inside}${style.lineEnd}${indent}`;
  }

  /** As the other document writes elements of that name, else as this one wrote it. */
  private isDense(node: number): boolean {
    const { from, style } = this;
    if (style.oneLine) return true;
    const known = style.dense.get(nameOf(from, node));
    if (known !== undefined) return known;
    // A document on one line shows nothing of how it would be written on many.
    this.flat ??= styleOf(from).oneLine;
    if (this.flat) return false;
    return !/[\r\n]/.test(from.text.slice(from.openEnd[node]!, from.start[firstElement(from, node)]!));
  }

  /** Runs of text, written, and the nodes between them. */
  private pieces(node: number): (string | number)[] {
    const { from } = this;
    const pieces: (string | number)[] = [];
    const runs = runsOf(from, node);
    let next = 0;
    const take = (end: number) => {
      for (; next < runs.length && runs[next]!.start < end; next++) pieces.push(this.run(runs[next]!));
    };
    for (let child = firstChild(from, node); child !== -1; child = nextSibling(from, child)) {
      take(from.start[child]!);
      if (from.kind[child] === Kind.cdata) take(from.end[child]!);
      else pieces.push(child);
    }
    take(from.end[node]!);
    return pieces;
  }

  private run({ start, end, cdata }: Run): string {
    const { from, fits } = this;
    const raw = from.text.slice(start, end);
    const value = cdata ? raw.replace(/\r\n?/g, '\n') : decodeReferences(raw, false);
    const marked = cdata ? encodeValue(value, 'cdata', fits) : null;
    const written = marked === null ? encodeValue(value, 'text', fits)! : `<![CDATA[${marked}]]>`;
    return this.lines(written);
  }

  private single(node: number): string {
    const { from } = this;
    let written = '';
    // What an instruction or a comment holds cannot be escaped: by number it is still told apart by people.
    for (const char of from.text.slice(from.start[node]!, from.end[node]!).replace(/\r\n?/g, '\n'))
      written += char === '\n' || this.fits(char) ? char : `&#x${char.codePointAt(0)!.toString(16).toUpperCase()};`;
    return this.lines(written);
  }

  private lines(text: string): string {
    return this.style.lineEnd === '\n' ? text : text.replaceAll('\n', this.style.lineEnd);
  }
}
