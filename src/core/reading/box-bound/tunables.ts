import { parseTunable } from '../../values/tunable.ts';
import { nodeAround } from '../../xml/around.ts';
import { TEXT } from '../../xml/site.ts';
import { isElement, nameOf, type Tree } from '../../xml/tree.ts';
import type { FieldData } from '../fields/fields.ts';
import { mapLong } from '../fields/long-lists.ts';
import type { Strand } from '../fields/strands.ts';
import { propertiesOf } from '../outline/properties.ts';
import { wordsOfCommand } from './commands.ts';
import { type Add, type Holders, SMALL } from './holders.ts';

/**
 * Variables of drivers and the machine, each as the record of its name and value.
 * @param drivers what the names of the ports begin with: `igb` of `igb2`.
 */
export function readTunables(
  tree: Tree,
  strands: readonly Strand[],
  holders: Holders,
  drivers: ReadonlySet<string>,
  add: Add,
): void {
  const isBound = (word: string): boolean => mayBeTunable(word) && Boolean(parseTunable(word, drivers)?.bound);
  const kin = new Kin(strands);
  const signs = new Map<FieldData, readonly (Sign | null)[] | null>();
  for (const strand of strands) {
    const { field, places, scattered } = strand;
    // A cell, a line or an element that is called by the variable: `<p n="hw.igb.num_queues" v="2"/>`.
    if ((scattered || isColumn(strand)) && isBound(strand.name))
      for (const place of places) add(holders.holder(field.nodes[place]!), TEXT, 'driver-setting', strand.name);
    let own = signs.get(field);
    if (own === undefined) {
      own = signsIn(field, isBound);
      signs.set(field, own);
    }
    if (!own) continue;
    for (const place of places) {
      const found = own[field.which[place]!];
      if (!found) continue;
      const { sign } = found;
      if (found.inCommand) {
        add(field.nodes[place]!, field.attrs[place]!, 'driver-setting', sign);
        continue;
      }
      if (scattered)
        for (const other of kin.of(strand, place)) add(holders.holder(other), TEXT, 'driver-setting', sign);
      const record = field.records[place]!;
      const pair =
        !scattered &&
        record !== -1 &&
        record !== tree.root &&
        holders.values(record, SMALL) <= SMALL &&
        holders.values(record, 1) > 1;
      add(pair ? record : holders.holder(field.nodes[place]!), TEXT, 'driver-setting', sign);
    }
  }
  readTunableNames(tree, drivers, add);
  readTunableKeys(tree, holders, add);
}

/** A variable that a value is, or that the command has which it is. */
interface Sign {
  readonly sign: string;
  readonly inCommand: boolean;
}

/** For each distinct value of a field; null where no value has any. */
function signsIn({ distinct }: FieldData, isBound: (word: string) => boolean): readonly (Sign | null)[] | null {
  const signs = mapLong(distinct, (value): Sign | null => {
    if (isBound(value)) return { sign: value, inCommand: false };
    const word = value.includes('.') ? wordsOfCommand(value).find(isBound) : undefined;
    return word === undefined ? null : { sign: word, inCommand: true };
  });
  return signs.some((sign) => sign !== null) ? signs : null;
}

const isColumn = ({ field: { steps } }: Strand) => steps.some((step) => step.endsWith(']'));

/** By first letter, before anything dearer: of hw, dev, machdep, hint, kern, net, compat, if_ and the names of drivers. */
function mayBeTunable(value: string): boolean {
  return value.length < 120 && value.charCodeAt(0) > 96 && (value.includes('.') || value.endsWith('_load'));
}

/** Names as tags or attributes: `<hw.igb.num_queues>2</hw.igb.num_queues>`. */
function readTunableNames(tree: Tree, drivers: ReadonlySet<string>, add: Add): void {
  const names = tree.names.map((name) => (name.includes('.') ? (parseTunable(name, drivers)?.bound ?? null) : null));
  if (names.every((name) => name === null)) return;
  for (let node = 0; node < tree.size; node++) {
    if (isElement(tree, node) && names[tree.name[node]!] !== null)
      add(node, TEXT, 'driver-setting', nameOf(tree, node));
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++) {
      const name = tree.attrName[attr]!;
      if (names[name] !== null) add(node, attr, 'driver-setting', tree.names[name]!);
    }
  }
}

const key = /(?:hw|dev|machdep|hint)\.(?=\d*[a-z_])[a-z0-9_]{1,20}\.[A-Za-z0-9_.%-]{1,60}(?=["'<])/g;

/** Names at the end of a longer key, as lines of a property list have them: `machine/tunables/hw.igb.num_queues`. */
function readTunableKeys(tree: Tree, holders: Holders, add: Add): void {
  for (const { 0: sign, index } of tree.text.matchAll(key)) {
    const before = tree.text[index - 1] ?? '"';
    if (/[\sA-Za-z0-9<>&]/.test(before) || !parseTunable(sign)?.bound || !isInKey(tree.text, index)) continue;
    const node = nodeAtOffset(tree, index);
    // What a whole attribute says is a value, unless it is the key of a line.
    if (/["']/.test(before) && !propertiesOf(tree)?.members.has(node)) continue;
    add(holders.holder(node), TEXT, 'driver-setting', sign);
  }
}

/** Whether what stands before is one word as far as the value's beginning: a key and not a remark. */
function isInKey(text: string, offset: number): boolean {
  for (let at = offset - 1; at > offset - 200; at--) {
    const code = text.charCodeAt(at);
    if (code === 34 || code === 39 || code === 62) return true;
    if (code <= 32 || code === 38) return false;
  }
  return false;
}

/** The innermost element around a place in the source text. */
function nodeAtOffset(tree: Tree, offset: number): number {
  let node = nodeAround(tree, offset);
  while (!isElement(tree, node)) node = tree.parent[node]!;
  return node;
}

/** Values that belong to the same record, where each stands in an element of its own. */
class Kin {
  private readonly byKind = new Map<number, Strand[]>();
  private readonly byRow = new Map<number, Map<number, number[]>>();

  constructor(strands: readonly Strand[]) {
    for (const strand of strands) {
      if (!strand.scattered) continue;
      const list = this.byKind.get(strand.field.rowShape);
      if (list) list.push(strand);
      else this.byKind.set(strand.field.rowShape, [strand]);
    }
  }

  of({ field }: Strand, place: number): readonly number[] {
    let rows = this.byRow.get(field.rowShape);
    if (!rows) {
      rows = new Map();
      for (const other of this.byKind.get(field.rowShape) ?? []) {
        for (const at of other.places) {
          const row = other.field.rows[at]!;
          const nodes = rows.get(row);
          if (nodes) nodes.push(other.field.nodes[at]!);
          else rows.set(row, [other.field.nodes[at]!]);
        }
      }
      this.byRow.set(field.rowShape, rows);
    }
    const nodes = rows.get(field.rows[place]!) ?? [];
    return nodes.length <= SMALL ? nodes : [];
  }
}
