import type { FieldData } from '../fields/fields.ts';
import { type KeyTable, keyOn } from '../keys/key-table.ts';
import type { Structure } from '../shapes/structure.ts';
import { type KindMark, type KindMarks, separators } from './kind-marks.ts';
import { piecesOf } from './pieces.ts';

/** A location path whose last predicate says what the record goes by: XPath 1.0, 2.4 and 2.5, in short. */
const located =
  /^((?:\/|\.\.?\/|[\p{L}_])[^'"]*(?:(?:'[^']*'|"[^"]*")[^'"]*)*\[\s*(@?[\p{L}_][\p{L}\p{M}\p{N}_.:-]*)\s*=\s*['"])([^'"]+)(['"]\s*\])$/u;
const predicates = /\[(?:[^\]'"]|'[^']*'|"[^"]*")*\]/g;
/** Share of a field's names that are such paths, at least. */
const MOST = 0.5;

/**
 * Fields of location paths, `/box/objects/host[@id='quay']` or `../host[@id='quay']`, which say exactly what they name: by
 * field the paths before its names, each with the key of the records that it leads to.
 */
export function locationPaths(
  fields: readonly FieldData[],
  structure: Structure,
  keys: KeyTable,
): ReadonlyMap<number, KindMarks> {
  const found = new Map<number, KindMarks>();
  const leaves = new Map(fields.map((field) => [field.shape, field]));
  for (const field of fields) {
    if (field.tag || field.virtual || !field.distinct[0]!.includes('[')) continue;
    let most = 0;
    for (const separator of separators) {
      const { marks, led } = marksOf(field, separator, structure, keys, leaves);
      if (led <= most) continue;
      most = led;
      found.set(field.index, { separator, marks });
    }
  }
  return found;
}

function marksOf(
  field: FieldData,
  separator: RegExp | null,
  structure: Structure,
  keys: KeyTable,
  leaves: ReadonlyMap<number, FieldData>,
): { marks: readonly KindMark[]; led: number } {
  const marks = new Map<string, KindMark | null>();
  let all = 0;
  let led = 0;
  for (const value of field.distinct)
    for (const { text } of piecesOf(value, separator)) {
      all++;
      const [, before, leaf, , after] = located.exec(text) ?? [];
      if (before === undefined) continue;
      const id = `${before}\0${after}`;
      let mark = marks.get(id);
      if (mark === undefined) {
        const shape = shapeAt(before.slice(0, before.lastIndexOf('[')), field, structure);
        const key = shape === -1 ? -1 : below(structure, shape, leaf!);
        const column = leaves.get(key);
        mark = column ? { before, after: after!, key: keyOn(column, keys).index } : null;
        marks.set(id, mark);
      }
      if (mark) led++;
    }
  const known = [...marks.values()].flatMap((mark) => mark ?? []);
  return { marks: known, led: led >= all * MOST ? led : 0 };
}

/** The shape that a path leads to from where it stands; -1 for none. */
function shapeAt(path: string, field: FieldData, structure: Structure): number {
  const steps = path.replace(predicates, '').split('/');
  const isAttribute = field.steps.at(-1)!.startsWith('@');
  let at = isAttribute ? structure.shapes[field.shape]!.above : field.shape;
  if (steps[0] === '') {
    const [root] = structure.shapes;
    if (root!.step !== steps[1]) return -1;
    at = 0;
    steps.splice(0, 2);
  }
  for (const step of steps) {
    if (at === -1 || step === '' || step === '.') {
      if (at === -1 || step === '') return -1;
      continue;
    }
    at = step === '..' ? structure.shapes[at]!.above : below(structure, at, step);
  }
  return at;
}

/** The shape of a name below another; -1 for none. */
const below = ({ shapes }: Structure, shape: number, name: string): number =>
  shapes[shape]!.below.find((one) => shapes[one]!.step === name) ?? -1;
