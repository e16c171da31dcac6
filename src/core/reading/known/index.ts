import type { Tree } from '../../xml/tree.ts';
import { applyFormat, type KnownReading } from './apply.ts';
import type { KnownFormat } from './format.ts';
import ietf from './ietf.json' with { type: 'json' };
import type { KnownSchema } from './schema/format.ts';
import ietfSchema from './schema/ietf.json' with { type: 'json' };

export type { KnownReading } from './apply.ts';
export type { KnownFormat } from './format.ts';
export { overlay } from './overlay.ts';
export { judgeAgain } from './schema/again.ts';
export { asWritten, type Fault, type Judgement, judge } from './schema/judge.ts';

/** Formats that are known, each a table; add one here. */
export const formats: readonly KnownFormat[] = [{ ...(ietf as KnownFormat), schema: ietfSchema as KnownSchema }];

/** What the first known format that a document uses says about it; null for a document in none. */
export function readKnown(tree: Tree): KnownReading | null {
  for (const format of formats) {
    const reading = applyFormat(tree, format);
    if (reading) return reading;
  }
  return null;
}
