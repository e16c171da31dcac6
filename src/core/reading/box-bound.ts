import { isIpv4 } from '../values/ip.ts';
import { isGroupMac, isMac, maybeMac, parseMac } from '../values/mac.ts';
import { looksLicence, looksSerialNumber, machinePart } from '../values/machine-part.ts';
import { plain, wordsOf } from '../values/name-words.ts';
import { parseTunable } from '../values/tunable.ts';
import { TEXT } from '../xml/site.ts';
import { elementsOf, isElement, isLeaf, nameOf, type Tree } from '../xml/tree.ts';
import { Holders, isOfTheNetwork } from './holders.ts';
import type { BoxBound, BoxBoundReason, Span } from './reading.ts';
import { SiteSet } from './site-set.ts';
import type { Strand } from './strands.ts';

/** Records of a setting hold no more values than this; a larger element is about more than one thing. */
const SMALL = 8;
/** A setting of the machine itself is written once, or a few times where it has several consoles or disks. */
const FEW = 3;

/**
 * What fits this one box only: variables of kernel and drivers, console and boot settings, hardware addresses set on
 * ports, serial numbers and licences. The smallest records or leaves, each with the words that gave it away.
 * @param mentions all places that name a port.
 * @param explained places that name a record or a port, or should.
 */
export function readBoxBound(
  tree: Tree,
  strands: readonly Strand[],
  mentions: readonly Pick<Span, 'site'>[],
  explained: SiteSet,
): readonly BoxBound[] {
  const holders = new Holders(tree);
  const found = new Map<string, BoxBound>();
  const add = (node: number, attr: number, reason: BoxBoundReason, sign: string) => {
    const key = `${node}:${attr}`;
    if (!found.has(key)) found.set(key, { node, attr, reason, sign });
  };
  readTunables(tree, strands, holders, add);
  readMachineParts(tree, strands, holders, explained, add);
  readHardwareAddresses(tree, strands, holders, mentions, add);
  readNumbers(strands, explained, add);
  return outermost(tree, [...found.values()]);
}

type Add = (node: number, attr: number, reason: BoxBoundReason, sign: string) => void;

/** In document order, without those inside another. */
function outermost(tree: Tree, found: readonly BoxBound[]): readonly BoxBound[] {
  const kept: BoxBound[] = [];
  let end = -1;
  for (const one of [...found].sort((a, b) => a.node - b.node || a.attr - b.attr)) {
    if (one.node < end) continue;
    kept.push(one);
    if (one.attr === TEXT) end = tree.after[one.node]!;
  }
  return kept;
}

function readTunables(tree: Tree, strands: readonly Strand[], holders: Holders, add: Add): void {
  const kin = new Kin(strands);
  for (const strand of strands) {
    const { field, places, scattered } = strand;
    for (const place of places) {
      const sign = field.values[place]!;
      if (!mayBeTunable(sign) || !parseTunable(sign)?.bound) continue;
      if (scattered)
        for (const other of kin.of(strand, place)) add(holders.holder(other), TEXT, 'driver-setting', sign);
      const record = field.records[place]!;
      const pair =
        !scattered && record !== -1 && record !== tree.root && within(holders.values(record, SMALL), 2, SMALL);
      add(pair ? record : holders.holder(field.nodes[place]!), TEXT, 'driver-setting', sign);
    }
  }
  readTunableNames(tree, add);
  readTunableKeys(tree, holders, add);
}

/** By first letter, before anything dearer: of hw, dev, machdep, hint, kern, net, compat, if_ and the names of drivers. */
function mayBeTunable(value: string): boolean {
  return value.length < 120 && value.charCodeAt(0) > 96 && (value.includes('.') || value.endsWith('_load'));
}

/** Names as tags or attributes: `<hw.igb.num_queues>2</hw.igb.num_queues>`. */
function readTunableNames(tree: Tree, add: Add): void {
  const names = tree.names.map((name) => (name.includes('.') ? (parseTunable(name)?.bound ?? null) : null));
  if (names.every((name) => name === null)) return;
  for (let node = 0; node < tree.size; node++) {
    if (isElement(tree, node) && names[tree.name[node]!] !== null)
      add(node, TEXT, 'driver-setting', nameOf(tree, node));
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++) {
      const name = tree.attrName[attr]!;
      if (names[name] !== null) add(node, attr, 'driver-setting', tree.names[name]!);
    }
  }
}

const key = /[^\s"'<>&]*[^\s"'<>&A-Za-z0-9]((?:hw|dev|machdep|hint)\.[a-z0-9_]{1,20}\.[A-Za-z0-9_.%-]{1,60})(?=["'<])/g;

/** Names at the end of a longer key, as lines of a property list have them: `machine/tunables/hw.igb.num_queues`. */
function readTunableKeys(tree: Tree, holders: Holders, add: Add): void {
  if (!/(?:hw|dev|machdep|hint)\.[a-z0-9_]/.test(tree.text)) return;
  for (const match of tree.text.matchAll(key)) {
    if (parseTunable(match[1]!)?.bound)
      add(holders.holder(nodeAtOffset(tree, match.index)), TEXT, 'driver-setting', match[1]!);
  }
}

/** The innermost element around a place in the source text. */
function nodeAtOffset(tree: Tree, offset: number): number {
  let low = 0;
  let high = tree.size;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (tree.start[middle]! <= offset) low = middle;
    else high = middle;
  }
  while (tree.end[low]! <= offset || !isElement(tree, low)) low = tree.parent[low]!;
  return low;
}

/** Values that belong to the same record, where each stands in an element of its own. */
class Kin {
  private readonly byCompany = new Map<string, Strand[]>();
  private readonly byRow = new Map<string, Map<number, number[]>>();

  constructor(strands: readonly Strand[]) {
    for (const strand of strands) {
      if (!strand.scattered) continue;
      const list = this.byCompany.get(strand.company);
      if (list) list.push(strand);
      else this.byCompany.set(strand.company, [strand]);
    }
  }

  of({ field, company }: Strand, place: number): readonly number[] {
    let rows = this.byRow.get(company);
    if (!rows) {
      rows = new Map();
      for (const other of this.byCompany.get(company) ?? []) {
        for (const at of other.places) {
          const row = other.field.rows[at]!;
          const nodes = rows.get(row);
          if (nodes) nodes.push(other.field.nodes[at]!);
          else rows.set(row, [other.field.nodes[at]!]);
        }
      }
      this.byRow.set(company, rows);
    }
    const nodes = rows.get(field.rows[place]!) ?? [];
    return nodes.length <= SMALL ? nodes : [];
  }
}

const within = (value: number, least: number, most: number) => value >= least && value <= most;

const consoleWords = new Set(
  'console konsole consola konsol konzole serial tty baud baudrate terminal comport'.split(' '),
);
const bootWords = new Set('boot bootloader loader startup arranque startvorgang zagruzka bootdisk'.split(' '));
const notSpeed = new Set(
  'mtu port lifetime timeout ttl lease limit rate bandwidth interval seconds max min size count id'.split(' '),
);

/** Speeds that are as likely something else. */
const common = new Set(['9600']);
const tooCommon = new Set(['1200', '2400', '4800']);

function readMachineParts(
  tree: Tree,
  strands: readonly Strand[],
  holders: Holders,
  explained: SiteSet,
  add: Add,
): void {
  for (const { field, places, name, company, scattered } of strands) {
    const part = machinePart(field.values[places[0]!]!);
    if (part === null || part === 'flow' || places.length > FEW) continue;
    const words = [...wordsOf(name), ...wordsOf(company.slice(company.lastIndexOf('/') + 1))];
    const said = words.some((word) => consoleWords.has(word) || bootWords.has(word));
    if (
      part === 'speed' &&
      !said &&
      (tooCommon.has(field.values[places[0]!]!) || words.some((word) => notSpeed.has(word)))
    )
      continue;
    if (scattered) {
      const lines = scatteredRecord(strands, recordAround(company), explained);
      const alone =
        part === 'speed' &&
        !said &&
        (lines.length === 0 || (common.has(field.values[places[0]!]!) && lines.length > 4));
      if (!alone && lines.length === 0)
        for (const place of places)
          add(field.nodes[place]!, field.attrs[place]!, part === 'disk' ? 'boot' : 'console', field.values[place]!);
      if (!alone)
        for (const node of lines)
          add(holders.holder(node), TEXT, part === 'disk' ? 'boot' : 'console', field.values[places[0]!]!);
      continue;
    }
    for (const place of places) {
      const node = field.nodes[place]!;
      const attr = field.attrs[place]!;
      const value = field.values[place]!;
      if (explained.has(node, attr)) continue;
      const record = holders.smallRecord(node, attr, SMALL, explained);
      // Without a word for it, a lone number has to stand in a record of its own; a common number in a very small one.
      if (part === 'speed' && !said && (record === null || (common.has(value) && holders.values(record, 6) > 6)))
        continue;
      add(record ?? node, record === null ? attr : TEXT, part === 'disk' ? 'boot' : 'console', value);
    }
  }
  readNamedRecords(tree, holders, explained, add);
}

/** The record's part of a path of key parts: as far as the word that tells, `…/console` of `…/console/line`. */
function recordAround(company: string): string {
  const steps = company.split('/');
  for (let at = steps.length - 1; at >= Math.max(1, steps.length - 3); at--) {
    if (wordsOf(steps[at]!).some((word) => consoleWords.has(word) || bootWords.has(word)))
      return steps.slice(0, at + 1).join('/');
  }
  return company;
}

/** The lines of a record that is written once, where all of them are about the machine; empty where some are not. */
function scatteredRecord(strands: readonly Strand[], company: string, explained: SiteSet): readonly number[] {
  const nodes: number[] = [];
  for (const strand of strands) {
    if (strand.company !== company && !strand.company.startsWith(`${company}/`)) continue;
    for (const place of strand.places) {
      const { nodes: at, attrs, values } = strand.field;
      if (explained.has(at[place]!, attrs[place]!) || isOfTheNetwork(values[place]!)) return [];
      nodes.push(at[place]!);
    }
  }
  return nodes.length <= SMALL ? nodes : [];
}

/** Small records that are called console or boot, whatever they hold. */
function readNamedRecords(tree: Tree, holders: Holders, explained: SiteSet, add: Add): void {
  const reasons = tree.names.map((name): BoxBoundReason | null => {
    const words = wordsOf(name);
    if (words.some((word) => word === 'number' || word === 'nummer')) return null;
    return words.some((word) => consoleWords.has(word))
      ? 'console'
      : words.some((word) => bootWords.has(word))
        ? 'boot'
        : null;
  });
  if (reasons.every((reason) => reason === null)) return;
  const times = new Int32Array(tree.names.length);
  for (let node = 0; node < tree.size; node++) if (isElement(tree, node)) times[tree.name[node]!]!++;
  for (let node = 0; node < tree.size; node++) {
    const reason = isElement(tree, node) && times[tree.name[node]!]! <= FEW ? reasons[tree.name[node]!] : null;
    if (!reason || holders.values(node, 0) === 0 || names(tree, node).some((name) => parseTunable(name))) continue;
    if (holders.isOfTheMachine(node, SMALL, explained)) add(innermost(tree, node), TEXT, reason, nameOf(tree, node));
  }
}

/** Down through elements that hold nothing but one record. */
function innermost(tree: Tree, node: number): number {
  let at = node;
  for (;;) {
    const inner = [...elementsOf(tree, at)];
    if (inner.length !== 1 || isLeaf(tree, inner[0]!) || tree.attrFirst[at] !== tree.attrFirst[at + 1]) return at;
    at = inner[0]!;
  }
}

/** Names of elements and attributes inside an element, as far as a small record goes. */
function names(tree: Tree, node: number): readonly string[] {
  const found: string[] = [];
  for (let at = node; at < tree.after[node]! && found.length < 40; at++) {
    if (isElement(tree, at)) found.push(nameOf(tree, at));
    for (let attr = tree.attrFirst[at]!; attr < tree.attrFirst[at + 1]!; attr++)
      found.push(tree.names[tree.attrName[attr]!]!);
  }
  return found;
}

const clientWords = new Set(
  'lease leases client clients host hosts reservation neighbor neighbour arp peer wol wake allow deny oui vendor station'.split(
    ' ',
  ),
);

/**
 * Hardware addresses of the box: in a record that names a port, or in one that few records of its kind have. An address
 * that every record has beside an IP address is a client's.
 */
function readHardwareAddresses(
  tree: Tree,
  strands: readonly Strand[],
  holders: Holders,
  mentions: readonly Pick<Span, 'site'>[],
  add: Add,
): void {
  const macs = [...strands.filter((strand) => every(strand, isMac)), ...bareMacs(strands)];
  if (macs.length === 0) return;
  const devices = Int32Array.from(mentions, ({ site }) => site.node).sort();
  const rowsOnPort = rowsWith(strands, new SiteSet(mentions));
  const most = new Map<string, number>();
  const rows = new Map<number, Row>();
  for (const { field, places } of macs)
    for (const place of places) rows.set(field.rows[place]!, { values: 0, address: false });
  for (const { company, field, places } of strands) {
    let distinct = 0;
    let last = -2;
    for (const place of places) {
      const row = field.rows[place]!;
      if (row !== last) distinct++;
      last = row;
      const known = rows.get(row);
      if (!known) continue;
      known.values++;
      known.address ||= isIpv4(field.values[place]!);
    }
    most.set(company, Math.max(most.get(company) ?? 0, distinct));
  }
  for (const { field, places, company, scattered } of macs) {
    const words = wordsOf(company.slice(company.lastIndexOf('/') + 1));
    const client = words.some((word) => clientWords.has(word));
    const sparse = places.length * 3 <= most.get(company)! && (scattered || isSparse(tree, field, places));
    const alone = places.length === 1 && most.get(company)! <= 1 && !nearAddress(strands, company);
    for (const place of places) {
      const node = field.nodes[place]!;
      const record = field.records[place]!;
      const { values, address } = rows.get(field.rows[place]!)!;
      const inside = record !== -1 && record !== tree.root && anyWithin(devices, record, tree.after[record]!);
      const onPort = inside || rowsOnPort.has(field.rows[place]!);
      const few =
        (address && values <= (sparse ? CLIENT - 1 : CLIENT)) ||
        (!scattered && holdsFew(holders, holders.holder(node)));
      if (onPort || (!client && !few && (sparse || alone)))
        add(node, field.attrs[place]!, 'hardware-address', field.values[place]!);
    }
  }
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

interface Row {
  values: number;
  address: boolean;
}

/** Outline nodes of the records that hold one of the places. */
function rowsWith(strands: readonly Strand[], sites: SiteSet): ReadonlySet<number> {
  const rows = new Set<number>();
  for (const { field, places } of strands) {
    for (const place of places) {
      if (field.rows[place] !== -1 && sites.has(field.nodes[place]!, field.attrs[place]!)) rows.add(field.rows[place]!);
    }
  }
  return rows;
}

/** Whether an IP address stands in the records one step around. */
function nearAddress(strands: readonly Strand[], company: string): boolean {
  const around = company.slice(0, company.lastIndexOf('/'));
  if (around.split('/').length < 3) return false;
  return strands.some(
    ({ company: other, field, places }) => other.startsWith(around) && isIpv4(field.values[places[0]!]!),
  );
}

function every({ field, places }: Strand, is: (value: string) => boolean): boolean {
  return places.every((place) => is(field.values[place]!));
}

const macWords = new Set(
  'mac macaddress hwaddr hwaddress hwa hardwareaddress lladdr ethernetaddress etheraddr physicaladdress'.split(' '),
);

/** Addresses without marks, told from ids by a maker's prefix that several share (RFC 9542, 2.1), or by name. */
function bareMacs(strands: readonly Strand[]): readonly Strand[] {
  const candidates = strands.filter((strand) => every(strand, maybeMac));
  const makers = new Map<string, Set<string>>();
  for (const { field, places } of candidates) {
    for (const place of places) {
      const value = field.values[place]!.toLowerCase();
      const maker = value.slice(0, 6);
      if (!makers.has(maker)) makers.set(maker, new Set());
      makers.get(maker)!.add(value);
    }
  }
  return candidates.filter(({ field, places, name }) => {
    if (macWords.has(wordsOf(name).join(''))) return true;
    const values = places.map((place) => field.values[place]!.toLowerCase());
    if (values.some((value) => isGroupMac(parseMac(value)!))) return false;
    const shared = values.filter((value) => makers.get(value.slice(0, 6))!.size > 1).length;
    return shared * 2 > values.length || (values.length === 1 && values[0]!.startsWith('00'));
  });
}

/** Whether a sorted list has a number in [from, to). */
function anyWithin(sorted: Int32Array, from: number, to: number): boolean {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < from) low = middle + 1;
    else high = middle;
  }
  return low < sorted.length && sorted[low]! < to;
}

const licenceName = new RegExp(
  plain('licen[cs]|lizenz|licencia|activation|entitlement|freischalt|лиценз|许可|ライセンス|άδεια|αδεια|raisensu'),
);
const serialName = new RegExp(
  plain(
    'serial(?:no|nr|num|number)|^sno$|seriennummer|numerodeserie|numserie|заводскойномер|серийн|序列号|製造番号|σειριακοσαριθμοσ|chassisnumber|partnumber',
  ),
);

function readNumbers(strands: readonly Strand[], named: SiteSet, add: Add): void {
  for (const { field, places, name } of strands) {
    if (places.length > FEW) continue;
    const joined = wordsOf(name).join('');
    for (const place of places) {
      const value = field.values[place]!;
      const node = field.nodes[place]!;
      const attr = field.attrs[place]!;
      if (value.length < 6 || value.length > 200 || named.has(node, attr)) continue;
      if (looksLicence(value) || licenceName.test(joined)) add(node, attr, 'licence', value);
      else if (looksSerialNumber(value) && (serialName.test(joined) || /^serial$/.test(joined)))
        add(node, attr, 'serial-number', value);
      else if (serialName.test(joined) && /\d/.test(value) && !/[\s:]/.test(value))
        add(node, attr, 'serial-number', value);
    }
  }
}
