import { append } from '../../lists.ts';
import { type PartSite, type Site, TEXT, valueAt } from '../../xml/site.ts';
import { firstElement, isElement, type Tree } from '../../xml/tree.ts';
import { type PairForm, pairFormOf, pairsIn } from './pairs-in-text.ts';
import { linesAmong, phrasesIn } from './phrases-in-text.ts';
import { mayBeRows, rowsIn } from './rows-in-text.ts';
import { commandsIn } from './words-in-text.ts';

/** One setting of a text: what it is called, and the units [from, to) of the decoded text that hold its value. */
export interface Setting {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** A text of several settings, each of which is a field by itself. */
export interface TextOfSettings {
  /** The word that says what the text is about; null where its element does. */
  readonly kind: string | null;
  readonly settings: readonly Setting[];
}

/** Elements whose own text, and attributes whose value, are several settings. */
export interface TextsOfSettings {
  readonly ofText: ReadonlyMap<number, TextOfSettings>;
  readonly ofAttribute: ReadonlyMap<number, TextOfSettings>;
  /** Elements whose text names the columns of the rows behind it. */
  readonly headers: ReadonlySet<number>;
}

/** A place with a text that may be of several settings. */
export interface Candidate {
  readonly node: number;
  readonly attr: number;
  /** Decoded. */
  readonly text: string;
}

/** Longer texts are documents of their own. */
const LONGEST = 4000;
/** So many texts of one manner make it a custom of the file. */
const LEAST = 3;
const SAMPLE = 64;
/** Of names whose texts are mostly something else no more are looked at. */
const TRIES = 4;

const known = new WeakMap<Tree, TextsOfSettings | null>();

/** The texts of a document that are several settings each, in a manner that many of them bear out; null for none. */
export function settingsIn(tree: Tree): TextsOfSettings | null {
  let found = known.get(tree);
  if (found === undefined) {
    found = find(tree);
    known.set(tree, found);
  }
  return found;
}

/** Where all texts of several settings stand. */
export function sitesOfTexts(tree: Tree): Site[] {
  const texts = settingsIn(tree);
  if (!texts) return [];
  const sites = [...texts.ofText.keys()].map((node): Site => ({ node, attr: TEXT }));
  for (let node = 0; node < tree.size && texts.ofAttribute.size > 0; node++)
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++)
      if (texts.ofAttribute.has(attr)) sites.push({ node, attr });
  return sites;
}

/** Where a setting of an element's texts has its value; null for none of that name. */
export function settingSite(tree: Tree, node: number, name: string): PartSite | null {
  const texts = settingsIn(tree);
  if (!texts) return null;
  const inText = (text: TextOfSettings | undefined, attr: number): PartSite | null => {
    const found = text?.settings.find((one) => one.name === name);
    return found ? { node, attr, part: [found.from, found.to] } : null;
  };
  const found = inText(texts.ofText.get(node), TEXT);
  if (found) return found;
  for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++) {
    const own = inText(texts.ofAttribute.get(attr), attr);
    if (own) return own;
  }
  return null;
}

function find(tree: Tree): TextsOfSettings | null {
  const groups = candidates(tree);
  if (groups.length === 0) return null;
  const ofText = new Map<number, TextOfSettings>();
  const ofAttribute = new Map<number, TextOfSettings>();
  const add = ({ node, attr }: Candidate, text: TextOfSettings) =>
    attr === TEXT ? ofText.set(node, text) : ofAttribute.set(attr, text);
  const headers = new Set<number>();
  const customs = new Set<PairForm>();
  const open: (readonly Candidate[])[] = [];
  const rows: Candidate[] = [];
  for (const group of groups) {
    const form = pairFormOf(
      group.map(({ text }) => text),
      LEAST,
    );
    if (!form) open.push(group);
    else {
      customs.add(form);
      addPairs(group, form);
    }
  }
  for (const group of open) {
    // Fewer texts of the manner that others are written in are settings, too.
    const form = pairFormOf(
      group.map(({ text }) => text),
      1,
    );
    if (form && customs.has(form)) addPairs(group, form);
    else {
      const told = mannersOf(tree, group);
      for (const [part, commands] of told) for (const [at, text] of commands) add(part[at]!, text);
      if (told.length === 0 && mayBeRows(tree, group)) append(rows, group);
    }
  }
  // Lists of different things may have rows of one manner.
  for (const [at, settings] of rowsIn(tree, rows)) {
    if (settings) add(rows[at]!, { kind: null, settings });
    else headers.add(rows[at]!.node);
  }
  function addPairs(group: readonly Candidate[], form: PairForm): void {
    for (const one of group) {
      const settings = pairsIn(one.text, form);
      if (settings) add(one, { kind: null, settings });
    }
  }
  return ofText.size + ofAttribute.size > 0 ? { ofText, ofAttribute, headers } : null;
}

/** The parts of a group that are commands, with what each says: all of it, or those that stand in elements of one name. */
function mannersOf(tree: Tree, group: readonly Candidate[]): [readonly Candidate[], Map<number, TextOfSettings>][] {
  const whole = commandsIn(tree, group);
  if (whole.size > 0) return [[group, whole]];
  const byHolder = new Map<number, Candidate[]>();
  for (const one of group) {
    const holder = tree.name[tree.parent[one.node]!] ?? -1;
    const part = byHolder.get(holder);
    if (part) part.push(one);
    else byHolder.set(holder, [one]);
  }
  const parts = byHolder.size < 2 ? [] : [...byHolder.values()];
  const told = new Map<readonly Candidate[], Map<number, TextOfSettings>>();
  for (const part of parts) {
    const commands = commandsIn(tree, part);
    if (commands.size > 0) told.set(part, commands);
  }
  const rest = told.size > 0 ? parts.filter((part) => !told.has(part)).flat() : group;
  const lines = linesAmong(tree, rest);
  const phrases = mayBeRows(tree, lines) ? null : phrasesIn(tree, lines);
  if (phrases?.size) told.set(lines, phrases);
  return [...told];
}

const areSettings = (tree: Tree, group: readonly Candidate[]) =>
  mannersOf(tree, group).length > 0 ||
  mayBeRows(tree, group) ||
  pairFormOf(
    group.map(({ text }) => text),
    1,
  ) !== null;

/** Texts that are made of several words, by the name of their element or attribute. */
function candidates(tree: Tree): Candidate[][] {
  const names = tree.names.length;
  const groups: (Candidate[] | undefined)[] = new Array(names * 2);
  /** By how many texts of other kinds a name had more than those that may be settings. */
  const strange = new Int32Array(names * 2);
  const look = (at: number, node: number, attr: number, start: number, end: number) => {
    if (end - start < 3 || strange[at] === TRIES) return;
    if (end - start > LONGEST || !mayBeSettings(tree.text, start, end)) {
      strange[at]!++;
      return;
    }
    strange[at]!--;
    const text = valueAt(tree, { node, attr });
    let group = groups[at];
    if (!group) {
      group = [];
      groups[at] = group;
    }
    group.push({ node, attr, text });
    // So many tell whether more are worth a look.
    if (group.length === SAMPLE && !areSettings(tree, group)) strange[at] = TRIES;
  };
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const from = tree.openEnd[node]!;
    if (from < tree.closeStart[node]! && firstElement(tree, node) === -1)
      look(tree.name[node]!, node, TEXT, from, tree.closeStart[node]!);
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++)
      look(names + tree.attrName[attr]!, node, attr, tree.valueStart[attr]!, tree.valueEnd[attr]!);
  }
  return groups.filter((group, at): group is Candidate[] => group !== undefined && strange[at] !== TRIES);
}

/** Whether a span begins an object, a section or a remark, or with a letter, and has a mark between two of its words: all that a first look can tell. */
function mayBeSettings(text: string, start: number, end: number): boolean {
  let from = start;
  while (from < end && isBlank(text.charCodeAt(from))) from++;
  if (text.startsWith(CDATA, from)) from += CDATA.length;
  while (from < end && isBlank(text.charCodeAt(from))) from++;
  const first = text.charCodeAt(from);
  // An object of JSON, a section, or a remark on the lines behind it.
  if (first === 123 || first === 91 || first === 35) return true;
  const digit = first >= 48 && first <= 57;
  if (!isLetter(first) && !digit) return false;
  let dotted = false;
  for (let at = from + 1; at < end; at++) {
    const unit = text.charCodeAt(at);
    // What begins with a number may be a row of cells, and no name.
    if (unit === 124 || unit === 59 || unit === 44) return true;
    if (digit) {
      // Words may stand behind an address.
      if (dotted && isBlank(unit) && isLetter(text.charCodeAt(at + 1))) return true;
      dotted ||= unit === 46 || unit === 58;
      continue;
    }
    if (unit === 61 || unit === 58) return true;
    if (isBlank(unit)) return at + 1 < end && !isBlank(text.charCodeAt(at + 1));
  }
  return false;
}

const CDATA = '<![CDATA[';

const isLetter = (unit: number) =>
  (unit >= 97 && unit <= 122) || (unit >= 65 && unit <= 90) || unit === 95 || unit > 127;

const isBlank = (unit: number) => unit === 32 || (unit >= 9 && unit <= 13);
