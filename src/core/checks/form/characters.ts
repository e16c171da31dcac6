import { append } from '../../lists.ts';
import { type FieldData, leafName } from '../../reading/fields/fields.ts';
import { mapLong } from '../../reading/fields/long-lists.ts';
import { isOneWord } from '../../reading/names/literals.ts';
import type { Padded } from '../../reading/outline/value-pool.ts';
import type { Reading } from '../../reading/reading.ts';
import { isUuid } from '../../values/ids.ts';
import { isIpv4, isIpv6, parsePrefix } from '../../values/ip.ts';
import { isMac } from '../../values/mac.ts';
import { isDomainName } from '../../values/names.ts';
import type { Finding } from '../../views.ts';
import { nodeAround } from '../../xml/around.ts';
import { type Site, TEXT } from '../../xml/site.ts';
import { attributesOf, isLeaf, Kind, type Tree } from '../../xml/tree.ts';
import { valueIn } from '../amended/set-value.ts';
import { siteKey, siteOf } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { setTo } from '../repairs/repairs.ts';

/** Characters that nobody sees, and white space that crept into values. */
export function checkCharacters(input: CheckInput): Finding[] {
  return [...checkUnseen(input), ...checkBlanks(input)];
}

/**
 * What XML 1.0 allows and advises against (section 2.2: DEL, the C1 controls but NEL, the noncharacters), and marks of no
 * width or of direction, which make two names look alike that are not.
 */
const unseen =
  /[\u007f-\u0084\u0086-\u009f\u00ad\u200b\u200e\u200f\u2028\u2029\u202a-\u202e\u2060\u2066-\u2069\ufdd0-\ufdef\ufeff\ufffe\uffff]/g;
/** Soft hyphens and marks of direction belong to prose. */
const prose = /[\u00ad\u200e\u200f\u202a-\u202e\u2066-\u2069]/;

/** Marks that can go without a loss; the others come from another encoding, and what was meant nobody knows. */
const removable = /^[\u00ad\u200b\u200e\u200f\u2060\ufeff]$/;

interface Unseen {
  readonly site: Site;
  readonly char: string;
}

const MOST = 10_000;

const unseenIn = new WeakMap<Tree, readonly Unseen[]>();

/** Every such character of the donor outside comments with the value that it stands in, once for a tree. */
function unseenOf(tree: Tree): readonly Unseen[] {
  const known = unseenIn.get(tree);
  if (known) return known;
  const found: Unseen[] = [];
  unseen.lastIndex = 0;
  for (let match = unseen.exec(tree.text); match && found.length < MOST; match = unseen.exec(tree.text)) {
    const node = nodeAround(tree, match.index);
    if (node === -1 || tree.kind[node] === Kind.comment || tree.kind[node] === Kind.instruction) continue;
    const around = tree.text.slice(Math.max(0, match.index - 40), match.index + 40);
    if (prose.test(match[0]) && /[^\s<>]\s+[^\s<>]/.test(around)) continue;
    found.push({ site: siteAround(tree, node, match.index), char: match[0] });
  }
  unseenIn.set(tree, found);
  return found;
}

function siteAround(tree: Tree, node: number, offset: number): Site {
  if (tree.kind[node] !== Kind.element) return { node: tree.parent[node]!, attr: TEXT };
  const [first, end] = attributesOf(tree, node);
  for (let attr = first; attr < end; attr++)
    if (offset >= tree.valueStart[attr]! && offset < tree.valueEnd[attr]!) return { node, attr };
  return { node, attr: TEXT };
}

function checkUnseen(input: CheckInput): Finding[] {
  const { tree, set, gone, place } = input;
  const byChar = new Map<string, Site[]>();
  const add = (char: string, site: Site) => {
    const sites = byChar.get(char);
    if (sites) sites.push(site);
    else byChar.set(char, [site]);
  };
  for (const { site, char } of unseenOf(tree))
    if (!gone(site.node) && !set.has(siteKey(site.node, site.attr))) add(char, site);
  for (const { site, value } of set.values())
    if (!gone(site.node)) for (const [char] of value.matchAll(unseen)) add(char, site);
  return [...byChar].map(([char, sites]) => ({
    code: 'character-unseen' as const,
    severity: 'warning' as const,
    place: place(sites[0]!),
    params: {
      char: `U+${char.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`,
      count: sites.length,
    },
    byPlan: false,
    repairs: removable.test(char) ? setTo(input, 'remove-unseen', {}, without(input, sites, char)) : [],
  }));
}

/** Each value once; none where one of them holds elements, so that it cannot be set. */
function without({ tree, set }: CheckInput, sites: readonly Site[], char: string) {
  const values = new Map<number, { site: Site; value: string }>();
  for (const site of sites) {
    if (site.attr === TEXT && !isLeaf(tree, site.node)) return [];
    const value = valueIn(tree, set, site).replaceAll(char, '');
    values.set(siteKey(site.node, site.attr), { site, value });
  }
  return [...values.values()];
}

/** Longest value that is a name or a number rather than a text. */
const SHORT = 64;

interface Blank {
  readonly site: Site;
  readonly field: string;
  readonly kind: 'around' | 'break';
}

const blanksOf = new WeakMap<Reading, readonly Blank[]>();
const blanksOfField = new WeakMap<FieldData, readonly Blank[]>();

/**
 * White space before, after or inside single values of fields whose other values have none. Files that set every value on
 * a line of its own do so everywhere, so only the odd one out is meant.
 */
function blanksIn({ tree, reading, set }: CheckInput): readonly Blank[] {
  const known = blanksOf.get(reading);
  if (known) return known;
  const found: Blank[] = [];
  for (const field of reading.values.fields) {
    // A field in which something was set is another one.
    let own = blanksOfField.get(field);
    if (!own) {
      own = oddBlanks(reading.values.padded, tree, field, set);
      blanksOfField.set(field, own);
    }
    append(found, own);
  }
  blanksOf.set(reading, found);
  return found;
}

function oddBlanks(padded: Padded, tree: Tree, field: FieldData, set: CheckInput['set']): readonly Blank[] {
  const { nodes, attrs, which } = field;
  if (field.tag || nodes.length < 4) return [];
  const most = Math.max(1, Math.floor(nodes.length * 0.1));
  const odd: Blank[] = [];
  const kinds = mapLong(field.distinct, (value, at) => (isOneWord(field.kinds[at]!) ? 'none' : spacing(value)));
  // In a field of texts with blanks inside, one around them tells nothing.
  if (kinds.every((kind) => kind === 'long' || kind === 'long-one')) return [];
  let several = 0;
  for (let place = 0; place < nodes.length && odd.length <= most && several <= most; place++) {
    const inner = kinds[which[place]!]!;
    const kind = blankAt(padded, tree, set, nodes[place]!, attrs[place]!, inner);
    if (kind) odd.push({ site: siteOf(field, place), field: leafName(field), kind });
    else if (inner === 'some' || inner === 'long') several++;
  }
  return odd.length <= most && several === 0 ? odd : [];
}

/** White space inside a value: a break in one address or name, any other, or none; texts are `long`, with or without. */
function spacing(value: string): 'break' | 'some' | 'none' | 'long' | 'long-one' {
  const has = /\s/.test(value);
  if (value.length > SHORT) return has ? 'long' : 'long-one';
  return !has ? 'none' : isBroken(value) ? 'break' : 'some';
}

function blankAt(
  padded: Padded,
  tree: Tree,
  set: CheckInput['set'],
  node: number,
  attr: number,
  inner: ReturnType<typeof spacing>,
): Blank['kind'] | null {
  if (inner === 'long' || inner === 'long-one') return null;
  const own = set.size === 0 ? undefined : set.get(siteKey(node, attr));
  if (own) return own.value !== own.value.trim() ? 'around' : inner === 'break' ? 'break' : null;
  if (attr < 0 && tree.after[node] !== node + 1) return null;
  if (attr >= 0 ? padded.attributes[attr] : padded.texts[node]) return 'around';
  return inner === 'break' ? 'break' : null;
}

/** One address, name with a domain or id in two pieces of which neither is one; two of them are a list on two lines. */
function isBroken(value: string): boolean {
  const parts = /^(\S+)\s*\n\s*(\S+)$/.exec(value);
  if (!parts) return false;
  const isOne = (text: string) =>
    isIpv4(text) || isIpv6(text) || parsePrefix(text) !== null || isDomainName(text) || isUuid(text) || isMac(text);
  return isOne(parts[1]! + parts[2]!) && !isOne(parts[1]!) && !isOne(parts[2]!);
}

function checkBlanks(input: CheckInput): Finding[] {
  return blanksIn(input)
    .filter(({ site }) => !input.gone(site.node))
    .map(({ site, field, kind }) => ({
      code: 'blank-in-value' as const,
      severity: 'note' as const,
      place: input.place(site),
      params: { field, kind },
      byPlan: false,
      repairs: mended(input, site, kind),
    }));
}

function mended(input: CheckInput, site: Site, kind: Blank['kind']) {
  const value = valueIn(input.tree, input.set, site).trim();
  return kind === 'around'
    ? setTo(input, 'trim', {}, [{ site, value }])
    : setTo(input, 'join-lines', {}, [{ site, value: value.replace(/\s+/g, '') }]);
}
