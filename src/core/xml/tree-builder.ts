import { Kind, type Tree } from './tree.ts';

/** Collects the nodes of one read in document order. Arrays double as they fill and are cut to size at the end. */
export class TreeBuilder {
  private readonly names: string[] = [];
  private readonly known = new Map<string, number>();
  private readonly stack: number[] = [];
  private size = 0;
  private attributes = 0;
  private root = -1;
  private kind = new Uint8Array(1024);
  private parent = new Int32Array(1024);
  private name = new Int32Array(1024);
  private start = new Int32Array(1024);
  private openEnd = new Int32Array(1024);
  private closeStart = new Int32Array(1024);
  private end = new Int32Array(1024);
  private after = new Int32Array(1024);
  private attrFirst = new Int32Array(1024);
  private attrName = new Int32Array(1024);
  private attrStart = new Int32Array(1024);
  private valueStart = new Int32Array(1024);
  private valueEnd = new Int32Array(1024);
  /** The element that was closed last, -1 before the first. */
  lastClosed = -1;

  constructor(private readonly text: string) {}

  get depth(): number {
    return this.stack.length;
  }

  /** Name of the innermost element that is still open. */
  openName(): string {
    const node = this.stack.at(-1);
    return node === undefined ? '' : this.names[this.name[node]!]!;
  }

  /** Adds an element whose open tag spans [start, end); returns how many attributes it has. */
  open(name: string, start: number, end: number): number {
    const node = this.add(Kind.element, name, start, end);
    if (this.root === -1) this.root = node;
    const before = this.attributes;
    this.readAttributes(start + 1 + name.length, end);
    this.stack.push(node);
    return this.attributes - before;
  }

  close(closeStart: number, end: number): void {
    const node = this.stack.pop()!;
    this.closeStart[node] = closeStart;
    this.end[node] = end;
    this.after[node] = this.size;
    this.lastClosed = node;
  }

  /** Adds a node that holds no others. */
  single(kind: Kind, name: string, start: number, end: number): void {
    const node = this.add(kind, name, start, end);
    this.closeStart[node] = end;
    this.end[node] = end;
    this.after[node] = this.size;
  }

  /** The tree so far; elements that are still open end where the text ends. */
  tree(): Tree {
    for (const node of this.stack) {
      this.closeStart[node] = this.text.length;
      this.end[node] = this.text.length;
      this.after[node] = this.size;
    }
    const { size, attributes } = this;
    const attrFirst = new Int32Array(size + 1);
    attrFirst.set(this.attrFirst.subarray(0, size));
    attrFirst[size] = attributes;
    return {
      text: this.text,
      names: this.names,
      size,
      kind: this.kind.slice(0, size),
      parent: this.parent.slice(0, size),
      name: this.name.slice(0, size),
      start: this.start.slice(0, size),
      openEnd: this.openEnd.slice(0, size),
      closeStart: this.closeStart.slice(0, size),
      end: this.end.slice(0, size),
      after: this.after.slice(0, size),
      attrFirst,
      attrName: this.attrName.slice(0, attributes),
      attrStart: this.attrStart.slice(0, attributes),
      valueStart: this.valueStart.slice(0, attributes),
      valueEnd: this.valueEnd.slice(0, attributes),
      root: this.root,
    };
  }

  private add(kind: Kind, name: string, start: number, openEnd: number): number {
    if (this.size === this.start.length) this.growNodes();
    const node = this.size++;
    this.kind[node] = kind;
    this.parent[node] = this.stack.length ? this.stack[this.stack.length - 1]! : -1;
    this.name[node] = name === '' ? -1 : this.intern(name);
    this.start[node] = start;
    this.openEnd[node] = openEnd;
    this.attrFirst[node] = this.attributes;
    return node;
  }

  private intern(name: string): number {
    let index = this.known.get(name);
    if (index === undefined) {
      index = this.names.push(name) - 1;
      this.known.set(name, index);
    }
    return index;
  }

  /** Spans of the attributes of an open tag that the strict pass has already accepted. */
  private readAttributes(from: number, end: number): void {
    const { text } = this;
    let at = from;
    for (;;) {
      while (isSpace(text.charCodeAt(at))) at++;
      const unit = text.charCodeAt(at);
      if (unit === GREATER || unit === SLASH || at >= end) return;
      const start = at;
      while (text.charCodeAt(at) !== EQUALS && !isSpace(text.charCodeAt(at))) at++;
      const nameEnd = at;
      while (text.charCodeAt(at) !== EQUALS) at++;
      at++;
      while (isSpace(text.charCodeAt(at))) at++;
      const close = text.indexOf(text[at]!, at + 1);
      if (this.attributes === this.attrName.length) this.growAttributes();
      this.attrName[this.attributes] = this.intern(text.slice(start, nameEnd));
      this.attrStart[this.attributes] = start;
      this.valueStart[this.attributes] = at + 1;
      this.valueEnd[this.attributes] = close;
      this.attributes++;
      at = close + 1;
    }
  }

  private growNodes(): void {
    const wider = new Uint8Array(this.kind.length * 2);
    wider.set(this.kind);
    this.kind = wider;
    for (const key of ['parent', 'name', 'start', 'openEnd', 'closeStart', 'end', 'after', 'attrFirst'] as const) {
      this[key] = doubled(this[key]);
    }
  }

  private growAttributes(): void {
    for (const key of ['attrName', 'attrStart', 'valueStart', 'valueEnd'] as const) this[key] = doubled(this[key]);
  }
}

const EQUALS = 0x3d;
const GREATER = 0x3e;
const SLASH = 0x2f;

const isSpace = (unit: number) => unit === 0x20 || unit === 0x0a || unit === 0x09 || unit === 0x0d;

function doubled(array: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> {
  const wider = new Int32Array(array.length * 2);
  wider.set(array);
  return wider;
}
