/** A corpus file without its dialect: what it says, and what is true of each value. */

/** One name, number or text. A reference is written as the key of the record that it names. */
export interface Item {
  text: string;
  /** The record that this names. */
  ref?: string;
  /** The kind of record that this names and that does not exist. */
  gone?: string;
  port?: { base: string; suffix: string };
  /** What stands before and after it, as in `!x` or `net(x)`. */
  around?: [string, string];
}

export type Truth = 'secret' | 'certificate' | 'hardware' | 'optional';

export interface Field {
  concept: string;
  items: Item[];
  /** More than one item is possible here. */
  list: boolean;
  /** On and off, as words, digits or by being there. */
  flag?: boolean;
  truth: Truth[];
}

export interface Rec {
  /** Unique in the model; the path in the corpus file, or made from it. */
  id: string;
  concept: string;
  fields: Field[];
  /** Records inside this one. */
  inner: Rec[];
  truth: Truth[];
  /** What others call it: the concept of the field that they name it by; null where nobody names it. */
  keyField: string | null;
}

export interface Model {
  /** Records by kind, in the order of the file. A kind that is only there once is marked so in `read.ts`. */
  records: Map<string, Rec[]>;
  ports: string[];
  /** Values that may be reported or not. */
  optionalValues: string[];
}

export const fieldOf = (rec: Rec, concept: string): Field | undefined => rec.fields.find((f) => f.concept === concept);
export const textOf = (rec: Rec, concept: string): string | null => fieldOf(rec, concept)?.items[0]?.text ?? null;

export function allRecords(model: Model): Rec[] {
  const within = (rec: Rec): Rec[] => [rec, ...rec.inner.flatMap(within)];
  return [...model.records.values()].flat().flatMap(within);
}
