import type { SiteSet } from '../reading/fields/site-set.ts';
import { keySite, keyValue } from '../reading/keys/record-name.ts';
import type { Collection, Key, Reading } from '../reading/reading.ts';
import { hiddenSites } from '../reading/secrets/hidden-sites.ts';
import { hashOf } from '../text/hash.ts';
import { attributeValue, TEXT, textOf } from '../xml/site.ts';
import { attributesOf, elementsOf, firstElement, nameOf, type Tree } from '../xml/tree.ts';

/**
 * What tells a record from its kin, in words that a saved plan can hold: `@name` for an attribute, `a/b` for an element
 * inside it, `!` for its own tag, empty where all that it holds has to do.
 */
export type KeySpec = string;

/** Signs of a mark. */
export const MARK = 5;

const signs = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';

/** Thirty bits of a text, as five signs. No text can be read back from it; who guesses one can see that it is the same. */
export function markOf(text: string): string {
  let bits = Number.parseInt(hashOf(text).slice(0, 8), 16) >>> 2;
  let mark = '';
  for (let at = 0; at < MARK; at++) {
    mark += signs[bits & 63];
    bits >>>= 6;
  }
  return mark;
}

export function specOf(key: Key): KeySpec {
  switch (key.by) {
    case 'tag':
      return '!';
    case 'attribute':
      return `@${key.name}`;
    case 'leaf':
      return key.path.join('/');
    case 'position':
      return '';
    default:
      return key satisfies never;
  }
}

const keyOf = (spec: KeySpec): Key =>
  spec === '!'
    ? { by: 'tag' }
    : spec.startsWith('@')
      ? { by: 'attribute', name: spec.slice(1) }
      : { by: 'leaf', path: spec.split('/') };

/** Marks of elements by their keys, or by all that they hold; no secret goes into one, not even as a mark. */
export class RecordMarks {
  private readonly hidden: SiteSet;
  private readonly bySpec = new Map<string, Map<string, number[]>>();

  constructor(
    readonly tree: Tree,
    readonly reading: Reading,
  ) {
    this.hidden = hiddenSites(tree, reading);
  }

  /** How the records of a collection are told apart: by its key where that is no secret and each has another. */
  specFor({ key, records }: Collection): KeySpec {
    if (key.by === 'position' || (key.by === 'leaf' && key.path.some((step) => step.includes('/')))) return '';
    const values = new Set<string>();
    for (const record of records) {
      const value = keyValue(this.tree, key, record);
      if (value === '' || values.has(value) || this.isHidden(key, record)) return '';
      values.add(value);
    }
    return specOf(key);
  }

  /** The mark of an element; empty where it has no such key. */
  mark(node: number, spec: KeySpec): string {
    if (spec === '') return markOf(this.content(node));
    const key = keyOf(spec);
    const value = keyValue(this.tree, key, node);
    return value === '' || this.isHidden(key, node) ? '' : markOf(value);
  }

  /** The elements of one name in a parent that have a mark. */
  among(parent: number, name: string, spec: KeySpec, mark: string): readonly number[] {
    const where = `${parent} ${name} ${spec}`;
    let marks = this.bySpec.get(where);
    if (!marks) {
      marks = new Map();
      for (const node of elementsOf(this.tree, parent)) {
        if (nameOf(this.tree, node) !== name) continue;
        const own = this.mark(node, spec);
        const kin = marks.get(own);
        if (kin) kin.push(node);
        else marks.set(own, [node]);
      }
      this.bySpec.set(where, marks);
    }
    return marks.get(mark) ?? [];
  }

  private isHidden(key: Key, node: number): boolean {
    const { tree } = this;
    const site = key.by === 'tag' ? null : keySite(tree, key, node);
    return site !== null && this.hidden.has(site.node, site.attr);
  }

  /** All that an element holds, but for layout, comments and secrets. */
  private content(node: number): string {
    const { tree } = this;
    let text = `<${nameOf(tree, node)}`;
    const [first, end] = attributesOf(tree, node);
    for (let attr = first; attr < end; attr++) {
      const value = this.hidden.has(node, attr) ? '' : attributeValue(tree, attr);
      text += ` ${tree.names[tree.attrName[attr]!]}=${JSON.stringify(value)}`;
    }
    text += '>';
    if (firstElement(tree, node) === -1)
      return text + (this.hidden.has(node, TEXT) ? '' : JSON.stringify(textOf(tree, node).trim()));
    for (const child of elementsOf(tree, node)) text += this.content(child);
    return `${text}</>`;
  }
}
