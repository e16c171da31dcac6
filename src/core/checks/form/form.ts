import { append } from '../../lists.ts';
import type { FieldData } from '../../reading/fields/fields.ts';
import { keySite } from '../../reading/keys/record-name.ts';
import type { Key, Reading } from '../../reading/reading.ts';
import { encodingLabel } from '../../text/encodings.ts';
import { lowerBound } from '../../text/lower-bound.ts';
import type { Finding } from '../../views.ts';
import { unboundPrefixes } from '../../xml/namespaces.ts';
import { templateOf } from '../../xml/path.ts';
import { type Site, TEXT } from '../../xml/site.ts';
import { isWithin, type Tree } from '../../xml/tree.ts';
import { keyIn } from '../amended/set-value.ts';
import type { CheckInput } from '../input.ts';
import { renameApart } from '../repairs/renames.ts';
import { leaveOut } from '../repairs/repairs.ts';
import { checkCharacters } from './characters.ts';

/** What is odd about the file itself: its encoding, its prefixes, and keys that two records of one collection share. */
export function checkForm(input: CheckInput): Finding[] {
  return [
    ...checkEncoding(input),
    ...checkPrefixes(input),
    ...checkKeys(input),
    ...checkOutliers(input),
    ...checkCharacters(input),
  ];
}

/** One finding for each prefix that nothing declares, at the first place that stays. */
function checkPrefixes({ tree, gone, place }: CheckInput): Finding[] {
  const seen = new Set<string>();
  const findings: Finding[] = [];
  for (const { node, attr, prefix } of unboundPrefixes(tree)) {
    if (seen.has(prefix) || gone(node)) continue;
    seen.add(prefix);
    findings.push({
      code: 'prefix-unbound',
      severity: 'note',
      place: place({ node, attr }),
      params: { prefix },
      byPlan: false,
    });
  }
  return findings;
}

function checkEncoding({ decoded }: CheckInput): Finding[] {
  const { declared, encoding, text } = decoded;
  const named = declared === null ? encoding : encodingLabel(declared);
  const same =
    named === encoding ||
    (named === 'utf-16' && encoding.startsWith('utf-16')) ||
    (named === 'us-ascii' && encoding === 'utf-8');
  const findings: Finding[] = [];
  const about = (code: Finding['code']): Finding => ({
    code,
    severity: 'warning',
    place: null,
    params: { label: declared ?? '', found: encoding },
    byPlan: false,
  });
  if (!same) findings.push(about('encoding-contradicts'));
  // UTF-8 read one byte a character: a lead byte, then as many trail bytes as it announces.
  if (!encoding.startsWith('utf') && /[\u00c3\u00c2][\u0080-\u00bf]/.test(text))
    findings.push(about('encoding-suspect'));
  return findings;
}

const doubledOf = new WeakMap<Reading, readonly (readonly [key: string, records: readonly number[]])[]>();

/** Keys that come twice where nearly all others come once, with their records; a field in which many do is no key. */
function doubledKeys(input: CheckInput): readonly (readonly [key: string, records: readonly number[]])[] {
  const { tree, reading, set } = input;
  const known = doubledOf.get(reading);
  if (known) return known;
  const doubled: (readonly [string, readonly number[]])[] = [];
  const differ = allDifferent(tree, reading);
  const sites = [...set.values()].map(({ site }) => site);
  for (const { key, together, records } of reading.collections) {
    if (!together && (key.by === 'position' || key.by === 'tag')) continue;
    if (!together && !sites.some((site) => isKeyOf(tree, site, key, records)) && differ(key, records)) continue;
    const first = new Map<string, number>();
    const several = new Map<string, number[]>();
    for (const node of records) {
      const parts = (together ?? [key]).map((by) => keyIn(tree, set, by, node));
      // RFC 7950, 7.8.2: an entry has all its keys; what has not is no double of another.
      if (parts.includes('')) continue;
      const value = parts.join(', ');
      const before = first.get(value);
      if (before === undefined) first.set(value, node);
      else {
        const list = several.get(value) ?? [before];
        list.push(node);
        several.set(value, list);
      }
    }
    const extra = [...several.values()].reduce((sum, list) => sum + list.length - 1, 0);
    // In a list that no standard speaks for, chance makes a field look like a key.
    if (reading.standard !== null || extra * 8 <= records.length) append(doubled, several);
  }
  const own = doubled.filter(([key, records]) => !namesAnother(input, key, records));
  doubledOf.set(reading, own);
  return own;
}

/** Whether the key of one of the records stands at a place, or might: a value may be set where none was. */
function isKeyOf(tree: Tree, { node, attr }: Site, key: Key, records: readonly number[]): boolean {
  const next = lowerBound(records, node);
  // The record around the place, or the one that it is the caption of.
  return records.slice(Math.max(0, next - 1), next + 1).some((record) => {
    const own = keySite(tree, key, record);
    return own ? own.node === node && own.attr === attr : isWithin(tree, node, record);
  });
}

/** A test for keys that stand in a field in which no value comes twice: most do, and so need not be read again. */
function allDifferent(tree: Tree, { values }: Reading): (key: Key, records: readonly number[]) => boolean {
  const fields = new Map<string, FieldData>();
  for (const field of values.fields)
    if (field.distinct.length === field.values.length) fields.set(field.template, field);
  return (key, records) => {
    const site = keySite(tree, key, records[0]!);
    const field = site && fields.get(templateOf(tree, site));
    if (!field) return false;
    // Fields of one name may be told apart by something else; records of one collection are of one kind.
    const at = lowerBound(field.nodes, site.node);
    return field.nodes[at] === site.node && field.attrs[at] === site.attr;
  };
}

/** A value that names a record of another kind may come in as many records as one likes. */
function namesAnother({ tree, reading }: CheckInput, key: string, records: readonly number[]): boolean {
  return reading.references.some(
    ({ value, site }) => value === key && records.some((node) => isWithin(tree, site.node, node)),
  );
}

function checkKeys(input: CheckInput): Finding[] {
  return doubledKeys(input).flatMap(([key, records]) =>
    records
      .filter((node) => !input.gone(node))
      .slice(1)
      .map((node) => ({
        code: 'key-doubled' as const,
        severity: 'warning' as const,
        place: input.place({ node, attr: TEXT }),
        params: { key },
        byPlan: false,
        repairs: [...leaveOut(input, node), ...renameApart(input, node, key)],
      })),
  );
}

/** What is no address among addresses is never meant; another odd value may be. */
const addressKinds = new Set(['address', 'ipv4', 'ipv6', 'netmask', 'prefix', 'address-range']);

function checkOutliers({ reading, gone, place }: CheckInput): Finding[] {
  return reading.outliers
    .filter(({ site, expected }) => expected !== 'certificate' && !gone(site.node))
    .map(({ site, expected }) => ({
      code: 'value-outlier' as const,
      severity: addressKinds.has(expected) ? ('warning' as const) : ('note' as const),
      place: place(site),
      params: { expected },
      byPlan: false,
    }));
}
