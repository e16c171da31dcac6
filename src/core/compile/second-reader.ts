import { bad, good, type Result, type Trouble } from '../trouble.ts';
import { decodeReferences } from '../xml/escape.ts';
import { pathOf } from '../xml/path.ts';
import { type Site, TEXT } from '../xml/site.ts';
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
import { type AddedAttribute, type AddedRecord, type Edits, type Foreign, siteKey } from './edits.ts';
import { sameAsElsewhere } from './foreign.ts';
import {
  CDATA_KEY,
  COMMENT_KEY,
  type Item,
  isBlankText,
  itemAttributes,
  itemName,
  MARK,
  ownText,
  parser,
  TEXT_KEY,
  textRuns,
} from './items.ts';

/**
 * The second, independent reading: fast-xml-parser, which shares no code with the strict read, reads the result, and its
 * tree is held against the donor's tree with the plan's edits. Everything counts: names, attributes and their order,
 * values, CDATA, comments, instructions; only white space between elements does not, since it goes with what is left out.
 * @returns the number of elements that agree, or the first place that does not.
 */
export function readAgain(tree: Tree, edits: Edits, result: string): Result<number> {
  let items: Item[];
  try {
    items = parser.parse(result) as Item[];
  } catch (error) {
    return bad({ code: 'second-reader-differs', params: { what: 'refused', reason: (error as Error).message } });
  }
  const comparison = new Comparison(tree, edits);
  const trouble = comparison.top(items);
  return trouble ? bad(trouble) : good(comparison.elements);
}

/** What comes of the elements of the donor in one place of the result: where they were, or in a copy. */
interface Making {
  readonly leftOut: (node: number) => boolean;
  readonly value: (site: Site) => string | undefined;
  readonly name: (node: number) => string | undefined;
  readonly attribute: (node: number) => AddedAttribute | undefined;
}

/** One element of the donor, or what comes from another document, that the result must have. */
interface Wanted {
  readonly node: number;
  readonly making: Making;
  readonly foreign?: Foreign;
}

/** An element that agrees, with what the other reader found inside. */
interface Pair extends Wanted {
  readonly items: Item[];
}

class Comparison {
  elements = 0;
  private readonly kept: Making;
  private readonly addedAfter = new Map<number, AddedRecord[]>();
  /** What comes from elsewhere, by `placeKey`. */
  private readonly foreign = new Map<string, Foreign[]>();

  constructor(
    private readonly tree: Tree,
    edits: Edits,
  ) {
    const written = new Set<number>();
    for (const { site } of edits.values.values()) written.add(site.node);
    this.kept = {
      leftOut: (node) => edits.leftOut.has(node) || edits.goneComments.has(node),
      value: (site) => (written.has(site.node) ? edits.values.get(siteKey(site))?.value : undefined),
      name: (node) => edits.tags.get(node)?.name,
      attribute: (node) => edits.attributes?.get(node),
    };
    for (const added of edits.added)
      this.addedAfter.set(added.after, [...(this.addedAfter.get(added.after) ?? []), added]);
    for (const one of edits.foreign ?? []) {
      const list = this.foreign.get(placeKey(one));
      if (list) list.push(one);
      else this.foreign.set(placeKey(one), [one]);
    }
  }

  top(items: Item[]): Trouble | null {
    const want: number[] = [];
    for (let node = 0; node < this.tree.size; node = this.tree.after[node]!) want.push(node);
    const pairs: Pair[] = [];
    const first = this.children(
      -1,
      want.filter((node) => !this.kept.leftOut(node)).map((node) => ({ node, making: this.kept })),
      items.filter((item) => !isBlankText(item)),
      pairs,
    );
    if (first) return first;
    for (let pair = pairs.pop(); pair; pair = pairs.pop()) {
      const trouble = this.inside(pair, pairs);
      if (trouble) return trouble;
    }
    return null;
  }

  /** The copies that stand behind an element. */
  private copies(node: number): readonly Wanted[] {
    const added = this.addedAfter.get(node);
    if (!added) return NONE;
    return added.flatMap(({ parts, values, tags }) => {
      const making: Making = {
        leftOut: (inner) => this.tree.kind[inner] === Kind.comment,
        value: (site) => values.get(siteKey(site)),
        name: (inner) => tags.get(inner),
        attribute: () => undefined,
      };
      return parts.map((part) => ({ node: part, making }));
    });
  }

  /** What comes from elsewhere to stand behind a node, or first in it. */
  private comers(place: Foreign['place'], at: number): readonly Wanted[] {
    if (this.foreign.size === 0) return NONE;
    const list = this.foreign.get(placeKey({ place, at })) ?? [];
    return list.map((foreign) => ({ node: at, making: this.kept, foreign }));
  }

  /** What stands inside one element. */
  private inside({ node, making, items }: Pair, pairs: Pair[]): Trouble | null {
    const { tree } = this;
    const value = making.value({ node, attr: TEXT });
    if (value !== undefined) {
      const got = items.map((item) => ownText(item)).join('');
      return got === value ? null : this.differs(node, 'value');
    }
    const kept = making === this.kept;
    const first = kept ? this.comers('first', node) : NONE;
    if (firstChild(tree, node) === -1 && first.length === 0 && items.length <= 1) {
      const got = items.length === 0 ? '' : items[0]![TEXT_KEY];
      // Anything else than text is told below.
      if (typeof got === 'string') {
        const wanted = asRead(
          tree.text.slice(tree.openEnd[node]!, Math.max(tree.openEnd[node]!, tree.closeStart[node]!)),
        );
        return wanted === got ? null : this.differs(node, 'text');
      }
    }
    const structural = firstElement(tree, node) !== -1 || first.length > 0;
    const want: Wanted[] = [];
    let text = '';
    const runs: string[] = [];
    let at = tree.openEnd[node]!;
    const take = (end: number) => {
      text += tree.text.slice(at, end);
    };
    const stand = (one: Wanted) => {
      runs.push(text);
      text = '';
      want.push(one);
    };
    first.forEach(stand);
    for (let child = firstChild(tree, node); child !== -1; child = nextSibling(tree, child)) {
      take(tree.start[child]!);
      at = tree.end[child]!;
      if (!making.leftOut(child)) stand({ node: child, making });
      if (!kept) continue;
      if (!making.leftOut(child)) this.copies(child).forEach(stand);
      this.comers('after', child).forEach(stand);
    }
    if (tree.closeStart[node]! > at) take(tree.closeStart[node]!);
    runs.push(text);
    const nodes = items.filter((item) => !(TEXT_KEY in item));
    const trouble = this.children(node, want, nodes, pairs);
    if (trouble) return trouble;
    const got = textRuns(items);
    for (const [k, run] of runs.entries()) {
      const wanted = asRead(run);
      const found = got[k] ?? '';
      if (wanted === found || (structural && wanted.trim() === found.trim())) continue;
      return this.differs(node, 'text');
    }
    return null;
  }

  /** Names and attributes of siblings; what is inside them is left for later in `pairs`. */
  private children(parent: number, want: readonly Wanted[], items: Item[], pairs: Pair[]): Trouble | null {
    const { tree } = this;
    if (want.length !== items.length) return this.differs(parent === -1 ? tree.root : parent, 'children');
    for (const [k, { node, making, foreign }] of want.entries()) {
      const item = items[k]!;
      if (foreign) {
        const agreed = sameAsElsewhere(foreign, item);
        if (agreed === -1) return this.differs(parent, 'content');
        this.elements += agreed;
        continue;
      }
      const name = itemName(item);
      if (!isElement(tree, node)) {
        if (!this.sameSingle(node, name, item)) return this.differs(node, 'content');
        continue;
      }
      if (name !== MARK + (making.name(node) ?? nameOf(tree, node))) return this.differs(node, 'name');
      if (!this.sameAttributes(node, making, itemAttributes(item))) return this.differs(node, 'attributes');
      this.elements++;
      pairs.push({ node, making, items: item[name] as Item[] });
    }
    return null;
  }

  private sameSingle(node: number, name: string, item: Item): boolean {
    const { tree } = this;
    if (tree.kind[node] === Kind.instruction) return name === `?${nameOf(tree, node)}`;
    const comment = tree.kind[node] === Kind.comment;
    if (name !== (comment ? COMMENT_KEY : CDATA_KEY)) return false;
    const raw = tree.text.slice(tree.start[node]! + (comment ? 4 : 9), tree.end[node]! - 3);
    return asRead(raw) === ((item[name] as Item[])[0]?.[TEXT_KEY] ?? '');
  }

  private sameAttributes(node: number, making: Making, got: Record<string, string>): boolean {
    const { tree } = this;
    const [first, end] = attributesOf(tree, node);
    const more = making.attribute(node);
    if (Object.keys(got).length !== end - first + (more ? 1 : 0)) return false;
    if (more && decodeReferences(got[MARK + more.name] ?? '', true) !== more.value) return false;
    for (let attr = first; attr < end; attr++) {
      const key = MARK + tree.names[tree.attrName[attr]!];
      if (!(key in got)) return false;
      const value = making.value({ node, attr });
      if (value !== undefined) {
        if (decodeReferences(got[key]!, true) !== value) return false;
        continue;
      }
      const raw = tree.text.slice(tree.valueStart[attr]!, tree.valueEnd[attr]!);
      if (asRead(raw) !== got[key]) return false;
    }
    return true;
  }

  private differs(node: number, what: string): Trouble {
    return {
      code: 'second-reader-differs',
      offset: this.tree.start[node]!,
      params: { what, path: pathOf(this.tree, isElement(this.tree, node) ? node : this.tree.parent[node]!) },
    };
  }
}

const NONE: readonly Wanted[] = [];

/** Line ends as a reader makes them (XML 1.0, 2.11). */
const asRead = (text: string) => (text.includes('\r') ? text.replace(/\r\n?/g, '\n') : text);

const placeKey = ({ place, at }: Pick<Foreign, 'place' | 'at'>) => `${place} ${at}`;
