import { couldName, isBuiltIn, wrapsLiteral } from '../../reading/names/dangling.ts';
import { mayBeOperator, type Operator, operatorKey } from '../../reading/names/operators.ts';
import { piecesOf } from '../../reading/names/pieces.ts';
import type { Dangling, Reading, Reference } from '../../reading/reading.ts';
import { TEXT, valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import { eachCellAt, siteKey } from '../facts/tables.ts';

/** A name in a value, and where it begins there. */
export interface NameAt {
  readonly text: string;
  readonly from: number;
}

/** How the values of one field hold names, learned from those that the donor has. */
interface Manner {
  /** The field's own index in `reading.fields`. */
  readonly field: number;
  /** What stands between names; null where every value is one. */
  readonly separator: RegExp | null;
  /** What stands there and names nothing: words of the dialect, addresses. */
  readonly words: ReadonlySet<string>;
  /** Whether ports stand there too, which need no record. */
  readonly ports: boolean;
}

type Item = Pick<Reference | Dangling, 'site' | 'from' | 'value' | 'field'>;

/** Marks part names wherever they stand; blanks only where they stand between two. */
const signs = [',', ';', '|'].map((sign) => ({ sign, by: new RegExp(`\\s*[${sign}]\\s*`, 'g') }));
const gaps = [
  { sign: /\n/, by: /\s*\n\s*/g },
  { sign: /\s/, by: /\s+/g },
];
const bare: Operator = { before: '', after: '' };

/** Reads names in new values as the donor's values hold them. Made once for a reading; linear in its references. */
export class NamesInValues {
  private readonly items = new Map<number, Item[]>();
  private readonly manners = new Map<number, Manner | null>();
  /** Signs around names anywhere in the document, the longest first, `bare` last. */
  private marks: readonly Operator[] | null = null;
  private readonly fieldOf = new Map<number, number>();
  private readonly portFields = new Set<number>();

  constructor(
    private readonly tree: Tree,
    private readonly reading: Reading,
  ) {
    for (const one of [...reading.references, ...reading.dangling]) {
      const list = this.items.get(one.field);
      if (list) list.push(one);
      else this.items.set(one.field, [one]);
    }
    const firsts = new Map<number, number>();
    const sites = [...this.items].map(([index, [{ site }]]) => {
      firsts.set(siteKey(site.node, site.attr), index);
      return site;
    });
    eachCellAt(reading, sites, ({ field }, key) => {
      if (!field.begins) this.fieldOf.set(field.index, firsts.get(key)!);
    });
    const ports = reading.mentions.map(({ site }) => site);
    eachCellAt(reading, ports, ({ field }) => {
      if (!field.begins) this.portFields.add(field.index);
    });
  }

  /** How names stand in a field of the reading's values; null where it names nothing. */
  mannerOf(field: number): Manner | null {
    let manner = this.manners.get(field);
    if (manner === undefined) {
      const index = this.fieldOf.get(field);
      manner =
        index === undefined
          ? null
          : this.learn(index, this.reading.values.fields[field]!.distinct, this.portFields.has(field));
      this.manners.set(field, manner);
    }
    return manner;
  }

  /**
   * The names in a value, operators cut off, with those that no record has.
   * @param isName whether a record goes by it
   * @param names names that records go by, to tell a mistyped one from what is no name at all
   */
  namesIn(
    value: string,
    { field, separator, words, ports }: Manner,
    isName: (text: string) => boolean,
    names: readonly string[],
  ): NameAt[] {
    const marks = this.allMarks();
    const exact = this.reading.standard !== null && this.reading.fields[field]?.tier === 'certain';
    const found: NameAt[] = [];
    const lead = value.length - value.trimStart().length;
    for (const piece of value.trim() === '' ? [] : piecesOf(value.trim(), separator)) {
      const readings = marks.flatMap((mark) => {
        const text = without(mark, piece.text);
        return text === null ? [] : [{ text, from: lead + piece.from + mark.before.length }];
      });
      const known = readings.find(({ text }) => isName(text)) ?? within(piece, isName, lead);
      if (known) found.push(known);
      else if (exact || (!ports && !words.has(piece.text) && isAmiss(readings[0]!.text, names)))
        found.push(readings[0]!);
    }
    return found;
  }

  private learn(index: number, distinct: readonly string[], ports: boolean): Manner {
    const own = new Set<string>();
    const inner: string[] = [];
    const outer: string[] = [];
    const items = this.items.get(index) ?? [];
    for (const one of items) if (isAll(this.tree, one)) own.add(one.value);
    for (const group of bySite(items.filter((one) => !isAll(this.tree, one)))) {
      const value = valueAt(this.tree, group[0]!.site);
      let end = 0;
      for (const { from, value: text } of group) {
        own.add(text);
        (end === 0 ? outer : inner).push(value.slice(end, from));
        end = from + text.length;
      }
      outer.push(value.slice(end));
    }
    const separator =
      signs.find(({ sign }) => inner.some((gap) => gap.includes(sign)) || outer.some((gap) => gap.includes(sign))) ??
      gaps.find(({ sign }) => inner.some((gap) => sign.test(gap)));
    const by = separator?.by ?? signOf(inner);
    const words = new Set<string>();
    for (const value of distinct)
      for (const { text } of piecesOf(value, by))
        if (!this.allMarks().some((mark) => own.has(without(mark, text) ?? ''))) words.add(text);
    return { field: index, separator: by, words, ports };
  }

  private allMarks(): readonly Operator[] {
    if (this.marks) return this.marks;
    const found = new Map([[operatorKey(bare), bare]]);
    for (const list of this.items.values())
      for (const one of list) {
        if (isAll(this.tree, one)) continue;
        const { site, from, value } = one;
        const text = valueAt(this.tree, site);
        if (text.length === value.length) continue;
        const mark = {
          before: /[^\s,;|]*$/.exec(text.slice(Math.max(0, from - 16), from))![0],
          after: /^[^\s,;|]*/.exec(text.slice(from + value.length, from + value.length + 16))![0],
        };
        if (mayBeOperator(mark)) found.set(operatorKey(mark), mark);
      }
    const length = ({ before, after }: Operator) => before.length + after.length;
    this.marks = [...found.values()].sort((a, b) => length(b) - length(a));
    return this.marks;
  }
}

/** Whether a name is as long as the source of its value, and so all that stands there: decoding makes no text longer. */
function isAll(tree: Tree, { site: { node, attr }, value }: Item): boolean {
  if (attr >= 0) return tree.valueEnd[attr]! - tree.valueStart[attr]! === value.length;
  return attr === TEXT && tree.closeStart[node]! - tree.openEnd[node]! === value.length;
}

/** Names by the value that they stand in, in their order. */
function bySite(items: readonly Item[]): Iterable<Item[]> {
  const groups = new Map<number, Item[]>();
  for (const one of items) {
    const key = siteKey(one.site.node, one.site.attr);
    const group = groups.get(key);
    if (group) group.push(one);
    else groups.set(key, [one]);
  }
  for (const group of groups.values()) group.sort((a, b) => a.from - b.from);
  return groups.values();
}

/** The one sign that stands between all names, where it is another; null for none. */
function signOf(inner: readonly string[]): RegExp | null {
  const [first = ''] = inner;
  const isSign = first !== '' && !/[\p{L}\p{N}]/u.test(first) && inner.every((gap) => gap === first);
  return isSign ? new RegExp(first.replace(/[.*+?^${}()|[\]\\/-]/g, '\\$&'), 'g') : null;
}

/** What a piece says without the signs around it; null where they are not there. */
function without({ before, after }: Operator, piece: string): string | null {
  if (piece.length <= before.length + after.length || !piece.startsWith(before) || !piece.endsWith(after)) return null;
  return piece.slice(before.length, piece.length - after.length);
}

/** The longest name inside a piece that stands between signs. */
function within({ text, from }: NameAt, isName: (text: string) => boolean, lead: number): NameAt | null {
  let best: NameAt | null = null;
  for (const match of text.matchAll(/[\p{L}\p{M}\p{N}_][\p{L}\p{M}\p{N}_.-]*/gu))
    if (match[0].length > (best?.text.length ?? 0) && match[0] !== text && isName(match[0]))
      best = { text: match[0], from: lead + from + match.index };
  return best;
}

/** Whether a word that no record goes by was meant for one. */
const isAmiss = (text: string, names: readonly string[]) =>
  text !== '' && !isBuiltIn(text) && !wrapsLiteral(text) && couldName(text, names);
