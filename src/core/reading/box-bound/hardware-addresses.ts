import { lowerBound } from '../../text/lower-bound.ts';
import { parseDeviceName } from '../../values/device-name.ts';
import { isIpv4 } from '../../values/ip.ts';
import { isMac, maybeMac } from '../../values/mac.ts';
import { wordsOf } from '../../values/name-words.ts';
import { elementsOf, type Tree } from '../../xml/tree.ts';
import { SiteSet } from '../fields/site-set.ts';
import type { Strand } from '../fields/strands.ts';
import type { Span } from '../reading.ts';
import type { Add, Holders } from './holders.ts';
import { Makers } from './makers.ts';

const clientWords = new Set(
  'lease leases client clients host hosts reservation neighbor neighbour arp peer wol wake allow deny oui vendor station'.split(
    ' ',
  ),
);

/**
 * Hardware addresses of the box: in a record that names a port of its own, or in one that few records of its kind have. An address
 * that every record has beside an IP address is a client's.
 */
export function readHardwareAddresses(
  tree: Tree,
  strands: readonly Strand[],
  holders: Holders,
  explained: SiteSet,
  mentions: readonly Pick<Span, 'site'>[],
  add: Add,
): void {
  const macs = [...strands.filter((strand) => every(strand, isMac)), ...bareMacs(strands)];
  if (macs.length === 0) return;
  const shapes = new Set(macs.map(({ field }) => field.rowShape));
  const kin = strands.filter(({ field }) => shapes.has(field.rowShape));
  const most = new Map<string, number>();
  for (const strand of kin) most.set(strand.company, Math.max(most.get(strand.company) ?? 0, recordsOf(strand)));
  const devices = Int32Array.from(mentions, ({ site }) => site.node).sort();
  const ports = new SiteSet(mentions);
  const rowsOnPort = rowsWith(kin, ports);
  const addressed = new Addressed(strands);
  // An address and an IP address by themselves, inside what names the port that the client is behind.
  const isLease = (holder: number) => holdsFew(holders, holder) && !anyWithin(devices, holder, tree.after[holder]!);
  const own = new Set<string>();
  const rest: { node: number; attr: number; value: string }[] = [];
  for (const strand of macs) {
    const { field, places, company, scattered } = strand;
    const client = wordsOf(company.slice(company.lastIndexOf('/') + 1)).some((word) => clientWords.has(word));
    const sparse = places.length * 3 <= most.get(company)! && (scattered || isSparse(tree, field, places));
    const alone = places.length === 1 && most.get(company)! <= 1 && !addressed.near(company);
    const numbered = !client && !sparse && isNumbered(strand, kin, explained);
    const theirs = sharePorts(tree, strand, kin, ports);
    const rows = !client && (sparse || alone || numbered) ? rowsOf(strand, kin) : null;
    for (const place of places) {
      const node = field.nodes[place]!;
      const record = field.records[place]!;
      const inside = record !== -1 && record !== tree.root && anyWithin(devices, record, tree.after[record]!);
      const row = rows?.get(field.rows[place]!);
      const few =
        row === undefined ||
        (numbered && row.address) ||
        (row.address && row.values <= (sparse ? CLIENT - 1 : CLIENT)) ||
        (!scattered && holdsFew(holders, holders.holder(node)));
      const value = field.values[place]!;
      const attr = field.attrs[place]!;
      const lease = inside && !scattered && isLease(holders.holder(node));
      if (!theirs && !lease && (inside || rowsOnPort.has(field.rows[place]!) || !few)) {
        add(node, attr, 'hardware-address', value);
        own.add(value);
      } else if (explained.has(node, attr)) rest.push({ node, attr, value });
    }
  }
  // What names a port by its address holds the box's own.
  for (const { node, attr, value } of rest) if (own.has(value)) add(node, attr, 'hardware-address', value);
}

/**
 * Whether the records are called by one word and a number each, as a box's own ports are. Clients may be too, but beside
 * an IP address.
 */
function isNumbered(strand: Strand, kin: readonly Strand[], explained: SiteSet): boolean {
  if (strand.places.length < 2) return false;
  return kin.some(({ company, field, places }) => {
    if (company !== strand.company || places.length !== strand.places.length) return false;
    const names = places.map((place) => field.values[place]!);
    if (names.every((name) => parseDeviceName(name) !== null)) return true;
    // What names another record is no name of its own.
    if (explained.hasValue(field, places[0]!)) return false;
    const stems = new Set(names.map((name) => name.replace(/\d+/g, '#')));
    return (
      new Set(names).size === names.length && stems.size === 1 && /^\p{L}[\p{L} ./_-]{0,14}#/u.test([...stems][0]!)
    );
  });
}

/**
 * Whether several of the records are on one port: a port has one address of its own, and the others are of those behind it. Where
 * each is a port of its own, they may share what is made of them, and ports of two boxes may be called alike.
 */
function sharePorts(tree: Tree, { field, places }: Strand, kin: readonly Strand[], ports: SiteSet): boolean {
  const rows = new Set(places.map((place) => field.rows[place]!));
  let share = false;
  for (const { field: other, places: all } of kin) {
    if (other.rowShape !== field.rowShape || other.several) continue;
    const named = all.filter((place) => rows.has(other.rows[place]!) && ports.hasValue(other, place));
    const listOf = (record: number) => (record === -1 ? -1 : tree.parent[record]!);
    const each = new Set(named.map((place) => `${other.which[place]!} ${listOf(other.records[place]!)}`)).size;
    if (each === rows.size) return false;
    if (each < named.length) share = true;
  }
  return share;
}

/** How many records have a value in a strand. */
function recordsOf({ field, places }: Strand): number {
  if (!field.several) return places.length;
  let count = 0;
  let last = -2;
  for (const place of places) {
    const row = field.rows[place]!;
    if (row !== last) count++;
    last = row;
  }
  return count;
}

interface Row {
  values: number;
  /** Whether one of them is an IP address. */
  address: boolean;
}

/** What stands in the records of a strand's places. */
function rowsOf({ field, places }: Strand, kin: readonly Strand[]): ReadonlyMap<number, Row> {
  const rows = new Map<number, Row>();
  for (const place of places) rows.set(field.rows[place]!, { values: 0, address: false });
  for (const other of kin) {
    if (other.field.rowShape !== field.rowShape) continue;
    for (const place of other.places) {
      const row = rows.get(other.field.rows[place]!);
      if (!row) continue;
      row.values++;
      row.address ||= isIpv4(other.field.values[place]!);
    }
  }
  return rows;
}

/** Whether few of the records that stand together have one: shapes alone may join tables that have nothing in common. */
function isSparse(tree: Tree, field: Strand['field'], places: readonly number[]): boolean {
  const records = new Map<number, number>();
  for (const place of places) {
    const record = field.records[place]!;
    if (record !== -1) records.set(tree.parent[record]!, (records.get(tree.parent[record]!) ?? 0) + 1);
  }
  for (const [parent, count] of records) {
    if (parent === -1 || count < 3) continue;
    let kin = 0;
    for (const _ of elementsOf(tree, parent)) kin++;
    if (count * 3 > kin) return false;
  }
  return true;
}

function holdsFew(holders: Holders, element: number): boolean {
  return holders.values(element, CLIENT) < CLIENT && holders.texts(element).some(isIpv4);
}

/** A record of hardware address, IP address and little else is about a client. */
const CLIENT = 5;

/** Outline nodes of the records that hold one of the places. */
function rowsWith(strands: readonly Strand[], sites: SiteSet): ReadonlySet<number> {
  const rows = new Set<number>();
  for (const { field, places } of strands) {
    for (const place of places) {
      if (field.rows[place] !== -1 && sites.hasValue(field, place)) rows.add(field.rows[place]!);
    }
  }
  return rows;
}

/** Which companies have an IP address among their values, or in a company below. */
class Addressed {
  private companies: Set<string> | null = null;

  constructor(private readonly strands: readonly Strand[]) {}

  /** Whether one stands in the records one step around; the first steps of a document are around everything. */
  near(company: string): boolean {
    const around = company.slice(0, company.lastIndexOf('/'));
    if (around.split('/').length < 3) return false;
    this.companies ??= this.collect();
    return this.companies.has(around);
  }

  private collect(): Set<string> {
    const companies = new Set<string>();
    for (const { company, field, places } of this.strands) {
      if (!isIpv4(field.values[places[0]!]!)) continue;
      for (
        let path = company;
        path !== '' && !companies.has(path);
        path = path.slice(0, Math.max(0, path.lastIndexOf('/')))
      )
        companies.add(path);
    }
    return companies;
  }
}

function every({ field, places }: Strand, is: (value: string) => boolean): boolean {
  return places.every((place) => is(field.values[place]!));
}

const macWords = new Set(
  'mac macaddress hwaddr hwaddress hwa hardwareaddress lladdr ethernetaddress etheraddr physicaladdress'.split(' '),
);

/** Addresses without marks, told from ids by their makers, or by name. */
function bareMacs(strands: readonly Strand[]): readonly Strand[] {
  const candidates = strands.filter((strand) => every(strand, maybeMac));
  const valuesOf = ({ field, places }: Strand) => places.map((place) => field.values[place]!);
  const makers = new Makers(candidates.flatMap(valuesOf));
  return candidates.filter((strand) => {
    if (macWords.has(wordsOf(strand.name).join(''))) return true;
    const values = valuesOf(strand);
    return makers.areMacs(values) || (values.length === 1 && values[0]!.startsWith('00'));
  });
}

/** Whether a sorted list has a number in [from, to). */
function anyWithin(sorted: Int32Array, from: number, to: number): boolean {
  const at = lowerBound(sorted, from);
  return at < sorted.length && sorted[at]! < to;
}
