/**
 * Expected trouble is data: a code, a place and what the words need. Words are made elsewhere (src/words), so that
 * the page, the scripts and the tests say the same. Bugs throw.
 */
export interface Trouble {
  readonly code: TroubleCode;
  /** Offset in the decoded text (UTF-16 units) or, for codes that start with `byte-`, in the bytes. */
  readonly offset?: number;
  /** Line and column from 1; a column counts UTF-16 units. */
  readonly line?: number;
  readonly column?: number;
  /** The line around the place, cut to about 80 units, and where in it the caret belongs (from 0). */
  readonly excerpt?: { readonly text: string; readonly caret: number };
  /** Path and line of the last element that was whole before the place. */
  readonly lastIntact?: { readonly path: string; readonly line: number };
  /** What the words need: names, limits, reasons. */
  readonly params?: Readonly<Record<string, string | number>>;
}

export type TroubleCode =
  | 'empty-file'
  | 'other-format'
  | 'byte-does-not-fit'
  | 'byte-nul'
  | 'encoding-unknown'
  | 'encoding-contradicts'
  | 'not-well-formed'
  | 'truncated'
  | 'second-root'
  | 'doctype-with-subset'
  | 'too-deep'
  | 'too-large'
  | 'too-many-attributes'
  | 'character-does-not-fit'
  | 'plan-not-json'
  | 'plan-not-a-plan'
  | 'plan-newer'
  | 'plan-entry-unknown'
  | 'plan-path-missing'
  | 'plan-port-missing'
  | 'plan-port-doubled'
  | 'plan-root-left-out'
  | 'plan-role-missing'
  | 'plan-role-no-place'
  | 'plan-role-many-ports'
  | 'plan-role-is-port'
  | 'plan-role-on-vlan'
  | 'plan-role-in-text'
  | 'value-not-in-text'
  | 'plan-tag-no-record'
  | 'plan-tag-out-of-range'
  | 'plan-tag-taken'
  | 'plan-port-no-record'
  | 'plan-keep-missing'
  | 'plan-value-missing'
  | 'plan-value-other'
  | 'plan-value-crossed'
  | 'value-holds-elements'
  | 'value-not-allowed'
  | 'graft-no-receiver'
  | 'graft-nothing-picked'
  | 'graft-other-root'
  | 'graft-other-form'
  | 'graft-spread-record'
  | 'graft-flat-list'
  | 'graft-no-key'
  | 'plan-other-file'
  | 'value-in-two-pieces'
  | 'name-not-allowed'
  | 'second-reader-differs'
  | 'paste-empty'
  | 'paste-too-large'
  | 'paste-not-devices'
  | 'receiver-no-ports'
  | 'receiver-port-doubled'
  | 'receiver-ports-alike'
  | 'receiver-not-json'
  | 'receiver-not-a-receiver'
  | 'receiver-newer'
  | 'receiver-entry-unknown';

export type Result<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly trouble: Trouble };

export const good = <T>(value: T): Result<T> => ({ ok: true, value });
export const bad = (trouble: Trouble): Result<never> => ({ ok: false, trouble });
