import { type Compiled, compile } from '../../compile/compile.ts';
import { readAgain } from '../../compile/second-reader.ts';
import { type Decision, type Plan, planOf } from '../../plan/plan.ts';
import type { Reading } from '../../reading/reading.ts';
import { decode } from '../../text/decode.ts';
import { encode } from '../../text/encode.ts';
import { bad, good, type Result, type Trouble } from '../../trouble.ts';
import { readXml } from '../../xml/read.ts';
import type { Backup } from '../backup/open.ts';

export interface Built {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly compiled: Compiled;
  /** Elements on which both readers agree. */
  readonly elements: number;
}

/**
 * The result of a plan, proved: both readers read it again from its bytes, and what they find is what the plan says must
 * come out. Anything else is a refusal, and there are no bytes.
 */
export function build(backup: Backup, reading: Reading, plan: Plan): Result<Built> {
  const compiled = compile(backup.tree, reading, plan, backup.fits);
  const blocking = compiled.troubles.find(({ code }) => code !== 'plan-port-missing');
  if (blocking) return bad(blocking);
  const proved = prove(backup, compiled);
  return proved.ok ? good({ ...proved.value, compiled }) : proved;
}

export type Proved = Omit<Built, 'compiled'>;

/** The bytes that patches make of a backup, where both readers find in them what the edits say. */
export function prove(backup: Backup, { patches, edits }: Pick<Compiled, 'patches' | 'edits'>): Result<Proved> {
  const text = patches.apply();
  const encoded = encode(text, backup.decoded);
  if (!encoded.ok) return encoded;
  const again = decode(encoded.value);
  if (!again.ok) return again;
  if (again.value.text !== text) return bad({ code: 'second-reader-differs', params: { what: 'bytes', path: '/' } });
  const strict = readXml(text);
  if (!strict.ok) return strict;
  const agreed = readAgain(backup.tree, edits, text);
  if (!agreed.ok) return agreed;
  return good({ bytes: encoded.value, elements: agreed.value });
}

/** Why a decision could not be carried out by itself; null where it could. */
export function planTrouble(backup: Backup, reading: Reading, decision: Decision): Trouble | null {
  return compile(backup.tree, reading, planOf([decision]), backup.fits).troubles[0] ?? null;
}
