import { largestOf } from '../../lists.ts';
import { deviceKeys } from '../devices/device-keys.ts';
import type { Devices } from '../devices/device-set.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import { type FieldData, leafName, localName } from '../fields/fields.ts';
import { isCounter } from '../keys/key-signs.ts';
import type { KeyField, KeyTable } from '../keys/key-table.ts';
import { type Kind, patternOf } from '../names/literals.ts';
import type { Reader } from '../names/tokens.ts';
import { areMadeOf, NameScale, wordsOf } from '../names/words.ts';
import { isCountOfOne } from '../outline/lone-rows.ts';
import { holderOf } from '../shapes/list-names.ts';
import type { Structure } from '../shapes/structure.ts';
import { Directions } from './directions.ts';
import { familiesOf } from './families.ts';
import { freeShareOf } from './free-text.ts';
import type { Proofs } from './proofs.ts';

export interface Given {
  readonly fields: readonly FieldData[];
  readonly readers: readonly Reader[];
  readonly keys: KeyTable;
  readonly structure: Structure;
  readonly devices: Devices;
  /** Names of the fields, see leaf-names.ts. */
  readonly leaf: readonly string[];
  /** By field the keys that it surely names records by, see proofs.ts. */
  readonly proofs: Proofs;
  /** Fields of yes and no, see switches.ts. */
  readonly switches: ReadonlySet<FieldData>;
  /** Fields that count what stands beside them, see inventories.ts, or say of which kind it is, see kinds-beside.ts. */
  readonly nameless: ReadonlySet<FieldData>;
}

/** No more distinct values are looked at where a few tell enough. */
const ENOUGH = 400;
/** How much a name says that is made of the beginnings of the other's words. */
const MADE = 0.6;
/** Longer values are no names. */
const LONGEST = 64;

/** What names, forms and company say about fields and keys; worked out once, before any reference is decided. */
export class Facts {
  /** For each field the document's number of each of its names. */
  readonly ids: readonly Int32Array[];
  /** By number, in how many fields each name stands; 0 for those too long to be looked up. */
  readonly held: Int32Array;
  /** By number, where the keys that each name is begin in the table of keys; see `KeyTable.from`. */
  readonly entries: Int32Array;
  readonly keyOfField = new Map<number, KeyField>();
  readonly leaf: readonly string[];
  /** Shapes whose records have a best key that stands nowhere else, or is their place in a list: they are named by another. */
  private readonly unnamed = new Set<number>();
  /** By shape the strongest key of names. */
  private readonly beside = new Map<number, number>();
  /** By shape the strongest label, or another where other fields have its values far more often. */
  private readonly labels = new Map<number, number>();
  /** By key the number of its kin, see `families.ts`; -1 for none. */
  readonly family: Int32Array;
  /** For each leaf name the share of its values that are several words and name nothing. */
  readonly freeShare: ReadonlyMap<string, number>;
  private readonly scale = new NameScale();
  private readonly specific: readonly boolean[];
  private readonly words: readonly (readonly (readonly string[])[])[];
  private readonly literals = new Map<number, ReadonlySet<Kind>>();
  private readonly patterns = new Map<number, ReadonlySet<string>>();
  private readonly lists = new Map<number, FieldData[]>();
  private byShape: Map<number, FieldData[]> | null = null;
  private directionsKnown: Directions | null = null;

  constructor(private readonly given: Given) {
    const { fields, readers, keys, structure } = given;
    this.leaf = given.leaf;
    const numbers = new Map<string, number>();
    const held: number[] = [];
    const entries: number[] = [];
    this.ids = readers.map(({ counts: { tokens } }) => {
      const ids = new Int32Array(tokens.length);
      for (let at = 0; at < tokens.length; at++) {
        const token = tokens[at]!;
        let id = numbers.get(token);
        if (id === undefined) {
          id = held.push(0) - 1;
          entries.push(keys.entryOf(token));
          numbers.set(token, id);
        }
        if (token.length <= LONGEST) held[id]!++;
        ids[at] = id;
      }
      return ids;
    });
    this.held = Int32Array.from(held);
    this.entries = Int32Array.from(entries);
    for (const field of fields) this.scale.add(leafName(field));
    const isDevices = deviceKeys(given);
    const first = new Map<number, number>();
    for (const field of fields) {
      if (!first.has(field.rowShape)) first.set(field.rowShape, field.index);
      if (!field.several && readers[field.index]!.separator === null) continue;
      const list = this.lists.get(field.rowShape);
      if (list) list.push(field);
      else this.lists.set(field.rowShape, [field]);
    }
    for (const key of keys.keys) if (!this.keyOfField.has(key.field.index)) this.keyOfField.set(key.field.index, key);
    const uses = new Map<number, number>();
    for (const { field, kind, shape, index } of keys.keys) {
      if (kind !== 'phrase') continue;
      const ids = this.ids[field.index]!;
      const own = ids.reduce((sum, id) => sum + this.held[id]! - 1, 0) / ids.length;
      const most = uses.get(shape);
      if (most !== undefined && own <= Math.max(1, most * OFTEN)) continue;
      uses.set(shape, own);
      this.labels.set(shape, index);
    }
    // Devices that nothing names as they are called go by another name beside it: by shape the key of what they are called.
    const silent = new Map<number, KeyField>();
    for (const key of keys.keys) {
      const { field, best, bestOfKind, shape, kind } = key;
      if (!best && !bestOfKind) continue;
      const isSilent = !field.tag && this.ids[field.index]!.every((id) => this.held[id] === 1);
      if (best && (isSilent || isPlace(field, kind))) this.unnamed.add(shape);
      if (isSilent && isDevices(key)) silent.set(shape, key);
    }
    // Any value tells a record apart that stands alone: its name is what others have of those that it begins with.
    for (const key of keys.keys) {
      const { field, kind, shape, rows, bestOfKind, index } = key;
      const instead = silent.get(shape);
      if (kind !== 'name' || this.beside.has(shape) || instead === key) continue;
      const may = bestOfKind || instead || (rows === 1 && this.isAhead(shape, field));
      const isHeld = () => this.ids[field.index]!.some((id) => this.held[id]! > 1);
      if (may && ((rows > 1 && !instead) || isHeld())) this.beside.set(shape, index);
    }
    // A number with a name of its own, as `role_no` is, is named by fields of that name.
    const isNumber = (key: KeyField) =>
      !key.field.tag && key.kind === 'integer' && first.get(key.shape) === key.field.index;
    const owners = new Map<string, number>();
    for (const key of keys.keys) {
      const name = this.leaf[key.field.index]!;
      if (isNumber(key)) owners.set(name, (owners.get(name) ?? 0) + 1);
    }
    this.specific = keys.keys.map((key) => isNumber(key) && owners.get(this.leaf[key.field.index]!) === 1);
    this.words = keys.keys.map((key) => targetWords(key, structure, this.specific[key.index]!));
    this.freeShare = freeShareOf(this.leaf, given);
    this.family = familiesOf(keys.keys, this.leaf, structure);
  }

  /** True for the best key of its records, or where nothing names them by that the best of those that are names. */
  mayBeMeant(key: KeyField): boolean {
    if (key.kind === 'integer') return key.bestOfKind;
    return key.best || (this.unnamed.has(key.shape) && this.beside.get(key.shape) === key.index);
  }

  /** True for a label beside another one that rather is what the records are called. */
  isSecondLabel({ kind, shape, index, bestOfKind }: KeyField): boolean {
    return kind === 'phrase' && !bestOfKind && this.labels.get(shape) !== index;
  }

  /** In how many other fields a name stands, by the field that has it and its index there. */
  others(field: number, token: number): number {
    return this.othersOf(this.ids[field]![token]!);
  }

  /** The same by the document's number of the name. */
  othersOf(id: number): number {
    return Math.max(0, this.held[id]! - 1);
  }

  /** Of two fields that tell records apart, which names the other's; see directions.ts. */
  get directions(): Directions {
    this.directionsKnown ??= new Directions(this.given, this);
    return this.directionsKnown;
  }

  patternsOf(key: KeyField): ReadonlySet<string> {
    let patterns = this.patterns.get(key.index);
    if (!patterns) {
      patterns = new Set(key.field.distinct.slice(0, ENOUGH).map(patternOf));
      this.patterns.set(key.index, patterns);
    }
    return patterns;
  }

  /** Kinds of literal that the key's records hold in lists: a set of addresses is named where addresses stand. */
  literalsOf(key: KeyField): ReadonlySet<Kind> {
    const known = this.literals.get(key.shape);
    if (known) return known;
    const forms = new Map<Kind, number>();
    for (const field of this.lists.get(key.shape) ?? []) {
      for (const form of this.given.readers[field.index]!.counts.kinds.slice(0, 50)) {
        if (form === 'address' || form === 'integer' || form === 'number') forms.set(form, (forms.get(form) ?? 0) + 1);
      }
    }
    const all = [...forms.values()].reduce((a, b) => a + b, 0);
    const made = new Set([...forms].filter(([, count]) => count >= all * 0.3).map(([form]) => form));
    this.literals.set(key.shape, made);
    return made;
  }

  /**
   * How much a field's name says that it names these records. Words that the key's own field has as well (`id`, `number`)
   * say nothing. For numbers both sides count: all of what the records are called should be there.
   */
  nameLikeness(field: FieldData, key: KeyField): number {
    const parts = this.words[key.index]!;
    const specific = this.specific[key.index]!;
    const common = new Set(key.field.tag || specific ? [] : wordsOf(leafName(key.field)));
    const words = wordsOf(leafName(field)).map((word) => withoutEnding(word, common));
    const own = words.filter((word) => !common.has(word));
    if (own.length === 0) return key.kind === 'integer' ? 0 : this.scale.similarity(words, parts.flat()) * 0.5;
    const forward = this.scale.similarity(own, parts.flat());
    if (key.kind !== 'integer') return forward;
    const back = largestOf(parts.map((part) => this.scale.similarity(part, own)));
    const made = parts.some((part) => areMadeOf(part, own) || areMadeOf(own, part));
    return Math.max((forward + back) / 2, made ? MADE : 0);
  }

  /** Whether the records of a shape begin with a field, or have one other before it; their tags left aside. */
  private isAhead(shape: number, field: FieldData): boolean {
    let before = 0;
    for (const one of this.fieldsOf(shape)) {
      if (one.tag) continue;
      if (one === field || ++before === 2) return one === field;
    }
    return false;
  }

  /** Fields of the records of a shape. */
  fieldsOf(shape: number): readonly FieldData[] {
    this.byShape ??= fieldsByShape(this.given.fields);
    return this.byShape.get(shape) ?? [];
  }
}

/** True for tags that count their records, as numbers or as one word with a number: these are called otherwise. */
const isPlace = ({ tag, values }: FieldData, kind: Kind): boolean =>
  tag && (kind === 'integer' ? isCounter(values) : isCountOfOne(values));

/** So many times as often as another label, one stands elsewhere that is rather what records are called. */
const OFTEN = 2;

/** Words around a key: its records' tag, what holds them, the file's own word for the kind. */
function targetWords(key: KeyField, structure: Structure, specific: boolean): string[][] {
  const shape = structure.shapes[key.shape]!;
  const names: string[][] = [];
  if (shape.step !== '*') names.push(wordsOf(localName(shape.step.replace(/^.*\{(.*)\}$/, '$1'))));
  const holder = holderOf(structure, key.shape);
  const above = holder === -1 ? null : structure.shapes[holder]!;
  if (above && above.above !== -1 && above.step !== '*')
    names.push(wordsOf(localName(above.step.replace(/^.*\{(.*)\}$/, '$1'))));
  if (specific) names.push(wordsOf(leafName(key.field)));
  return names.filter((words) => words.length > 0);
}

/** A word less an ending that the key's own name is: `gatewayid` where keys are called `id`. */
function withoutEnding(word: string, endings: ReadonlySet<string>): string {
  for (const ending of endings) {
    if (ending.length >= 2 && word.length > ending.length + 1 && word.endsWith(ending))
      return word.slice(0, -ending.length);
  }
  return word;
}
