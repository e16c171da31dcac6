import type { Trouble, TroubleCode } from '../core/index.ts';
import type { Said } from './said.ts';

/** What happened, in a few words; where and why; what you can do. */
export interface TroubleWords {
  readonly title: string;
  readonly sentence: Said;
  readonly advice: string;
}

export type Params = Readonly<Record<string, string | number>>;

export type TroubleTable<Code extends TroubleCode = TroubleCode> = Record<
  Code,
  (params: Params, trouble: Trouble) => TroubleWords
>;
