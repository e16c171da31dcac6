import { append } from '../../lists.ts';
import type { Reading } from '../../reading/reading.ts';
import { contains, type IpAddress, parseAddress, parseAddressRange } from '../../values/ip.ts';
import { isMac, macDigits, maybeMac } from '../../values/mac.ts';
import { wordsOf } from '../../values/name-words.ts';
import { switchedOff } from '../facts/enabled.ts';
import { linksByRow } from '../facts/links.ts';
import { bare, type Column, isBeside, rowsByElement, siteOf, tablesOf } from '../facts/tables.ts';
import type { Block, Context, NetworkFacts, Own, Written } from './networks.ts';

/** Addresses that are given out: both ends as written, `role` -1 where nothing tells whose they are. */
export interface Pool {
  readonly role: number;
  readonly first: Written;
  readonly last: Written;
  readonly row: number;
  /** What stands around both ends; see facts/tables.ts. */
  readonly container: string;
}

/** An address that one client always gets. */
export interface Lease extends Written {
  readonly role: number;
  readonly row: number;
  readonly enabled: boolean;
  /** Where the field of its address is among all fields: those of one list share it. */
  readonly list: number;
  /** The client's hardware address as written; null where none, or more than one, stands beside it. */
  readonly mac: string | null;
  /** The same in one spelling, to tell clients apart. */
  readonly client: string | null;
}

const firstWords = new Set(
  'start begin first low lower lowest min minimum beginning anfang erste beginn von inicio primera primero desde debut premier nachalo начало первый αρχη πρωτη 開始 开始 起始 始'.split(
    ' ',
  ),
);
const lastWords = new Set(
  'end last stop high upper highest max maximum ende letzte bis fin final ultima ultimo hasta dernier konec конец последний τελοσ τελευταια 終了 结束 終'.split(
    ' ',
  ),
);
const poolWords = new Set(
  'pool pools range ranges lease leases dhcp scope bereich rango plage диапазон пул 池 範囲 范围'.split(' '),
);

/** Lists of who stands next door, by hardware address: nobody is given these, and one card may well answer to several. */
const neighbourWords = new Set(
  'arp ndp neighbour neighbours neighbor neighbors nachbar nachbarn vecino vecinos voisin voisins'.split(' '),
);

const has = (words: Iterable<string>, among: ReadonlySet<string>) => [...words].some((word) => among.has(word));

interface Range {
  readonly row: number;
  readonly first: Written;
  readonly last: Written;
}

interface Found {
  readonly column: Column;
  readonly ranges: readonly Range[];
}

/**
 * Ranges of addresses that are given out, and the addresses that one client always gets. A range is two addresses side by
 * side (or one `first-last`) whose record belongs to a role in whose network most such ranges lie, or holds records of
 * single clients, or is called so; two signs at least.
 */
export function poolsAndLeases(context: Context, own: Own): Pick<NetworkFacts, 'pools' | 'leases'> {
  const pools: Pool[] = [];
  const poolRows = new Map<number, Pool>();
  const taken = new Set<Column>();
  for (const { columns } of tablesOf(context.reading).values()) {
    for (const { column, ranges } of rangesIn(columns, context, own, taken)) {
      for (const { row, first, last } of ranges) {
        const named = roleOf(row, context);
        const role = named !== -1 ? named : own.holding(first.address);
        const pool = { row, first, last, role, container: column.container };
        pools.push(pool);
        if (!poolRows.has(row)) poolRows.set(row, pool);
      }
    }
  }
  return { pools, leases: leasesIn(context, own, poolRows, taken) };
}

function roleOf(row: number, { within, linked }: Context): number {
  const around = within(row);
  return around !== -1 ? around : linked(row);
}

function rangesIn(columns: readonly Column[], context: Context, own: Own, taken: Set<Column>): Found[] {
  const found: Found[] = [];
  // A second range beside one is called so; else these are options of the pool: a router and a resolver.
  const pooled = new Set<string>();
  const free = columns.filter(({ kind, field }) => kind === 'address' && !own.columns.has(field));
  for (let at = 0; at + 1 < free.length; at++) {
    const [first, last] = [free[at]!, free[at + 1]!];
    if (first.field.several || last.field.several || !isBeside(first, last)) continue;
    const ranges: Range[] = [];
    for (const [row, place] of first.placeOf) {
      const end = last.placeOf.get(row);
      if (end === undefined) continue;
      const [from, to] = [written(first, place), written(last, end)];
      if (from && to && from.address.version === to.address.version) ranges.push({ row, first: from, last: to });
    }
    const named = has(first.words, firstWords) && has(last.words, lastWords);
    if (!named && pooled.has(first.container)) continue;
    if (!looksPooled(ranges, named ? 2 : 0, first, context, own)) continue;
    found.push({ column: first, ranges });
    pooled.add(first.container);
    taken.add(first).add(last);
    at++;
  }
  for (const column of columns) {
    if (column.kind !== 'range') continue;
    const ranges: Range[] = [];
    for (let place = 0; place < column.field.values.length; place++) {
      const range = parseAddressRange(column.field.values[place]!);
      const site = siteOf(column.field, place);
      if (range)
        ranges.push({
          row: column.field.rows[place]!,
          first: { address: range.first, site },
          last: { address: range.last, site },
        });
    }
    if (!looksPooled(ranges, 0, column, context, own)) continue;
    found.push({ column, ranges });
    taken.add(column);
  }
  return found;
}

function written({ field }: Column, place: number): Written | null {
  const address = parseAddress(bare(field.values[place]!));
  return address && { address, site: siteOf(field, place) };
}

function looksPooled(ranges: readonly Range[], names: number, column: Column, context: Context, own: Own): boolean {
  if (ranges.length === 0) return false;
  let linked = 0;
  let inside = 0;
  let ordered = 0;
  let alike = 0;
  for (const { row, first, last } of ranges) {
    const role = roleOf(row, context);
    if (role !== -1) linked++;
    if (role === -1 ? isShared(own, first.address, last.address) : isIn(own.ofRole.get(role) ?? [], first, last))
      inside++;
    if (first.address.bits < last.address.bits) ordered++;
    if (first.address.bits === last.address.bits) alike++;
  }
  const half = ranges.length / 2;
  // Ends that are alike are a source and its translation rather than a range.
  if (alike > half || ordered + alike < ranges.length * 0.5) return false;
  const signs =
    names +
    (linked >= ranges.length * 0.9 ? 2 : 0) +
    (inside > half ? 2 : inside === half && half > 0 ? 1 : 0) +
    (isCalled(column, poolWords) ? 1 : 0);
  // Where none lies in the network that its record names, it may be what addresses are translated to.
  return signs >= (inside > 0 ? 4 : 5);
}

/** Whether one of the words is in the names around a value. */
const isCalled = ({ field }: Column, words: ReadonlySet<string>) =>
  has(field.steps.slice(-3, -1).flatMap(wordsOf), words);

const isShared = ({ holding }: Own, a: IpAddress, b: IpAddress) => holding(a) !== -1 && holding(a) === holding(b);

const isIn = (blocks: readonly Block[], { address: a }: Written, { address: b }: Written) =>
  blocks.some(({ extent }) => contains(extent, a) && contains(extent, b));

/** Addresses beside a hardware address, and single addresses of records inside a pool. */
function leasesIn(
  context: Context,
  own: Own,
  poolRows: ReadonlyMap<number, Pool>,
  taken: ReadonlySet<Column>,
): Lease[] {
  const { above } = context.reading.values;
  const isOff = switchedOff(context.reading);
  /** The pool whose record this row is or lies in; beside the range itself stand options of the pool, not clients. */
  const poolAround = (row: number, { container }: Column): Pool | null => {
    for (let at = row; at !== -1; at = above[at]!) {
      const pool = poolRows.get(at);
      if (pool) return container.startsWith(`${pool.container}/`) ? pool : null;
    }
    return null;
  };
  const poolNamed = namedPool(context.reading, poolRows);
  const leases: Lease[] = [];
  for (const { columns } of tablesOf(context.reading).values()) {
    const free = columns.filter(
      (column) => column.kind === 'address' && !own.columns.has(column.field) && !taken.has(column),
    );
    if (free.length !== 1) continue;
    const address = free[0]!;
    const inPool = poolAround(address.field.rows[0]!, address) !== null;
    const macs = columns.filter((column) => column.kind === 'mac' && isBeside(column, address));
    if (!inPool && (macs.length === 0 || isCalled(address, neighbourWords))) continue;
    const macOf = (row: number) => {
      const [mac] = macs;
      const place = macs.length === 1 && !mac!.field.several ? mac!.placeOf.get(row) : undefined;
      const text = place === undefined ? '' : mac!.field.values[place]!;
      return isMac(text) || maybeMac(text) ? text : null;
    };
    const found: Lease[] = [];
    let apart = 0;
    for (let place = 0; place < address.field.values.length; place++) {
      const held = written(address, place);
      if (!held) continue;
      const row = address.field.rows[place]!;
      const named = roleOf(row, context);
      const pool = named === -1 ? (poolAround(row, address) ?? poolNamed(row)) : null;
      const role = pool?.role ?? (named !== -1 ? named : own.holding(held.address));
      if (role === -1) continue;
      if (!(own.ofRole.get(role) ?? []).some(({ extent }) => contains(extent, held.address))) apart++;
      const mac = macOf(row);
      const client = mac === null ? null : macDigits(mac);
      const { site } = held;
      found.push({
        address: held.address,
        site,
        role,
        row,
        list: address.field.index,
        enabled: !isOff(row),
        mac,
        client,
      });
    }
    // Where most do not lie in the network that they seem to belong to, the field is about something else.
    if (apart <= found.length / 2) append(leases, found);
  }
  return leases;
}

/** The one pool that a row names, where clients are listed apart from the pools that they belong to. */
function namedPool(reading: Reading, poolRows: ReadonlyMap<number, Pool>): (row: number) => Pool | null {
  const links = linksByRow(reading);
  const byElement = rowsByElement(reading);
  return (row) => {
    let found: Pool | null = null;
    for (let link = links.first(row); link !== -1; link = links.next(link)) {
      const pool = poolRows.get(byElement.get(links.to(link)) ?? -1);
      if (!pool || pool === found) continue;
      if (found) return null;
      found = pool;
    }
    return found;
  };
}
