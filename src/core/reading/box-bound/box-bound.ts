import { looksLicence, looksSerialNumber, stampsSerial } from '../../values/machine-part.ts';
import { plain, wordsOf } from '../../values/name-words.ts';
import { TEXT } from '../../xml/site.ts';
import { elementsOf, type Tree } from '../../xml/tree.ts';
import type { FieldData } from '../fields/fields.ts';
import { mapLong } from '../fields/long-lists.ts';
import type { SiteSet } from '../fields/site-set.ts';
import type { Strand } from '../fields/strands.ts';
import { tablesOf } from '../outline/tables.ts';
import type { BoxBound, BoxBoundReason, PortMention } from '../reading.ts';
import { readHardwareAddresses } from './hardware-addresses.ts';
import { type Add, FEW, Holders } from './holders.ts';
import { readMachineSettings } from './machine-settings.ts';
import { readTunables } from './tunables.ts';

/** What has a number of its own that goes where it goes. */
export interface OpenNumbers {
  /** Values by which records are named. */
  readonly called: ReadonlySet<string>;
  /** Companies of certificates, which have serial numbers from their authority (RFC 5280, 4.1.2.2). */
  readonly certified: ReadonlySet<string>;
}

/**
 * What fits this one box only: variables of kernel and drivers, console and boot settings, hardware addresses set on
 * ports, serial numbers and licences. The smallest records or leaves, each with the words that gave it away.
 * @param mentions all places that name a port.
 * @param explained places that certainly name a record or a port.
 * @param open numbers that are no maker's.
 */
export function readBoxBound(
  tree: Tree,
  strands: readonly Strand[],
  mentions: readonly Pick<PortMention, 'site' | 'port'>[],
  explained: SiteSet,
  open: OpenNumbers,
): readonly BoxBound[] {
  const holders = new Holders(tree, labelsOf(strands));
  const found = new Map<string, BoxBound>();
  const headers = tablesOf(tree)?.headers;
  const add = (holder: number, attr: number, reason: BoxBoundReason, sign: string) => {
    const node = headers && attr === TEXT ? onlyRow(tree, holder, headers) : holder;
    const key = `${node}:${attr}`;
    if (!found.has(key)) found.set(key, { node, attr, reason, sign });
  };
  readTunables(tree, strands, holders, driversOf(mentions), add);
  readMachineSettings(tree, strands, holders, explained, open.called, add);
  readHardwareAddresses(tree, strands, holders, explained, mentions, add);
  readNumbers(strands, holders, explained, open, add);
  return outermost(tree, [...found.values()]);
}

/** `igb` of `igb2`, as operating systems number the cards of one driver; one letter is none. */
function driversOf(mentions: readonly Pick<PortMention, 'port'>[]): ReadonlySet<string> {
  const ports = new Set(mentions.map(({ port }) => port));
  return new Set([...ports].flatMap((port) => /^([a-z]{2,10})\d{1,3}$/.exec(port)?.[1] ?? []));
}

/** The one row of a table that has a head; any other element itself. */
function onlyRow(tree: Tree, node: number, headers: ReadonlySet<number>): number {
  const inside = [...elementsOf(tree, node)];
  return inside.length === 2 && headers.has(inside[0]!) ? inside[1]! : node;
}

/** `line.speed` of `set[line.speed]`, `serial.line` of `table{serial.line}`. */
function labelsOf(strands: readonly Strand[]): ReadonlySet<string> {
  const labels = new Set<string>();
  for (const { field } of strands) {
    for (const step of field.steps) {
      const label = /[[{](.+)[\]}]$/.exec(step)?.[1];
      if (label) labels.add(label);
    }
  }
  return labels;
}

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

const licenceName = new RegExp(
  plain('licen[cs]|lizenz|licencia|activation|entitlement|freischalt|лиценз|许可|ライセンス|άδεια|αδεια|raisensu'),
);
const serialName = new RegExp(
  plain(
    'serial(?:no|nr|num|number)|^sno$|serien?nummer|numero?d[ei]serie|numserie|numerseryjny|sarjanumero|seriovecislo|vyrobnicislo|sorozatszam|gyariszam|일련번호|シリアル番号|заводскойномер|серийн|序列号|製造番号|σειριακοσαριθμοσ|chassisnumber|partnumber',
  ),
);

function readNumbers(
  strands: readonly Strand[],
  holders: Holders,
  named: SiteSet,
  { called, certified }: OpenNumbers,
  add: Add,
): void {
  for (const { field, places, name, company } of strands) {
    if (certified.has(company)) continue;
    if (field.distinct.length <= SETTINGS) readNamedNumbers(field, places, holders, named, add);
    if (places.length > FEW) continue;
    if (places.some((place) => called.has(field.values[place]!))) continue;
    const joined = wordsOf(name).join('');
    for (const place of places) {
      const value = field.values[place]!;
      const node = field.nodes[place]!;
      const attr = field.attrs[place]!;
      if (value.length < 6 || value.length > 200 || named.hasValue(field, place)) continue;
      if (looksLicence(value) || licenceName.test(joined)) add(node, attr, 'licence', value);
      else if (joined === 'serial' ? stampsSerial(value) : looksSerialNumber(value) && serialName.test(joined))
        add(node, attr, 'serial-number', value);
      else if (serialName.test(joined) && /\d/.test(value) && !/[\s:]/.test(value))
        add(node, attr, 'serial-number', value);
    }
  }
}

/** More different names are no settings of a machine. */
const SETTINGS = 400;

/** Rows of a table of settings that name a serial number and hold one. */
function readNamedNumbers(
  { distinct, which, nodes, attrs }: FieldData,
  places: readonly number[],
  holders: Holders,
  named: SiteSet,
  add: Add,
): void {
  const says = mapLong(distinct, (value) => value.length < 40 && serialName.test(wordsOf(value).join('')));
  if (!says.includes(true)) return;
  for (const place of places) {
    const row = says[which[place]!] ? holders.settingRow(nodes[place]!, attrs[place]!, named) : null;
    const number = row === null ? undefined : holders.texts(row).find(looksSerialNumber);
    if (row !== null && number !== undefined) add(row, TEXT, 'serial-number', number);
  }
}
