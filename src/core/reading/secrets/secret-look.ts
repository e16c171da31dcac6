import { looksDrawn } from '../../values/ids.ts';
import { machinePart } from '../../values/machine-part.ts';
import { passwordInUrl } from '../../values/names.ts';
import { isHexDigest, isPasswordHash } from '../../values/password-hash.ts';
import type { FieldData } from '../fields/fields.ts';
import type { SiteSet } from '../fields/site-set.ts';
import type { Strand } from '../fields/strands.ts';
import type { Secret } from '../reading.ts';
import { type NameSays, nameSays } from './secret-names.ts';
import { couldBePhrase, isKey32, isPlaceholder, isWrappedText } from './secret-values.ts';

type Kind = Secret['kind'];

/** What the values of a strand look like. */
export interface Look {
  /** Places that name nothing and are no empty marks. All but the next are counts among these. */
  free: number;
  /** Places that name records. */
  named: number;
  hashes: number;
  drawn: number;
  /** How many different ones these are. */
  draws: number;
  keys32: number;
  digests: number;
  urls: number;
  /** Texts that could be thought up as a password and are nothing else. */
  plain: number;
  /** Of these, those of several words. */
  phrases: number;
  taken: number;
  called: number;
  distinct: number;
}

export function isNamed(field: FieldData, place: number, says: NameSays | Kind, named: SiteSet): boolean {
  return named.hasValue(field, place) && !outspoken(says, field.values[place]!);
}

/** The parts of a key that stand in one line may be one name: `preshared.key`; so may an element and the one value in it. */
export function saysOf({ name, around }: Strand): NameSays {
  return nameSays(name, around);
}

/**
 * One passphrase in two places looks like a key and a reference to it: where the name says secret, several words or a
 * draw are believed to be one.
 */
export function outspoken(says: NameSays | Kind, value: string): boolean {
  return (says === 'password' || says === 'shared-secret') && (/\s/.test(value) || looksDrawn(value));
}

/** Whether a text is made of settings of which one is a part of a machine: `console=ttyS0,115200`. */
const namesMachine = (value: string) => value.split(/[\s=,:]+/).some((word) => machinePart(word) !== null);

/** No more than this many values of a field are looked at closely; a secret field says so early. */
export const ENOUGH = 400;

/** `$`, `{` or `_`, which hashes of passwords begin with. */
const isMarked = (unit: number) => unit === 36 || unit === 123 || unit === 95;

const late = new WeakMap<FieldData, boolean>();

/** Past the sample only what tells itself is still looked for: at its first letter, or as a URL. */
function mayTellLate(field: FieldData): boolean {
  let may = late.get(field);
  if (may === undefined) {
    may = field.distinct.some((value) => isMarked(value.charCodeAt(0)) || value.includes('://'));
    late.set(field, may);
  }
  return may;
}

export function lookAt(strand: Strand, named: SiteSet, taken: SiteSet, called: ReadonlySet<string>): Look {
  const look: Look = {
    free: 0,
    named: 0,
    hashes: 0,
    drawn: 0,
    draws: 0,
    keys32: 0,
    digests: 0,
    urls: 0,
    plain: 0,
    phrases: 0,
    taken: 0,
    called: 0,
    distinct: 0,
  };
  const seen = new Set<string>();
  const { field, places } = strand;
  const { values } = field;
  const says = saysOf(strand);
  for (const place of places) {
    const value = values[place]!;
    const first = value.charCodeAt(0);
    if (value.length > 512) continue;
    const marked = isMarked(first);
    if (look.free >= ENOUGH) {
      if (!mayTellLate(field)) break;
      if (!marked && !value.includes('://')) continue;
    }
    if (isPlaceholder(value)) continue;
    if (isNamed(field, place, says, named)) {
      look.named++;
      continue;
    }
    look.free++;
    if (taken.hasValue(field, place)) look.taken++;
    if (called.has(value) && !outspoken(says, value)) look.called++;
    if (marked && isPasswordHash(value)) look.hashes++;
    else if (value.length === 44 && isKey32(value)) look.keys32++;
    else if (isHexDigest(value)) look.digests++;
    else if (value.includes('://')) look.urls += passwordInUrl(value) ? 1 : 0;
    else if (value.length <= 128 && looksDrawn(value)) {
      const isKey = says !== null || !(isWrappedText(value) || namesMachine(value));
      if (isKey) look.drawn++;
      if (isKey && !seen.has(value)) look.draws++;
    } else if (value.length >= 6 && value.length <= 64 && couldBePhrase(value)) {
      look.plain++;
      if (value.includes(' ')) look.phrases++;
    }
    if (seen.size < ENOUGH) seen.add(value);
  }
  look.distinct = seen.size;
  return look;
}
