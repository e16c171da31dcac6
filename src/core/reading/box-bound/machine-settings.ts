import { machinePart } from '../../values/machine-part.ts';
import { wordsOf } from '../../values/name-words.ts';
import { parseTunable } from '../../values/tunable.ts';
import { TEXT, valueAt } from '../../xml/site.ts';
import { elementsOf, isElement, isLeaf, nameOf, type Tree } from '../../xml/tree.ts';
import { mapLong } from '../fields/long-lists.ts';
import type { SiteSet } from '../fields/site-set.ts';
import type { Strand } from '../fields/strands.ts';
import type { BoxBoundReason } from '../reading.ts';
import { partsOf, wordsOfCommand } from './commands.ts';
import { type Add, FEW, type Holders, isOfTheNetwork, SMALL } from './holders.ts';
import { bootWords, consoleWords, isMachineWord } from './machine-words.ts';

/** A serial number is none of a serial line. */
const numberWords = new Set('number nummer num nr no'.split(' '));
const notSpeed = new Set(
  'mtu lifetime timeout ttl lease limit rate bandwidth interval seconds max min size count id'.split(' '),
);

/** More different lines are no settings of a machine. */
const LINES = 400;

/** Speeds that are as likely something else. */
const common = new Set(['9600']);
const tooCommon = new Set(['1200', '2400', '4800']);

/**
 * Console and boot settings: by values that only they have, then by name.
 * @param called values by which records are named: an element of such a name is that record.
 */
export function readMachineSettings(
  tree: Tree,
  strands: readonly Strand[],
  holders: Holders,
  explained: SiteSet,
  called: ReadonlySet<string>,
  add: Add,
): void {
  const companies = new Companies(strands);
  for (const strand of strands) {
    const { field, places, name, company, scattered } = strand;
    const sign = field.values[places[0]!]!;
    // Fields have many values where they are lines, and few where they are settings.
    if (field.distinct.length <= LINES) {
      readCommands(strand, explained, add);
      readNamedSettings(strand, holders, explained, add);
    }
    const part = machinePart(sign);
    if (part === null || part === 'flow' || places.length > FEW) continue;
    const words = [name, company.slice(company.lastIndexOf('/') + 1), tableOf(company)].flatMap(wordsOf);
    const said =
      words.some(isMachineWord) ||
      (part === 'speed' && places.length === 1 && namesMachine(tree, holders, strand, explained));
    const doubtful = part === 'speed' && !said;
    if (
      doubtful &&
      (tooCommon.has(sign) || words.some((word) => notSpeed.has(word) || (word === 'port' && isPort(sign))))
    )
      continue;
    const reason = part === 'disk' ? 'boot' : 'console';
    if (scattered) {
      const lines = scatteredRecord(companies, recordAround(company), explained);
      // Without a word for it, a lone number has to stand in a record of its own; a common number in a very small one.
      if (doubtful && (lines.length === 0 || (common.has(sign) && lines.length > 4))) continue;
      for (const node of lines) add(holders.holder(node), TEXT, reason, sign);
      if (lines.length === 0) for (const place of places) add(field.nodes[place]!, field.attrs[place]!, reason, sign);
      continue;
    }
    for (const place of places) {
      const node = field.nodes[place]!;
      const attr = field.attrs[place]!;
      if (explained.has(node, attr)) continue;
      const record = recordOf(tree, holders, strand, place, explained);
      if (doubtful && (record === null || (common.has(sign) && holders.values(record, 6) > 6))) continue;
      add(record ?? node, record === null ? attr : TEXT, reason, field.values[place]!);
    }
  }
  readNamedRecords(tree, holders, explained, called, add);
  readCalledRecords(tree, strands, holders, explained, called, add);
}

/** Lines that name the console or the start and give it a value that only these have: `console speed 19200`. */
function readCommands({ field, places }: Strand, explained: SiteSet, add: Add): void {
  const { distinct, which, values, nodes, attrs } = field;
  const reasons = mapLong(distinct, (value): BoxBoundReason | null => {
    const words = wordsOfCommand(value);
    if (!words.some(isMachineWord)) return null;
    // `console=ttyS0,115200`: the line and its speed.
    const parts = words.flatMap((word) => word.split(',')).map(machinePart);
    const part = parts.find((one) => one !== null && one !== 'flow');
    return part ? (part === 'disk' ? 'boot' : 'console') : null;
  });
  if (reasons.every((reason) => reason === null)) return;
  for (const place of places) {
    const reason = reasons[which[place]!]!;
    if (reason && !explained.has(nodes[place]!, attrs[place]!))
      add(nodes[place]!, attrs[place]!, reason, values[place]!);
  }
}

/** Rows of a table of settings that name the console or the start, with a value that only these have: `console_speed`, `19200`. */
function readNamedSettings({ field, places }: Strand, holders: Holders, explained: SiteSet, add: Add): void {
  const { distinct, which, nodes, attrs } = field;
  const named = mapLong(distinct, (value) => isShortName(value) && wordsOf(value).some(isMachineWord));
  // Two words for it, as `boot loader`, need no value that tells.
  const isSure = (words: readonly string[]) => words.length > 1 && words.every(isMachineWord);
  for (const place of places) {
    if (!named[which[place]!]) continue;
    const record = holders.settingRow(nodes[place]!, attrs[place]!, explained);
    if (record === null) continue;
    const sign = distinct[which[place]!]!;
    // A kernel's line has several words; one that is called so itself is looked at above.
    const part = holders
      .texts(record)
      .flatMap((text) => (text === sign ? [] : partsOf(text)))
      .map(machinePart)
      .find((one) => one !== null && one !== 'flow');
    if (part) add(record, TEXT, part === 'disk' ? 'boot' : 'console', sign);
    else if (field.times[which[place]!] === 1 && isSure(wordsOf(sign))) add(record, TEXT, reasonOf(sign)!, sign);
  }
}

const isShortName = (value: string) => value.length < 40 && hint.test(value);

/** `serial.line` of `file/table{serial.line}/row`. */
const tableOf = (company: string) => /\{([^}]+)\}\/[^/]+$/.exec(company)?.[1] ?? '';

/**
 * The small record around a value; the attribute of an element that is named for its value is no record of its own. Where the
 * record is about other things too, the part of it that is named for the machine; null for a value alone.
 */
function recordOf(
  tree: Tree,
  holders: Holders,
  { field, name }: Strand,
  place: number,
  explained: SiteSet,
): number | null {
  const node = field.nodes[place]!;
  const attr = field.attrs[place]!;
  const isLeaf = attr >= 0 && !field.steps[field.steps.length - 1]!.includes(name);
  const record = holders.smallRecord(node, isLeaf ? TEXT : attr, SMALL, explained);
  const isNamed = (text: string) => hint.test(text) && wordsOf(text).some(isMachineWord);
  if (record === null || isNamed(nameOf(tree, record))) return record;
  if (attr >= 0 && isNamed(tree.names[tree.attrName[attr]!]!))
    return isMixed(tree, holders, record, node) ? null : record;
  for (let at = node; at !== record; at = tree.parent[at]!)
    if (isNamed(nameOf(tree, at))) return isMixed(tree, holders, record, at) ? at : record;
  return record;
}

/** Whether a record has values beside one part of it that no machine's setting has. */
function isMixed(tree: Tree, holders: Holders, record: number, part: number): boolean {
  return holders.sites(record).some((site) => {
    if (site.node >= part && site.node < tree.after[part]! && site.node !== record) return false;
    const value = valueAt(tree, site).trim();
    return value !== '' && machinePart(value) === null;
  });
}

/** Whether a value of the same small record is a word for it: `<set name="console">`. */
function namesMachine(tree: Tree, holders: Holders, strand: Strand, explained: SiteSet): boolean {
  const record = recordOf(tree, holders, strand, strand.places[0]!, explained);
  return record !== null && holders.texts(record).some((text) => text.length < 40 && wordsOf(text).some(isMachineWord));
}

const isPort = (sign: string) => Number(sign) <= 65_535;

/** The record's part of a path of key parts: as far as the word that tells, `…/console` of `…/console/line`. */
function recordAround(company: string): string {
  const steps = company.split('/');
  for (let at = steps.length - 1; at >= Math.max(1, steps.length - 3); at--) {
    if (wordsOf(steps[at]!).some(isMachineWord)) return steps.slice(0, at + 1).join('/');
  }
  return company;
}

/** The lines of a record that is written once, where all of them are about the machine; empty where some are not. */
function scatteredRecord(companies: Companies, company: string, explained: SiteSet): readonly number[] {
  const nodes: number[] = [];
  for (const { field, places } of companies.within(company)) {
    for (const place of places) {
      const value = field.values[place]!;
      if (nodes.length === SMALL || explained.hasValue(field, place) || isOfTheNetwork(value)) return [];
      nodes.push(field.nodes[place]!);
    }
  }
  return nodes;
}

/** Strands by company, so that those below a part of a path are found fast. */
class Companies {
  private sorted: readonly Strand[] | null = null;

  constructor(private readonly strands: readonly Strand[]) {}

  *within(company: string): Generator<Strand> {
    this.sorted ??= this.strands
      .filter(({ scattered }) => scattered)
      .sort((a, b) => (a.company < b.company ? -1 : a.company > b.company ? 1 : 0));
    let low = 0;
    let high = this.sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.sorted[middle]!.company < company) low = middle + 1;
      else high = middle;
    }
    for (; low < this.sorted.length && this.sorted[low]!.company.startsWith(company); low++) {
      const strand = this.sorted[low]!;
      if (strand.company === company || strand.company[company.length] === '/') yield strand;
    }
  }
}

/** Says quickly of most names that they are no word below. */
const hint =
  /consol|konsol|konzol|serial|tty|baud|terminal|comport|boot|loader|startup|arranque|start(?:vorgang|lader)|d[eé]marrage|amor[cç]age|zagruzka|загруз/i;

/** Small records that are called console or boot, whatever they hold. */
function readNamedRecords(
  tree: Tree,
  holders: Holders,
  explained: SiteSet,
  called: ReadonlySet<string>,
  add: Add,
): void {
  const reasons = tree.names.map((name) => (called.has(name) ? null : reasonOf(name)));
  if (reasons.every((reason) => reason === null)) return;
  const times = new Int32Array(tree.names.length);
  for (let node = 0; node < tree.size; node++) if (isElement(tree, node)) times[tree.name[node]!]!++;
  for (let node = 0; node < tree.size; node++) {
    const reason = isElement(tree, node) && times[tree.name[node]!]! <= FEW ? reasons[tree.name[node]!] : null;
    // What several records have a value of is theirs, as the rate of ports.
    if (!reason || (holders.values(node, 1) === 1 && isInSeveral(tree, node))) continue;
    if (holders.values(node, 0) === 0 || names(tree, node).some((name) => parseTunable(name))) continue;
    if (holders.isOfTheMachine(node, SMALL, explained)) add(innermost(tree, node), TEXT, reason, nameOf(tree, node));
  }
}

/** True for an element in one of several records of one name, elements that hold nothing else left out. */
function isInSeveral(tree: Tree, node: number): boolean {
  for (let at = tree.parent[node]!; at !== -1 && tree.parent[at] !== -1; at = tree.parent[at]!) {
    const beside = [...elementsOf(tree, tree.parent[at]!)].filter((other) => other !== at);
    if (beside.length > 0) return beside.some((other) => tree.name[other] === tree.name[at]);
  }
  return false;
}

/** The same of records that an attribute calls so: `<branch name="boot">`. */
function readCalledRecords(
  tree: Tree,
  strands: readonly Strand[],
  holders: Holders,
  explained: SiteSet,
  called: ReadonlySet<string>,
  add: Add,
): void {
  const looked = new Set<string>();
  for (const { company, field, places, scattered } of strands) {
    if (scattered || places.length > FEW || !company.endsWith(']') || looked.has(company)) continue;
    looked.add(company);
    const name = company.slice(company.lastIndexOf('[') + 1, -1);
    const reason = called.has(name) ? null : reasonOf(name);
    if (!reason || parseTunable(name)) continue;
    for (const place of places) {
      const record = tree.parent[field.nodes[place]!]!;
      if (record !== -1 && holders.isOfTheMachine(record, SMALL, explained)) add(record, TEXT, reason, name);
    }
  }
}

/** What a name says that its record is about, if it is the console or the start. */
function reasonOf(name: string): BoxBoundReason | null {
  if (!hint.test(name)) return null;
  const words = wordsOf(name);
  if (words.some((word) => numberWords.has(word))) return null;
  if (words.some((word) => consoleWords.has(word))) return 'console';
  return words.some((word) => bootWords.has(word)) ? 'boot' : null;
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
