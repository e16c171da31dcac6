import { localName } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';
import { isCountOfOne } from '../outline/lone-rows.ts';
import { holderOf, isListOf, namesIn } from '../shapes/list-names.ts';
import type { Facts, Given } from './facts.ts';

/** No more distinct values are looked at where a few tell enough. */
const ENOUGH = 400;
/** So many fields of one name tell. */
const SOME = 20;

/** True for the identifier of records, whatever else they go by. */
const isCode = ({ kind, bestOfKind }: KeyField) => kind === 'opaque' && bestOfKind;

/** Of two fields that share values and both tell records apart, whose names they are. */
export class Directions {
  /** Shapes whose records have a name. */
  private readonly called: ReadonlySet<number>;
  /** By name, how many kinds of record have a best key, or an identifier, that is called so. */
  private readonly bestNames = new Map<string, number>();
  /** By name, some fields of that name. */
  private readonly ofName = new Map<string, number[]>();
  private readonly alike = new Map<number, number>();
  /** Names of one field, by number: those that have the stamp of the field at hand. */
  private readonly seen: Int32Array;
  private stamp = 0;

  constructor(
    private readonly given: Given,
    private readonly facts: Facts,
  ) {
    const { fields, keys, leaf } = given;
    this.called = new Set(
      keys.keys.flatMap(({ kind, shape }) => (kind === 'name' || kind === 'phrase' ? [shape] : [])),
    );
    this.seen = new Int32Array(facts.held.length);
    for (const { index } of fields) {
      const list = this.ofName.get(leaf[index]!);
      if (!list) this.ofName.set(leaf[index]!, [index]);
      else if (list.length < SOME) list.push(index);
    }
    for (const key of keys.keys) {
      if (key.field.tag || !(key.best || isCode(key))) continue;
      const name = leaf[key.field.index]!;
      this.bestNames.set(name, (this.bestNames.get(name) ?? 0) + 1);
    }
  }

  /**
   * Both fields tell records apart and share values: true where the other one's records rather name this one's. What
   * other fields name decides: the values that only one of the two has, and that stand elsewhere too, are on the side of
   * the key.
   */
  isWrongWay(own: KeyField, key: KeyField): boolean {
    const { readers, keys, devices } = this.given;
    const { tokens } = readers[own.field.index]!.counts;
    const mine = this.facts.ids[own.field.index]!;
    const other = this.facts.ids[key.field.index]!;
    const { seen } = this;
    const inMine = ++this.stamp;
    for (const id of mine) seen[id] = inMine;
    let common = 0;
    let support = 0;
    for (const id of other) {
      if (seen[id] === inMine) common++;
      else if (this.facts.othersOf(id) > 0) support++;
    }
    // What several other kinds of record go by is the key.
    const usual = this.goBy(key) - this.goBy(own);
    if (usual <= -3 && !key.field.tag) return true;
    if (common < (isCode(own) && isCode(key) ? 1 : Math.min(mine.length, other.length) * 0.6)) return false;
    const inOther = ++this.stamp;
    for (const id of other) seen[id] = inOther;
    // A name that tells records apart which go by another is that of others; identifiers may be either's.
    const names = (token: string) =>
      own.kind === 'name' && key.kind === 'name' ? keys.isBestOf(token, own.field) : keys.has(token, own.field);
    for (let at = 0; at < mine.length; at++) {
      const id = mine[at]!;
      if (seen[id] === inOther || this.facts.othersOf(id) < 1) continue;
      // What names records of a third kind, or a device, says nothing about these two.
      if (!names(tokens[at]!) && !devices.has(tokens[at]!)) support--;
    }
    if (usual >= 3) return false;
    // What stands once names records that are many, not the other way round.
    if (key.rows === 1 && own.rows > 1) return own.best || !key.best || isCode(own);
    if (own.rows === 1 && key.rows > 1 && isCode(key)) return false;
    // What is called as the records of the other side are names these.
    const isTheirs = this.isCalledFor(key, own.shape);
    if (isTheirs !== this.isCalledFor(own, key.shape)) return isTheirs;
    // What is called as its own records are is their name.
    const isHome = this.isOwnCall(own);
    if (isHome !== this.isOwnCall(key)) return isHome;
    if (support !== 0) return support < 0;
    const referring = this.namesakes(own) - this.namesakes(key);
    if (referring !== 0) return referring < 0;
    // A few of many name them.
    const few = own.kind === 'phrase' ? 0.6 : 0.4;
    if (common === mine.length && mine.length <= other.length * few) return false;
    if (own.kind === 'phrase' && common === other.length && other.length <= mine.length * few) return true;
    // An identifier beside a name is the records' own; alone it may be another's.
    const many = own.rows > 1 && key.rows > 1;
    if (many && isCode(own) && isCode(key) && this.called.has(own.shape) !== this.called.has(key.shape))
      return this.called.has(own.shape);
    // What a record begins with is its own name.
    const [ours, theirs] = [this.isFirst(own), this.isFirst(key)];
    if (ours !== theirs) return ours;
    // A record of a key and a device joins the device with what another describes.
    const [joins, joined] = [this.joinsDevice(own), this.joinsDevice(key)];
    if (joins !== joined) return joined;
    if (own.best !== key.best) return own.best;
    const strength = (one: KeyField) => one.strength - (one.field.tag ? 2 : 0);
    if (strength(own) !== strength(key)) return strength(own) > strength(key);
    return mine.length > other.length;
  }

  /** Whether a key is called as its own records are, and a field of that name in other records is not: it names these. */
  isAtHome(key: KeyField, shape: number): boolean {
    return this.isOwnCall(key) && !this.isCalledFor(key, shape);
  }

  /** A record's own tag and text are called as it is in any case. */
  private readonly isOwnCall = (key: KeyField) =>
    !key.field.tag && key.field.shape !== key.shape && this.isCalledFor(key, key.shape);

  /** How many kinds of record have a best key, or an identifier, that is called so. */
  private goBy({ field }: KeyField): number {
    return field.tag ? 0 : (this.bestNames.get(this.given.leaf[field.index]!) ?? 0);
  }

  /** In how many fields of the key's own name one of its values stands, too: they refer, and the key may as well. */
  private namesakes({ field }: KeyField): number {
    let count = this.alike.get(field.index);
    if (count !== undefined) return count;
    const own = ++this.stamp;
    for (const id of this.facts.ids[field.index]!.subarray(0, ENOUGH)) this.seen[id] = own;
    const shares = (index: number) => this.facts.ids[index]!.subarray(0, ENOUGH).some((id) => this.seen[id] === own);
    count = this.ofName
      .get(this.given.leaf[field.index]!)!
      .filter((index) => index !== field.index && shares(index)).length;
    this.alike.set(field.index, count);
    return count;
  }

  /** Whether a key is called as the records of a shape are, or as what the list around them is a list of. */
  private isCalledFor({ field }: KeyField, shape: number): boolean {
    const { leaf, structure } = this.given;
    const name = leaf[field.index]!;
    if (name === localName(structure.shapes[shape]!.step)) return true;
    const holder = holderOf(structure, shape);
    return holder !== -1 && namesIn(structure.shapes[holder]!.step).some((list) => isListOf(list, name));
  }

  /** Whether records begin with the field, but for what counts them. */
  readonly isFirst = ({ shape, field }: KeyField) =>
    this.facts.fieldsOf(shape).find(({ tag, values }) => !tag || !isCountOfOne(values)) === field;

  /** Whether the records of a key have nothing else than a device. */
  private joinsDevice({ shape, field }: KeyField): boolean {
    const { devices } = this.given;
    const both = this.facts.fieldsOf(shape);
    const beside = both[0] === field ? both[1] : both[0];
    if (!beside || both.length !== 2) return false;
    return beside.distinct.slice(0, ENOUGH).every((value) => devices.has(value));
  }
}
