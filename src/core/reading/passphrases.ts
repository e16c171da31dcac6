import { isIpv4, isIpv6, parsePrefix } from '../values/ip.ts';
import { isMailAddress, isUrl } from '../values/names.ts';
import type { SiteSet } from './site-set.ts';
import type { Strand } from './strands.ts';

/** A name under which free text stands in this many kinds of record is the dialect's word for a remark. */
const REMARK = 3;

/**
 * Passphrases that neither shape nor name gives away: words that a person thought up. Told by company. A name that is a
 * secret's in one place is a secret's in another. Else such a text is one for each record, all different, in a record
 * that has somebody to talk to (an address, a URL, an account), under a name that the dialect does not use for remarks.
 * @param undecided strands whose values are all free text and all different.
 * @param named places that name a record: a name that does so in one place does not hold secrets in another.
 */
export function passphrases(
  strands: readonly Strand[],
  undecided: readonly Strand[],
  isSecret: (strand: Strand) => boolean,
  named: SiteSet,
): readonly Strand[] {
  const candidates = undecided.filter(looksThoughtUp);
  if (candidates.length === 0) return [];
  const proven = new Set(strands.filter(isSecret).map(({ name }) => name));
  const remarks = remarkNames(strands);
  const naming = new Set(
    strands
      .filter(({ field, places }) => places.some((place) => named.has(field.nodes[place]!, field.attrs[place]!)))
      .map(({ name }) => name),
  );
  const partners = new Map<string, 'address' | 'account'>();
  for (const { field, places, company } of strands) {
    const partner = partnerIn(field.values[places[0]!]!);
    if (partner && partners.get(company) !== 'account') partners.set(company, partner);
  }
  return candidates.filter(({ name, company, places }) => {
    // Names of one letter mean something else in each kind of record.
    if (name.length === 1) return partners.get(company) === 'account' && places.length === 1;
    if (remarks.has(name) || naming.has(name)) return false;
    const partner = partners.get(company);
    return proven.has(name) || partner === 'account' || (partner !== undefined && remarks.size > 0);
  });
}

/** Several words, or one with marks or with both cases and digits: neither a plain name nor an id. */
function looksThoughtUp({ field, places }: Strand): boolean {
  if (places.length > 200) return false;
  const phrases = places.filter((place) => {
    const value = field.values[place]!;
    if (value.length < 8 || value.length > 63) return false;
    return /\s|[!#%&*+=?^~@$]/.test(value) || (/[a-z]/.test(value) && /[A-Z]/.test(value) && /\d/.test(value));
  });
  return phrases.length * 2 >= places.length;
}

function remarkNames(strands: readonly Strand[]): ReadonlySet<string> {
  const companies = new Map<string, Set<string>>();
  for (const { field, places, name, company } of strands) {
    if (!places.slice(0, 20).some((place) => /\S\s+\S/.test(field.values[place]!) && field.values[place]!.length < 200))
      continue;
    if (!companies.has(name)) companies.set(name, new Set());
    companies.get(name)!.add(company);
  }
  return new Set([...companies].filter(([, set]) => set.size >= REMARK).map(([name]) => name));
}

/** Somebody at the other end: an address, or a service where one has an account. */
function partnerIn(value: string): 'address' | 'account' | null {
  if (isUrl(value) || isMailAddress(value)) return 'account';
  return isIpv4(value) || isIpv6(value) || parsePrefix(value) !== null ? 'address' : null;
}
