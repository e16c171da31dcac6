import { append } from '../../lists.ts';
import { mapLong } from '../../reading/fields/long-lists.ts';
import { isGroupMac, parseMac } from '../../values/mac.ts';
import { isDomainName, isHostName, toHostName } from '../../values/names.ts';
import { unsigned } from '../../values/numbers.ts';
import type { Finding, Repair, RepairCode } from '../../views.ts';
import type { Site } from '../../xml/site.ts';
import { valueIn } from '../amended/set-value.ts';
import { type References, referencesOf } from '../facts/links.ts';
import { once } from '../facts/once.ts';
import { type Column, siteOf, tablesOf } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { namedAt, renameRecord } from '../repairs/renames.ts';
import { setTo } from '../repairs/repairs.ts';
import { portInterval } from '../rules/intervals.ts';
import { hasAny, portWords } from '../rules/rule-words.ts';
import { largeFrames } from './frames.ts';

interface Slip {
  readonly code: Finding['code'];
  readonly severity: Finding['severity'];
  readonly site: Site;
  readonly params: Finding['params'];
  readonly mended?: { readonly code: RepairCode; readonly value: string };
}

/** Ports, frame sizes, host names and hardware addresses that cannot be what they stand for. */
export function checkNamesAndNumbers(input: CheckInput): Finding[] {
  return slipsOf(input.reading)
    .filter(({ site }) => !input.gone(site.node))
    .map(({ site, mended, ...slip }) => ({
      ...slip,
      place: input.place(site),
      byPlan: false,
      repairs: mended ? repairsOf(input, site, mended) : [],
    }));
}

function repairsOf(input: CheckInput, site: Site, { code, value }: NonNullable<Slip['mended']>): Repair[] {
  const record = code === 'host-name-plain' ? namedAt(input, site) : null;
  if (record !== null) return renameRecord(input, record, valueIn(input.tree, input.set, site).trim(), value);
  return setTo(input, code, { to: value }, [{ site, value }]);
}

const slipsOf = once((reading): readonly Slip[] => {
  const slips: Slip[] = [];
  const references = referencesOf(reading);
  for (const { columns } of tablesOf(reading).values())
    for (const column of columns) {
      if (hasAny(column.words, portWords) || isPortsOf(column)) append(slips, portSlips(column, references));
      else if (column.words.has('mtu')) append(slips, frameSlips(column));
      else if (hasAny(column.words, hostWords)) append(slips, hostSlips(column));
      if (column.kind === 'mac') append(slips, macSlips(column));
      append(slips, macForms(column));
      append(slips, daySlips(column));
    }
  for (const { site, ...params } of largeFrames(reading))
    slips.push({
      code: 'frame-over-parent',
      severity: 'warning',
      site,
      params,
      mended: { code: 'frame-as-parent', value: String(params.least) },
    });
  return slips;
});

/** Numbers called after a transport protocol; lone ones may be its limits and times. */
function isPortsOf({ words, field }: Column): boolean {
  return (words.has('tcp') || words.has('udp')) && field.distinct.filter((value) => numeric.test(value)).length >= 4;
}

/** A plain number or two: names of services and of sets stand in such fields too. */
const numeric = /^\d+(?:\s?[-:]\s?\d+)?$/;

/** RFC 6335, 6: port numbers have 16 bits, and 0 is kept for no port. */
function* portSlips({ field, name }: Column, references: References): Generator<Slip> {
  const { distinct, times, which } = field;
  let good = 0;
  let numbers = 0;
  for (const [at, value] of distinct.entries()) {
    if (!numeric.test(value)) continue;
    numbers += times[at]!;
    if (portInterval(value) !== null) good += times[at]!;
  }
  // A field whose numbers are mostly none holds something else that is called so.
  if (numbers === 0 || (good < numbers * (numbers > 3 ? 0.7 : 0.5) && numbers > 1)) return;
  // Low numbers alone may be the keys of services.
  const isHigh = distinct.some((value) => numeric.test(value) && Number.parseInt(value, 10) > 1023);
  const isOdd = mapLong(distinct, (value) => numeric.test(value) && (value === '0' || portInterval(value) === null));
  if (!isOdd.includes(true)) return;
  // An identifier of a service may be all digits.
  const links = references.in(field);
  for (let place = 0; place < which.length; place++) {
    if (!isOdd[which[place]!] || (links && links[place] !== -1)) continue;
    const value = distinct[which[place]!]!;
    const [first, last] = value.split(/\s?[-:]\s?/).map(Number) as [number, number | undefined];
    const site = siteOf(field, place);
    if (first > 65_535 || (last ?? 0) > 65_535)
      yield { code: 'port-number', severity: 'warning', site, params: { value, field: name } };
    else if (last !== undefined && first > last)
      yield {
        code: 'port-range-reversed',
        severity: 'warning',
        site,
        params: { value, field: name },
        mended: { code: 'swap-ends', value: value.replace(/^(\d+)(\D+)(\d+)$/, '$3$2$1') },
      };
    else if (value === '0' && good > 3 && isHigh)
      yield { code: 'port-number', severity: 'note', site, params: { value, field: name } };
  }
}

/** Smallest largest frame: 68 octets for version 4 (RFC 791, 3.2), 1280 for version 6 (RFC 8200, 5). */
function* frameSlips({ field, name }: Column): Generator<Slip> {
  const least = field.steps.some((step) => /ipv6|ip6|inet6/i.test(step)) ? 1280 : 68;
  for (let place = 0; place < field.values.length; place++) {
    const value = field.values[place]!;
    const number = unsigned(value);
    if (number >= 0 && number !== 0 && number < least)
      yield {
        code: 'frame-too-small',
        severity: 'warning',
        site: siteOf(field, place),
        params: { value, field: name, least },
      };
  }
}

const day = /^(\d{4})-(\d\d)-(\d\d)(?:[T ]\d\d:\d\d.*)?$/;

/** RFC 3339, 5.7: days that their month does not have. Other numbers in such a form are no dates at all. */
function* daySlips({ field, name }: Column): Generator<Slip> {
  if (!day.test(field.values[0]!)) return;
  for (let place = 0; place < field.values.length; place++) {
    const value = field.values[place]!;
    const [, year, month, date] = day.exec(value) ?? [];
    if (year === undefined || Number(month) < 1 || Number(month) > 12 || Number(date) < 29 || Number(date) > 31)
      continue;
    if (new Date(Date.UTC(Number(year), Number(month), 0)).getUTCDate() < Number(date))
      yield { code: 'day-not-there', severity: 'warning', site: siteOf(field, place), params: { value, field: name } };
  }
}

const hostWords = new Set('host hostname fqdn domain dns hosts hostnames domains'.split(' '));

/** RFC 1123, 2.1: letters, digits and inner dashes, 63 to a label. The others of the field show that such names are meant. */
function* hostSlips({ field, name, kind }: Column): Generator<Slip> {
  const { values } = field;
  if (kind !== 'other' || values.length < 4) return;
  const isName = (value: string) => isHostName(value) || isDomainName(value);
  const odd: number[] = [];
  for (let place = 0; place < values.length; place++) {
    if (isName(values[place]!)) continue;
    odd.push(place);
    if (odd.length > Math.max(1, values.length * 0.1)) return;
  }
  for (const place of odd) {
    const value = values[place]!;
    // Addresses, lists and patterns stand in such fields by right.
    if (/[*%$(){}[\]:/,;|]/.test(value) || /^[\d.]+$/.test(value)) continue;
    const plain = toHostName(value);
    yield {
      code: 'host-name-malformed',
      severity: 'note',
      site: siteOf(field, place),
      params: { value, field: name },
      ...(plain !== null && { mended: { code: 'host-name-plain', value: plain } }),
    };
  }
}

/** RFC 9542, 2.1: an address of a group is nobody's own. */
function* macSlips({ field, name }: Column): Generator<Slip> {
  for (let place = 0; place < field.values.length; place++) {
    const value = field.values[place]!;
    const octets = parseMac(value);
    if (!octets) continue;
    const empty = octets.every((octet) => octet === 0);
    if (isGroupMac(octets) || empty)
      yield { code: 'mac-of-a-group', severity: 'note', site: siteOf(field, place), params: { value, field: name } };
  }
}

/** How the octets of a hardware address are kept apart, and in how many a piece. */
function macForm(value: string): { readonly mark: string; readonly digits: number } {
  const mark = /[^0-9a-f]/i.exec(value)?.[0] ?? '';
  return { mark, digits: mark === '' ? 12 : value.indexOf(mark) };
}

/** One that is written otherwise than nearly all others of its field: a box may take one form only. Common practice, no source. */
function* macForms({ field, name }: Column): Generator<Slip> {
  const { distinct, times, which, values } = field;
  const forms = mapLong(distinct, (value) => {
    const form = parseMac(value) && macForm(value);
    return form ? `${form.digits}${form.mark}` : '';
  });
  const counts = new Map<string, number>();
  for (const [at, form] of forms.entries()) if (form) counts.set(form, (counts.get(form) ?? 0) + times[at]!);
  const [usual, most] = [...counts].reduce((best, one) => (one[1] > best[1] ? one : best), ['', 0]);
  const others = [...counts.values()].reduce((sum, count) => sum + count, 0) - most;
  if (most < 4 || others > Math.max(1, most * 0.1)) return;
  const [digits, mark] = [Number.parseInt(usual, 10), usual.replace(/^\d+/, '')];
  for (let place = 0; place < values.length; place++) {
    const form = forms[which[place]!]!;
    if (form === '' || form === usual) continue;
    const value = values[place]!;
    const plain = value.replace(/[^0-9a-f]/gi, '');
    const mended = (plain.match(new RegExp(`.{${digits}}`, 'g')) ?? [plain]).join(mark);
    yield {
      code: 'mac-form',
      severity: 'note',
      site: siteOf(field, place),
      params: { value, field: name, usual: mended },
      mended: { code: 'hardware-like-others', value: mended },
    };
  }
}
