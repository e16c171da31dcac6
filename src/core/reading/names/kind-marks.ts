import { Prefixes } from '../../text/prefixes.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import { type KeyTable, keyOn } from '../keys/key-table.ts';
import { holderOf, isListOf, namesIn } from '../shapes/list-names.ts';
import type { Structure } from '../shapes/structure.ts';
import { isLiteral, kindOf } from './literals.ts';
import type { Operator } from './operators.ts';
import { piecesOf } from './pieces.ts';

/** A word for a kind of record and marks around its names: `port/` of `port/4`, `vlan(` and `)`; with the key that they are of. */
export interface KindMark extends Operator {
  readonly key: number;
}

/** How the names of one field are written, each behind a word for its kind. */
export interface KindMarks {
  readonly separator: RegExp | null;
  readonly marks: readonly KindMark[];
}

const marked = /^(\/?([\p{L}_][\p{L}\p{M}\p{N}_.-]*)[^\p{L}\p{M}\p{N}\s_.,;-])([^\s"'].*?)([)\]}>]?)$/u;
const bare = /^[\p{L}\p{M}_-]+$|^\*$/u;
/** What may stand between the names of a value; nothing where it is one. */
export const separators: readonly (RegExp | null)[] = [null, /\s*[,;|\n]\s*/g, /\s+/g];
/** Files have few kinds of record; a word that more are called by says little. */
export const MANY = 32;
/** Values of a field that may come before the first name, words that may stand beside names, and names to each of them. */
const FIRST = 3;
const OTHERS = 2;
const NAMES = 3;

/**
 * Fields all names of which stand behind words for kinds of record, where records of these kinds go by them: word and name
 * together are no chance, so even small numbers are told by them. By field how it is written; keys are made where records
 * have none, as those that stand alone.
 */
export function kindMarks(fields: readonly FieldData[], kinds: Kinds): ReadonlyMap<number, KindMarks> {
  const found = new Map<number, KindMarks>();
  for (const field of fields) {
    if (field.tag || field.virtual || !field.distinct.slice(0, FIRST).some((value) => marked.test(value))) continue;
    let most = -Infinity;
    for (const separator of separators) {
      const read = marksOf(field, separator, kinds);
      if (!read || read.known <= most) continue;
      most = read.known;
      found.set(field.index, { separator, marks: read.marks });
    }
  }
  return found;
}

/** The words before the names of a field, each with the key of its kind, and how many more names are known than not; null where not all have a key. */
function marksOf(
  field: FieldData,
  separator: RegExp | null,
  kinds: Kinds,
): { readonly marks: readonly KindMark[]; readonly known: number } | null {
  const words = new Map<string, Operator & { readonly word: string; readonly names: Set<string> }>();
  const others = new Set<string>();
  let names = 0;
  for (const value of field.distinct)
    for (const { text } of piecesOf(value, separator)) {
      const [, before, word, name, after] = marked.exec(text) ?? [];
      if (before === undefined) {
        // Beside names one word may stand for all records, and one for the box itself.
        if (kinds.keys.has(text, field)) return null;
        if (!isLiteral(kindOf(text)) && (!bare.test(text) || others.add(text).size > OTHERS)) return null;
        continue;
      }
      // What records of the kind go by is a name as it stands; a path is one for any.
      const isName = before.startsWith('/') ? kinds.keys.has(text, field) : kinds.goBy(text, word!, field);
      if (words.size > MANY || isName) return null;
      names++;
      const id = `${before} ${after}`;
      const known = words.get(id);
      if (known) known.names.add(name!);
      else words.set(id, { before, after: after!, word: word!, names: new Set([name!]) });
    }
  if (others.size > 0 && names < others.size * NAMES) return null;
  const all = [...words.values()];
  const except = new Set([field]);
  const sure = all.map(({ word, names }) => kinds.keyFor(word, names, except));
  // Beside kinds that are sure half of the names are enough: the others may be gone.
  const own = sure.some((key) => key !== null)
    ? all.map(({ word, names }, at) => sure[at] ?? kinds.keyFor(word, names, except, true))
    : sure;
  // Kinds of one table go by one key, also where the table has the name of one of them.
  const tables = own.flatMap((key) => key ?? []);
  let known = 0;
  const marks = all.flatMap(({ before, after, names }, at): KindMark[] => {
    const key = own[at] ?? tables.find((one) => [...names].every((name) => kinds.has(one, name)));
    if (!key) return [];
    for (const name of names) known += kinds.has(key, name) ? 1 : -1;
    return [{ before, after, key: keyOn(key, kinds.keys).index }];
  });
  return marks.length > 0 && marks.length === all.length ? { marks, known } : null;
}

/** What kinds of record are called, and the fields that they may go by. */
export class Kinds {
  /** By name the shapes whose records are called so themselves, and those that lie in a list of that name. */
  private readonly called = new Map<string, Set<number>>();
  private readonly listed = new Map<string, Set<number>>();
  private readonly columns = new Map<FieldData, ReadonlySet<string>>();
  private readonly byShape: ReadonlyMap<number, readonly FieldData[]>;
  private readonly likely = new Map<string, readonly ReadonlySet<number>[]>();
  private lists: Prefixes | null = null;
  private sorts: ReadonlyMap<string, readonly FieldData[]> | null = null;

  constructor(
    fields: readonly FieldData[],
    structure: Structure,
    readonly keys: KeyTable,
  ) {
    this.byShape = fieldsByShape(fields);
    for (const shape of this.byShape.keys()) {
      if (shape === -1) continue;
      for (const name of namesIn(structure.shapes[shape]!.step)) add(this.called, name, shape);
      const holder = holderOf(structure, shape);
      if (holder !== -1) for (const name of namesIn(structure.shapes[holder]!.step)) add(this.listed, name, shape);
    }
  }

  /** Whether some kind of record may be called by a word; what a record goes by is one where they are called just so. */
  isCalled(word: string, except: FieldData): boolean {
    if (this.called.has(word) || this.listed.has(word)) return true;
    return this.meantBy(word).length > 0 && !this.keys.isBestOf(word, except);
  }

  /** Whether records that are called by a word go by a text. */
  goBy(text: string, word: string, except: FieldData): boolean {
    if (!this.keys.has(text, except)) return false;
    const [shapes] = this.meantBy(word);
    let found = false;
    this.keys.each(text, (key) => {
      const { shape, field } = this.keys.keys[key]!;
      found ||= field !== except && shapes?.has(shape) === true;
    });
    return found;
  }

  /** Whether the records have the name in a field. */
  has(field: FieldData, name: string): boolean {
    let column = this.columns.get(field);
    if (!column) {
      column = new Set(field.distinct);
      this.columns.set(field, column);
    }
    return column.has(name);
  }

  /**
   * The field by which most of the names are those of records that the word stands for; null where there is none.
   * @param half whether half of them are enough.
   */
  keyFor(word: string, names: ReadonlySet<string>, except: ReadonlySet<FieldData>, half = false): FieldData | null {
    for (const shapes of this.meantBy(word)) {
      const key = this.best(
        [...shapes].flatMap((shape) => this.byShape.get(shape)!),
        names,
        except,
        half,
      );
      if (key) return key;
    }
    return this.saidBy(word, names, except);
  }

  /** Of columns the one that has most of the names. */
  private best(
    columns: readonly FieldData[],
    names: ReadonlySet<string>,
    except: ReadonlySet<FieldData>,
    half = false,
  ): FieldData | null {
    let best: FieldData | null = null;
    let most = 0;
    for (const column of columns) {
      if (except.has(column) || column.several || column.distinct.length < column.values.length) continue;
      let hits = 0;
      for (const name of names) if (this.has(column, name)) hits++;
      const stronger = hits === most && best !== null && this.strengthOf(column) > this.strengthOf(best);
      const enough = hits * 2 > names.size || (half && hits * 2 === names.size);
      if (enough && (hits > most || stronger)) [best, most] = [column, hits];
    }
    return best;
  }

  /** The same where the records of the names say the word themselves: `sort="trunk"`. */
  private saidBy(word: string, names: ReadonlySet<string>, except: ReadonlySet<FieldData>): FieldData | null {
    this.sorts ??= sortsAmong(this.byShape);
    for (const sort of this.sorts.get(word) ?? []) {
      const key = this.best(this.byShape.get(sort.rowShape)!, names, except);
      if (!key) continue;
      const rows = new Set(sort.rows.filter((_, place) => sort.values[place] === word));
      const isSaid = key.values.every((value, place) => !names.has(value) || rows.has(key.rows[place]!));
      if (isSaid && ![...except].some((field) => isComposed(field, key))) return key;
    }
    return null;
  }

  private strengthOf(field: FieldData): number {
    return this.keys.keys.find((key) => key.field === field)?.strength ?? -Infinity;
  }

  /** Shapes that a word may stand for, the likeliest first: called so, in a list called so, called nearly so. */
  private meantBy(word: string): readonly ReadonlySet<number>[] {
    let known = this.likely.get(word);
    if (!known) {
      const near = startsOf(word).find((name) => this.called.has(name) && (isListOf(word, name) || joins(word, name)));
      this.lists ??= new Prefixes(this.listed.keys());
      const lists = this.lists.startingWith(word);
      const list = lists.find((name) => isListOf(name, word)) ?? shortest(lists.filter((name) => joins(name, word)));
      const kinds = [
        this.called.get(word),
        this.listed.get(word),
        this.called.get(near ?? ''),
        this.listed.get(list ?? ''),
      ];
      known = kinds.flatMap((shapes) => (shapes && shapes.size <= MANY ? [shapes] : []));
      this.likely.set(word, known);
    }
    return known;
  }
}

/** Whether values are made of what else their records say, as `igb2:30` is of a port and a number: they are names of their own. */
function isComposed({ rowShape, rows, values }: FieldData, key: FieldData): boolean {
  if (rowShape !== key.rowShape) return false;
  const own = new Map(key.rows.map((row, place) => [row, key.values[place]!]));
  return values.some((value, place) => {
    const name = marked.exec(value)?.[3];
    return name !== undefined && name === own.get(rows[place]!);
  });
}

/** Fields of a few words that come again, by word: what says of what kind each record of a table is. */
function sortsAmong(byShape: ReadonlyMap<number, readonly FieldData[]>): ReadonlyMap<string, readonly FieldData[]> {
  const sorts = new Map<string, FieldData[]>();
  for (const fields of byShape.values())
    for (const field of fields) {
      const { tag, virtual, several, distinct, values } = field;
      if (tag || virtual || several || distinct.length > MANY || distinct.length === values.length) continue;
      for (const word of distinct) {
        const known = sorts.get(word);
        if (known) known.push(field);
        else sorts.set(word, [field]);
      }
    }
  return sorts;
}

/** Whether a word for a list is joined on to another: as in `Kranliste`, `端口集`. One letter is none, one ideograph is. */
const joins = (name: string, word: string): boolean =>
  name.startsWith(word) && (word.length > 2 || /^\p{Lo}/u.test(word)) && /^\p{L}{1,8}$/u.test(name.slice(word.length));

/** What a word begins with, itself left out, the longest first. */
const startsOf = (word: string): string[] =>
  Array.from({ length: Math.max(0, word.length - 1) }, (_, at) => word.slice(0, word.length - 1 - at));

const shortest = (names: readonly string[]): string | undefined =>
  names.reduce<string | undefined>((a, b) => (a === undefined || b.length < a.length ? b : a), undefined);

function add(map: Map<string, Set<number>>, name: string, shape: number): void {
  const known = map.get(name);
  if (known) known.add(shape);
  else map.set(name, new Set([shape]));
}
