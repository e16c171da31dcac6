import type { Rng } from '../rng.ts';
import type { Mark } from '../xml.ts';
import type { Field, Item, Model, Rec } from './model.ts';
import { textOf } from './model.ts';
import type { Names } from './words.ts';

/** One value as it is written, with what is true of it. */
export interface Part {
  readonly text: string;
  readonly marks: Mark[];
}

/** A field as the schools write it: one part, or several where it is a list. */
export interface Cell {
  readonly concept: string;
  readonly name: string;
  readonly parts: Part[];
  readonly list: boolean;
  /** A switch that may be told by being there; null where it is none. */
  readonly flag: boolean | null;
  /** True of the field as a whole: the leaf, the pair or the line. */
  readonly marks: Mark[];
  readonly isKey: boolean;
}

export interface Spelling {
  readonly names: Names;
  readonly on: readonly [string, string];
  /** A switch that is off is written, too. */
  readonly model: Model;
}

const WORDS: readonly (readonly [string, string])[] = [
  ['true', 'false'],
  ['1', '0'],
  ['yes', 'no'],
  ['on', 'off'],
  ['True', 'False'],
  ['enabled', 'disabled'],
  ['Y', 'N'],
];

export function randomSpelling(names: Names, model: Model, rng: Rng): Spelling {
  return { names, on: rng.pick(WORDS), model };
}

/** Only words can tell that these are secrets or the console. */
const BY_WORD: ReadonlySet<string> = new Set(['ap shared', 'console speed']);

export function cellsOf(rec: Rec, spelling: Spelling): Cell[] {
  return rec.fields.map((field) => cellOf(rec, field, spelling));
}

function cellOf(rec: Rec, field: Field, { names, on, model }: Spelling): Cell {
  const marks: Mark[] = [];
  const value: Mark[] = [];
  for (const truth of field.truth) {
    const k = BY_WORD.has(`${rec.concept} ${field.concept}`) && !names.speaks ? 'optional' : truth;
    (k === 'hardware' ? marks : value).push({ k });
  }
  const off = field.flag && /^(false|0|no|off)$/i.test(field.items[0]?.text ?? '');
  const parts = field.flag
    ? [{ text: on[off ? 1 : 0], marks: [] }]
    : field.items.map((item) => partOf(rec, field, item, value, model));
  return {
    concept: field.concept,
    name: names.of(field.concept, rec.concept),
    parts,
    list: field.list,
    flag: field.flag ? !off : null,
    marks,
    isKey: field.concept === rec.keyField,
  };
}

function partOf(rec: Rec, field: Field, item: Item, value: readonly Mark[], model: Model): Part {
  const marks = [...value];
  if (item.ref !== undefined) marks.push({ k: 'ref', value: item.text, to: item.ref });
  if (item.gone !== undefined) marks.push({ k: 'gone', value: item.text, kind: item.gone });
  if (item.port !== undefined) marks.push({ k: 'port', value: item.text });
  if (rec.concept === 'role' && (field.concept === 'port' || field.concept === 'vlan')) {
    const vlan = item.port ? null : model.records.get('vlan')?.find((one) => one.id === item.ref);
    const port = vlan ? textOf(vlan, 'device') : item.text;
    marks.push({ k: 'bind', role: textOf(rec, 'name') as string, port: port as string });
  }
  return { text: `${item.around?.[0] ?? ''}${item.text}${item.around?.[1] ?? ''}`, marks };
}

/** All parts of a cell as one text. */
export function joined(cell: Cell, separator: string): Part {
  return { text: cell.parts.map((part) => part.text).join(separator), marks: cell.parts.flatMap((part) => part.marks) };
}

/** A separator that no item of the document's lists holds. */
export function separatorFor(recs: readonly Rec[], rng: Rng, fits: RegExp = /./s): string {
  const texts = recs.flatMap((rec) =>
    rec.fields
      .filter((f) => f.list)
      .flatMap((f) => f.items.map((i) => `${i.around?.[0] ?? ''}${i.text}${i.around?.[1] ?? ''}`)),
  );
  const fit = [',', ',', ', ', ' ', ';', '|', '; ', '\n'].filter(
    (one) => fits.test(one) && !texts.some((text) => text.includes(one.trim() || ' ')),
  );
  return rng.pick(fit);
}
