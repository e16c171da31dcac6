import { largestOf } from '../../lists.ts';
import { isIpv4, isIpv6, parsePrefix } from '../../values/ip.ts';
import { isMailAddress, isUrl } from '../../values/names.ts';
import type { FieldData } from '../fields/fields.ts';
import type { SiteSet } from '../fields/site-set.ts';
import type { Strand } from '../fields/strands.ts';
import { isGenerated, kindOf } from '../names/literals.ts';
import { namesKey } from './secret-names.ts';

/** A name under which free text stands in this many kinds of record is the dialect's word for a remark. */
const REMARK = 3;
/** So is one with this many texts. */
const MANY_REMARKS = 20;
/** Lists of more records keep no passphrases. */
const MOST_RECORDS = 200;

/**
 * Passphrases that neither shape nor name gives away: words that a person thought up. Told by company. A name that is a
 * secret's in one place is a secret's in another. Else such a text is one for each record, all different, in a record
 * that has somebody to talk to (an address, a URL, an account), under a name that the dialect does not use for remarks.
 * @param undecided strands whose values are all free text and all different.
 * @param named places that name a record: a name that does so in one place does not hold secrets in another.
 */
export function passphrases(
  strands: readonly Strand[],
  fields: readonly FieldData[],
  undecided: readonly Strand[],
  isSecret: (strand: Strand) => boolean,
  named: SiteSet,
): readonly Strand[] {
  const thoughtUp = undecided.filter(
    (strand) =>
      (looksThoughtUp(strand) || (namesKey(strand.name) && areWordsAndDigits(strand))) &&
      !areAlike(strand) &&
      !isSeries(strand),
  );
  if (thoughtUp.length === 0) return [];
  const echoes = echoesAmong(strands, fields, thoughtUp);
  const candidates = thoughtUp.filter((strand) => !echoes.has(strand));
  const secrets = strands.filter(isSecret);
  const proven = new Set(secrets.map(({ name }) => name));
  const kept = new Set(secrets.map(({ company }) => company));
  const remarks = remarksAmong(strands);
  const plain = plainNames(strands);
  const naming = new Set(
    strands.filter(({ field, places }) => places.some((place) => named.hasValue(field, place))).map(({ name }) => name),
  );
  const called = calledOtherwise(strands, candidates, named);
  const partners = new Map<string, 'address' | 'account'>();
  for (const { field, places, company } of strands) {
    const partner = partnerIn(field.values[places[0]!]!);
    if (partner && partners.get(company) !== 'account') partners.set(company, partner);
  }
  return candidates.filter((strand) => {
    const { name, company, places, field } = strand;
    // Names of one letter mean something else in each kind of record.
    if (name.length === 1) return partners.get(company) === 'account' && places.length === 1;
    const partner = partners.get(company);
    const key = partner !== undefined && namesKey(name);
    if (remarks.names.has(name) || naming.has(name) || (plain.has(name) && !key)) return false;
    if (places.some((place) => remarks.texts.has(field.values[place]!))) return false;
    // A record that keeps its secret elsewhere is called by such words.
    if (!proven.has(name) && kept.has(company)) return false;
    if (proven.has(name) || key || partner === 'account') return true;
    // What alone tells a record from its like is its name.
    return (
      called.has(strand) &&
      partner !== undefined &&
      (remarks.names.size > 0 || places.every((place) => isLongWord(field.values[place]!)))
    );
  });
}

/** Candidates in whose records another text, no other's name, is not the same twice; or that are called by their tags. */
function calledOtherwise(
  strands: readonly Strand[],
  candidates: readonly Strand[],
  named: SiteSet,
): ReadonlySet<Strand> {
  const names = new Map<string, Strand[]>(candidates.map(({ company }) => [company, []]));
  for (const strand of strands) {
    const { field, places, company } = strand;
    const beside = names.get(company);
    if (!beside || places.length > MOST_RECORDS) continue;
    const texts = new Set(places.map((place) => field.values[place]!));
    const tells = texts.size === places.length && [...texts].every(isCall);
    if (tells && !places.some((place) => named.hasValue(field, place))) beside.push(strand);
  }
  return new Set(
    candidates.filter(
      (strand) => strand.company.endsWith('*') || names.get(strand.company)!.some((other) => other !== strand),
    ),
  );
}

const isCall = (value: string) =>
  /\p{L}{2}/u.test(value) && /^(?:name|phrase)$/.test(kindOf(value)) && !isGenerated(value);

/** Several words, or one with marks or with both cases and digits: neither a plain name nor an id. */
function looksThoughtUp({ field, places }: Strand): boolean {
  if (places.length > MOST_RECORDS) return false;
  const phrases = places.filter((place) => {
    const value = field.values[place]!;
    if (value.length < 8 || value.length > 63) return false;
    return /\s|[!#%&*+=?^~@$]/.test(value) || (/[a-z]/.test(value) && /[A-Z]/.test(value) && /\d/.test(value));
  });
  return phrases.length * 2 >= places.length;
}

/** Joined words with digits among them, which is how people think up what a box at the other end has to know: `fog-h0rn-twice`. */
const areWordsAndDigits = ({ field, places }: Strand): boolean =>
  places.length <= MOST_RECORDS &&
  places.every((place) =>
    /^(?=.{10,63}$)(?=.*\d)(?=.*\p{Ll}{3})[\p{Ll}\d]+(?:[-._][\p{Ll}\d]+){2,}$/u.test(field.values[place]!),
  );

/** One long word of joined ones, of both cases and with a digit: no caption, also where the dialect has no word for remarks. */
const isLongWord = (value: string) =>
  value.length >= 14 && /^(?=.*[a-z]{3})(?=.*[A-Z])(?=.*\d)[\w-]+$/.test(value) && value.split('-').length >= 3;

/** Texts that share a word are remarks: nobody thinks up passphrases by a pattern and keeps them side by side. */
function areAlike({ field, places }: Strand): boolean {
  if (places.length < 3) return false;
  const uses = new Map<string, number>();
  for (const place of places) {
    const words = field.values[place]!.toLowerCase().split(/[^\p{L}\p{M}]+/u);
    for (const word of new Set(words)) if (word.length >= 2) uses.set(word, (uses.get(word) ?? 0) + 1);
  }
  return largestOf([0, ...uses.values()]) * 2 > places.length;
}

/** Texts that only differ in a number, as in `Berth 201` and `Berth 202`, are captions. */
function isSeries({ field, places }: Strand): boolean {
  const uses = new Map<string, number>();
  for (const place of places) {
    const form = field.values[place]!.replace(/\d+/g, '#');
    if (form !== field.values[place]) uses.set(form, (uses.get(form) ?? 0) + 1);
  }
  return largestOf([0, ...uses.values()]) >= 3;
}

/** Strands of texts that say another value of their record or its tag, or are said by one, more than once: captions and names. */
function echoesAmong(
  strands: readonly Strand[],
  fields: readonly FieldData[],
  candidates: readonly Strand[],
): ReadonlySet<Strand> {
  const rows = new Map<number, string[]>();
  for (const { field, places } of candidates) for (const place of places) rows.set(field.rows[place]!, []);
  const kinds = new Set(candidates.map(({ field }) => field.rowShape));
  const add = ({ values, rows: own }: FieldData, place: number) => {
    const value = values[place]!;
    const beside = value.length >= 3 && value.length <= 120 ? rows.get(own[place]!) : undefined;
    if (beside && /\p{L}/u.test(value)) beside.push(value);
  };
  for (const { field, places } of strands) if (kinds.has(field.rowShape)) for (const place of places) add(field, place);
  for (const field of fields)
    if (field.tag && kinds.has(field.rowShape))
      for (let place = 0; place < field.values.length; place++) add(field, place);
  return new Set(
    candidates.filter(({ field, places }) => {
      const echoed = places.filter((place) => {
        const text = field.values[place]!;
        return rows
          .get(field.rows[place]!)!
          .some((other) => other !== text && (says(text, other) || says(other, text)));
      });
      return echoed.length >= 2;
    }),
  );
}

/** Whether a text holds another as whole words. */
function says(text: string, other: string): boolean {
  const at = text.indexOf(other);
  const isWord = (char: string | undefined) => char !== undefined && /[\p{L}\p{N}]/u.test(char);
  return at >= 0 && !isWord(text[at - 1]) && !isWord(text[at + other.length]);
}

/** The dialect's words for remarks, and all texts that stand under them. */
function remarksAmong(strands: readonly Strand[]): { names: ReadonlySet<string>; texts: ReadonlySet<string> } {
  const uses = new Map<string, { companies: Set<string>; places: number }>();
  for (const { field, places, name, company } of strands) {
    if (!places.slice(0, 20).some((place) => isProse(field.values[place]!))) continue;
    const use = uses.get(name) ?? { companies: new Set(), places: 0 };
    use.companies.add(company);
    use.places += places.length;
    uses.set(name, use);
  }
  const often = [...uses].filter(([, { companies, places }]) => companies.size >= REMARK || places >= MANY_REMARKS);
  const names = new Set(often.map(([name]) => name));
  const texts = new Set<string>();
  for (const { field, places, name } of strands) {
    if (names.has(name)) for (const place of places) if (isProse(field.values[place]!)) texts.add(field.values[place]!);
  }
  return { names, texts };
}

const isProse = (value: string) => value.length < 200 && /\S\s+\S/.test(value);

const isPlainWord = (value: string) => /^\p{L}[\p{L}\d_-]{1,14}$/u.test(value) && !isLongWord(value);

/** Names under which plain words stand somewhere: names of things, where no secret is kept. */
function plainNames(strands: readonly Strand[]): ReadonlySet<string> {
  const names = new Set<string>();
  for (const { field, places, name } of strands) {
    const words = places.slice(0, 20).filter((place) => isPlainWord(field.values[place]!));
    if (words.length * 2 > Math.min(20, places.length)) names.add(name);
  }
  return names;
}

/** Somebody at the other end: an address, or a service where one has an account. */
function partnerIn(value: string): 'address' | 'account' | null {
  if (isUrl(value) || isMailAddress(value)) return 'account';
  return isIpv4(value) || isIpv6(value) || parsePrefix(value) !== null ? 'address' : null;
}
