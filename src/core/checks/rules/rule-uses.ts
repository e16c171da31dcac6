import type { Reading } from '../../reading/reading.ts';
import { parseBoolean } from '../../values/booleans.ts';
import { isHex, isUuid } from '../../values/ids.ts';
import { wordsOf } from '../../values/name-words.ts';
import { isDomainName } from '../../values/names.ts';
import { unsigned } from '../../values/numbers.ts';
import { switchIn, switchSense } from '../facts/enabled.ts';
import { type References, referencesOf } from '../facts/links.ts';
import type { Column, Table } from '../facts/tables.ts';
import { addressInterval, portInterval } from './intervals.ts';
import { isClerical, isCount, type Meanings, meaningsOf, ownNames } from './rule-meanings.ts';
import {
  actionOf,
  anyWords,
  destinationWords,
  hasAny,
  logWords,
  portWords,
  remarkWords,
  sourceWords,
} from './rule-words.ts';
import { carriersIn } from './service-ports.ts';

/** What a column of a list of rules is about. */
export type Use = 'action' | 'ignored' | 'switch' | 'via' | 'ends' | 'ports' | 'protocol' | 'named' | 'unknown';

export function isAction({ field }: Column): boolean {
  const { distinct, values, several } = field;
  if (values.length < 2 || several || distinct.length > 6) return false;
  return distinct.every((value) => value.length <= 16 && actionOf(value) !== undefined);
}

/** A role inside a sender or receiver stands for its network, as the addresses beside it do. */
export function usesOf(reading: Reading, { columns }: Table, action: Column): ReadonlyMap<Column, Use> {
  const references = referencesOf(reading);
  const meanings = meaningsOf(reading);
  const isOwnKey = ownNames(reading);
  const senseOf = switchIn(reading);
  const use = new Map<Column, Use>();
  const either: Column[] = [];
  for (const column of columns) {
    const found =
      column === action
        ? 'action'
        : isOwnKey(column) && !references.in(column.field)
          ? 'ignored'
          : useOf(column, senseOf(column), references, meanings);
    if (found === 'either') either.push(column);
    else use.set(column, found);
  }
  for (const [column, found] of use) if (found === 'unknown') use.set(column, useOfNumbers(column, action, use));
  // Roles and `any` alone are the way in where two others say from where and to where.
  const told = [...use.values()].filter((one) => one === 'ends').length;
  for (const column of either) use.set(column, told >= 2 && either.length === 1 ? 'via' : 'ends');
  const ends = new Set(columns.filter((column) => use.get(column) === 'ends').map(({ container }) => container));
  for (const column of columns) {
    const { container } = column;
    if (use.get(column) !== 'via' || container === action.container) continue;
    if (ends.has(container) || isEnd(new Set(wordsOf(container.slice(container.lastIndexOf('/') + 1)))))
      use.set(column, 'ends');
  }
  return use;
}

/** Ignored whatever stands in it. */
export const isRemark = ({ words }: Column): boolean =>
  switchSense(words) === null && (hasAny(words, logWords) || hasAny(words, remarkWords));

/** Rows that are looked at to learn what a column names. */
const SAMPLE = 400;

/** What a column is about, by its values; each text is looked at once. */
function useOf(column: Column, sense: 'on' | 'off' | null, references: References, meanings: Meanings): Use | 'either' {
  const { field, words, kind } = column;
  const { distinct, times, values } = field;
  if (parseBoolean(values[0]!) !== null && sense) return 'switch';
  if (hasAny(words, logWords) || hasAny(words, remarkWords)) return 'ignored';
  const linked = { roles: 0, addresses: 0, ports: 0, other: 0 };
  const links = references.in(field);
  for (let place = 0; links && place < links.length && place < SAMPLE; place++)
    for (let at = links[place]!; at !== -1; at = references.next(at)) {
      const to = references.to[at]!;
      if (meanings.rolesAt(to).length > 0) linked.roles++;
      else linked[meanings.of(to)?.of ?? 'other']++;
    }
  const isLinked = linked.roles + linked.addresses + linked.ports + linked.other > 0;
  if (!isLinked && isKey(column)) return 'ignored';
  // A column that says `any` and nothing else is about anything.
  const isAny = (value: string) => anyWords.has(value.toLowerCase());
  if (distinct.every(isAny)) return isLinked ? 'unknown' : 'ignored';
  if (distinct.every((value) => carriersIn(value) !== null)) return 'protocol';
  if (kind === 'address' || kind === 'prefix' || kind === 'mixed' || kind === 'range' || linked.addresses > 0)
    return 'ends';
  const loose = looseTexts(column, references);
  if (linked.roles > 0 && linked.other + linked.ports === 0) {
    // Where literals stand beside roles, a role is meant as its network; where only roles stand, as the way in or out.
    if (loose.some((value) => addressInterval(value) !== null)) return 'ends';
    return isEnd(words) ? 'ends' : distinct.some(isAny) ? 'either' : 'via';
  }
  const isPorts = (value: string) => value.split(/[\s,;|]+/).every((piece) => portInterval(piece) !== null);
  if (linked.ports > 0 || (hasAny(words, portWords) && (linked.other > 0 || distinct.some(isPorts)))) return 'ports';
  if (linked.other > 0 && linked.roles === 0 && loose.length > 0 && loose.every(isPorts)) return 'ports';
  if (linked.other > 0 || linked.roles > 0) return loose.length === 0 ? 'named' : 'ends';
  let phrases = 0;
  for (const [at, value] of distinct.entries())
    if (/\p{L}{3,}\s+\p{L}{2,}/u.test(value) && !/\d:\d/.test(value)) phrases += times[at]!;
  return phrases * 3 >= values.length || distinct.every(isClerical) ? 'ignored' : 'unknown';
}

/** Ports that rules are mostly about (IANA, Service Name and Transport Protocol Port Number Registry). */
const wellKnown = new Set(
  '20 21 22 23 25 53 67 68 69 80 110 123 143 161 162 179 389 443 445 465 500 514 587 636 853 993 995 1194 1812 1813 3389 4500 5060 8080 8443'.split(
    ' ',
  ),
);

/** Protocols that have ports (IANA, Protocol Numbers). */
const withPorts = new Set(['tcp', 'udp', 'sctp']);

/**
 * What numbers under an unknown name are: they count the rules, or are ports, well-known ones for a good part and only in
 * rules of a protocol that has ports.
 */
function useOfNumbers(column: Column, action: Column, use: ReadonlyMap<Column, Use>): Use {
  const { field, kind } = column;
  const { values, distinct, rows } = field;
  if (kind !== 'number' || values.length < 3) return 'unknown';
  if (distinct.length === values.length && values.length === action.field.values.length && isCount(values))
    return 'ignored';
  const protocols = [...use].flatMap(([other, about]) => (about === 'protocol' ? [other] : []));
  const known = distinct.filter((value) => wellKnown.has(value)).length;
  if (known < 2 || known * 2 < distinct.length || protocols.length !== 1) return 'unknown';
  const [{ field: protocol, placeOf }] = protocols as [Column];
  const hasPorts = (row: number) => {
    const place = placeOf.get(row);
    return (
      place !== undefined &&
      protocol.values[place]!.toLowerCase()
        .split(/[/,+ ]+/)
        .every((one) => withPorts.has(one))
    );
  };
  return rows.every(hasPorts) ? 'ports' : 'unknown';
}

const isEnd = (words: ReadonlySet<string>) => hasAny(words, sourceWords) || hasAny(words, destinationWords);

/** Texts that stand somewhere and name nothing there, `any` left out. */
function looseTexts({ field }: Column, references: References): string[] {
  const { which, distinct } = field;
  const links = references.in(field);
  const loose = new Uint8Array(distinct.length);
  let left = distinct.length;
  for (let place = 0; place < which.length && left > 0; place++) {
    if (loose[which[place]!] || (links && links[place] !== -1)) continue;
    loose[which[place]!] = 1;
    left--;
  }
  return distinct.filter((value, at) => loose[at] === 1 && !anyWords.has(value.toLowerCase()));
}

const keyWords = new Set(
  'id ident uid uuid guid name key handle nr no num number ref seq sequence order position pos rank index kennung clave cle код ключ 编号 番号'.split(
    ' ',
  ),
);

/** Names, numbers and marks by which rules are told apart: all differ, and they are called so or look like nothing else. */
function isKey({ field, kind, words }: Column): boolean {
  const { values, distinct } = field;
  if ((kind !== 'other' && kind !== 'number') || field.several || values.length < 3) return false;
  if (hasAny(words, portWords) || distinct.length < values.length) return false;
  if (values.slice(0, SAMPLE).every((value) => isUuid(value) || isHex(value, 8))) return true;
  return hasAny(words, keyWords) && !values.some(isDomainName);
}

/** False where numbers tell an order that is another than that of the file. */
export function inOrder(table: Table): boolean {
  for (const { field, kind, words } of table.columns) {
    if (kind !== 'number' || !hasAny(words, orderWords)) continue;
    for (let at = 1; at < field.values.length; at++)
      if (unsigned(field.values[at]!) < unsigned(field.values[at - 1]!)) return false;
  }
  return true;
}

const orderWords = new Set(
  'seq sequence order position pos priority prio rank index nr number reihenfolge orden ordre'.split(' '),
);

export const partName = ({ field }: Column) => field.template;

/** Parts of one kind, of which nobody knows whether they are alternatives; source and destination are none. */
export function alternatives(columns: readonly Column[]): string[][] {
  const byContainer = new Map<string, Column[]>();
  for (const column of columns) {
    const list = byContainer.get(column.container);
    if (list) list.push(column);
    else byContainer.set(column.container, [column]);
  }
  return [...byContainer.values()]
    .filter((list) => list.length > 1 && !areEnds(list))
    .map((list) => list.map(partName));
}

/** One for the source and one for the destination, of addresses or of ports each. */
function areEnds(columns: readonly Column[]): boolean {
  const sides = new Set<string>();
  for (const { words, kind } of columns) {
    const side = hasAny(words, sourceWords) ? 's' : hasAny(words, destinationWords) ? 'd' : '';
    const ports = hasAny(words, portWords) || kind === 'number' ? 'ports' : 'ends';
    if (side === '' && ports !== 'ports') return false;
    if (sides.has(side + ports)) return false;
    sides.add(side + ports);
  }
  return true;
}
