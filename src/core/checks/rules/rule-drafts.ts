import type { Reading } from '../../reading/reading.ts';
import { parseBoolean } from '../../values/booleans.ts';
import { wordsOf } from '../../values/name-words.ts';
import { switchIn, switchSense } from '../facts/enabled.ts';
import { referencesOf } from '../facts/links.ts';
import type { Column, Table } from '../facts/tables.ts';
import { Affixes } from './rule-affixes.ts';
import { meaningsOf } from './rule-meanings.ts';
import { PartReader } from './rule-pieces.ts';
import type { Sentences } from './rule-sentences.ts';
import type { Use } from './rule-uses.ts';
import { anyWords, hasAny, logWords, remarkWords, turningWords } from './rule-words.ts';

/** For each rule of a table, by its place among `rows`. */
export interface Drafts {
  /** What it says, as a sentence. */
  readonly said: Int32Array;
  /** 1 where a mark turns it off. */
  readonly off: Uint8Array;
}

/** Takes in what the columns and the empty elements of each rule say. */
export function draftsOf(
  reading: Reading,
  table: Table,
  use: ReadonlyMap<Column, Use>,
  rows: readonly number[],
  sentences: Sentences,
): Drafts {
  const ruleAt = new Int32Array(reading.values.above.length).fill(-1);
  for (let rule = 0; rule < rows.length; rule++) if (rows[rule] !== -1) ruleAt[rows[rule]!] = rule;
  const said = new Int32Array(rows.length);
  let count = 0;
  /** Words and parts have numbers that no other has. */
  const nextId = () => count++;
  const meanings = meaningsOf(reading);
  const kindOf = (to: number) => (meanings.roleAt(to) === -1 ? 'set' : 'role');
  const affixes = new Map<Column, Affixes>();
  for (const [column, kind] of use)
    if (named.has(kind)) affixes.set(column, new Affixes(column, referencesOf(reading), kindOf));
  const besideNetworks = [...affixes].some(([column, { haveNetworks }]) => haveNetworks && use.get(column) !== 'ports');
  for (const column of table.columns) {
    const kind = use.get(column)!;
    if (kind === 'unknown') sayTexts(column, ruleAt, said, sentences, nextId);
    else if (kind !== 'action' && kind !== 'ignored' && kind !== 'switch')
      sayParts(
        column,
        new PartReader(kind, column, reading, nextId, affixes.get(column) ?? null, besideNetworks),
        ruleAt,
        said,
        sentences,
      );
  }
  const open = new Set<string>();
  for (const { field } of table.columns.filter((column) => read.has(use.get(column)!))) open.add(field.steps.join('/'));
  return { said, off: sayMarks(reading, table, open, ruleAt, said, sentences, nextId) };
}

/** Columns of names around which something may stand. */
const named: ReadonlySet<Use> = new Set(['via', 'ends', 'ports']);

/** Columns of which an empty element says no more than one that is not there. */
const read: ReadonlySet<Use> = new Set(['via', 'ends', 'ports', 'protocol', 'named', 'ignored']);

/** A column whose values are read. Lists are long: no closures in these loops. */
function sayParts(
  { field: { rows, template } }: Column,
  reader: PartReader,
  ruleAt: Int32Array,
  said: Int32Array,
  sentences: Sentences,
): void {
  for (let from = 0, to = 0; from < rows.length; from = to) {
    const row = rows[from]!;
    for (to = from + 1; to < rows.length && rows[to] === row; ) to++;
    const rule = row === -1 ? -1 : ruleAt[row]!;
    const made = rule === -1 ? null : reader.read(from, to);
    if (!made) continue;
    const next = sentences.after(said[rule]!, made.id);
    said[rule] = next !== 0 ? next : sentences.add(said[rule]!, made.id, { name: template, part: made.part });
  }
}

/** A column that nobody understands: the same texts mean the same. */
function sayTexts(
  column: Column,
  ruleAt: Int32Array,
  said: Int32Array,
  sentences: Sentences,
  nextId: () => number,
): void {
  const { values, template, which, distinct, rows, times } = column.field;
  const isSwitch = !hasAny(column.words, turningWords) && distinct.every((value) => parseBoolean(value) !== null);
  const single = new Int32Array(distinct.length).fill(-1);
  const several = new Map<string, number>();
  for (let from = 0, to = 0; from < rows.length; from = to) {
    const row = rows[from]!;
    for (to = from + 1; to < rows.length && rows[to] === row; ) to++;
    const rule = row === -1 ? -1 : ruleAt[row]!;
    if (rule === -1) continue;
    let id: number;
    if (to === from + 1) {
      id = single[which[from]!]!;
      if (id === -1) {
        id = nextId();
        single[which[from]!] = id;
      }
    } else {
      const key = which.slice(from, to).join();
      id = several.get(key) ?? nextId();
      several.set(key, id);
    }
    let next = sentences.after(said[rule]!, id);
    if (next === 0) {
      const texts = values.slice(from, to);
      const turning = turns(column, texts) ? column.container : null;
      const usual = isSwitch && texts.length === 1 && isUsual(times[which[from]!]!, said.length);
      next = sentences.add(said[rule]!, id, { text: `${template}=${texts.join()}`, turning, usual });
    }
    said[rule] = next;
  }
}

/**
 * Takes in the empty elements of each rule: switches, `any`, and such as nobody knows. A switch says no by not being there:
 * an empty element, or a field that only ever says yes.
 * @param open paths of columns that may be left empty
 * @returns for each rule 1 where it is off.
 */
function sayMarks(
  reading: Reading,
  { columns }: Table,
  open: ReadonlySet<string>,
  ruleAt: Int32Array,
  said: Int32Array,
  sentences: Sentences,
  nextId: () => number,
): Uint8Array {
  const on = new Uint8Array(said.length);
  const off = new Uint8Array(said.length);
  let switches = 0;
  for (const { steps, rows } of reading.values.marks) {
    const own = rows.filter((row) => row !== -1 && ruleAt[row] !== -1);
    if (own.length === 0) continue;
    const words = wordsOf(steps[steps.length - 1]!);
    const path = steps.join('/');
    const isSilent = open.has(path) || [anyWords, logWords, remarkWords].some((silent) => hasAny(words, silent));
    const sense = switchSense(words);
    const word = { text: path, turning: path.slice(0, path.lastIndexOf('/')), usual: isUsual(own.length, said.length) };
    const id = nextId();
    if (sense === 'on') switches++;
    for (const row of own) {
      const rule = ruleAt[row]!;
      if (sense === 'on') on[rule] = 1;
      else if (sense === 'off') off[rule] = 1;
      else if (!isSilent) {
        const next = sentences.after(said[rule]!, id);
        said[rule] = next !== 0 ? next : sentences.add(said[rule]!, id, word);
      }
    }
  }
  const senseOf = switchIn(reading);
  for (const column of columns) {
    const { field } = column;
    if (senseOf(column) !== 'on' || !field.distinct.every((value) => parseBoolean(value) === true)) continue;
    // Rows count from -1, which stands for no record.
    const own = new Uint8Array(ruleAt.length + 1);
    for (const row of field.rows) own[row + 1] = 1;
    if (!columns.some((other) => other.field.rows.some((row) => own[row + 1] === 0))) continue;
    switches++;
    for (const row of field.rows) if (row !== -1 && ruleAt[row] !== -1) on[ruleAt[row]!] = 1;
  }
  for (let rule = 0; rule < off.length; rule++) {
    // What is on by one switch is off by another where both are there.
    if (switches > 0 && on[rule] === 0) off[rule] = 1;
  }
  return off;
}

/** Whether so many of a list's rules say something that it is their habit. */
const isUsual = (times: number, rules: number) => times >= rules * 0.6;

/** A switch or a comparison may turn what stands beside it round. */
function turns(column: Column, values: readonly string[]): boolean {
  return (
    hasAny(column.words, turningWords) ||
    column.kind === 'mask' ||
    column.kind === 'number' ||
    values.some((value) => parseBoolean(value) !== null || turningWords.has(value.toLowerCase()))
  );
}
