import type { Trouble, TroubleCode } from '../core/index.ts';
import { count, number } from './numbers.ts';
import { fileTroubles } from './trouble-file.ts';
import { planTroubles } from './trouble-plan.ts';
import { receiverTroubles } from './trouble-receiver.ts';
import type { TroubleTable, TroubleWords } from './trouble-words.ts';

/** Every trouble has words; a new code does not compile without. */
const words: TroubleTable = { ...fileTroubles, ...planTroubles, ...receiverTroubles };

export function troubleWords(trouble: Trouble): TroubleWords {
  return words[trouble.code](trouble.params ?? {}, trouble);
}

/** `line 1162, column 24`; empty where the trouble has no place. */
export function placeWords({ line, column, offset, code }: Trouble): string {
  if (line !== undefined)
    return column === undefined ? `line ${number(line)}` : `line ${number(line)}, column ${number(column)}`;
  if (offset === undefined) return '';
  return code.startsWith('byte-') ? `byte ${number(offset + 1)}` : `after ${count(offset, 'character')}`;
}

/** Every code that has words, for tests. */
export const troubleCodes = Object.keys(words) as TroubleCode[];
