import { leafName } from '../reading/fields.ts';
import { isUuid } from '../values/ids.ts';
import { isIpv4, isIpv6, parsePrefix } from '../values/ip.ts';
import { isMac } from '../values/mac.ts';
import { isDomainName } from '../values/names.ts';
import type { Finding } from '../views.ts';
import { TEXT } from '../xml/site.ts';
import { Kind, type Tree } from '../xml/tree.ts';
import type { CheckInput } from './input.ts';
import { siteOf } from './tables.ts';

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

interface Unseen {
  readonly node: number;
  readonly char: string;
}

const unseenIn = new WeakMap<Tree, readonly Unseen[]>();

/** Every such character outside comments with the element that it stands in, once for a tree. */
function unseenOf(tree: Tree): readonly Unseen[] {
  const known = unseenIn.get(tree);
  if (known) return known;
  const found: Unseen[] = [];
  unseen.lastIndex = 0;
  for (let match = unseen.exec(tree.text); match && found.length < 10_000; match = unseen.exec(tree.text)) {
    const node = nodeAround(tree, match.index);
    if (node === -1 || tree.kind[node] === Kind.comment || tree.kind[node] === Kind.instruction) continue;
    const around = tree.text.slice(Math.max(0, match.index - 40), match.index + 40);
    if (prose.test(match[0]) && /[^\s<>]\s+[^\s<>]/.test(around)) continue;
    found.push({ node: tree.kind[node] === Kind.element ? node : tree.parent[node]!, char: match[0] });
  }
  unseenIn.set(tree, found);
  return found;
}

/** The innermost node whose span holds an offset; -1 outside the root. */
function nodeAround(tree: Tree, offset: number): number {
  let low = 0;
  let high = tree.size;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (tree.start[middle]! <= offset) low = middle + 1;
    else high = middle;
  }
  let node = low - 1;
  while (node !== -1 && tree.end[node]! <= offset) node = tree.parent[node]!;
  return node;
}

function checkUnseen({ tree, gone, place }: CheckInput): Finding[] {
  const first = new Map<string, number>();
  const counts = new Map<string, number>();
  for (const { node, char } of unseenOf(tree)) {
    if (gone(node)) continue;
    if (!first.has(char)) first.set(char, node);
    counts.set(char, (counts.get(char) ?? 0) + 1);
  }
  return [...first].map(([char, node]) => ({
    code: 'character-unseen' as const,
    severity: 'warning' as const,
    place: place({ node, attr: TEXT }),
    params: {
      char: `U+${char.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`,
      count: counts.get(char)!,
    },
    byPlan: false,
  }));
}

/** Longest value that is a name or a number rather than a text. */
const SHORT = 64;

interface Blank {
  readonly site: { readonly node: number; readonly attr: number };
  readonly field: string;
  readonly kind: 'around' | 'break';
}

const blanksOf = new WeakMap<Tree, readonly Blank[]>();

/**
 * White space before, after or inside single values of fields whose other values have none. Files that set every value on
 * a line of its own do so everywhere, so only the odd one out is meant.
 */
function blanksIn({ tree, reading }: CheckInput): readonly Blank[] {
  const known = blanksOf.get(tree);
  if (known) return known;
  const found: Blank[] = [];
  for (const field of reading.values.fields) {
    const { nodes, attrs, values } = field;
    if (field.tag || values.length < 4) continue;
    const most = Math.max(1, values.length * 0.1);
    const odd: Blank[] = [];
    let several = 0;
    for (let place = 0; place < nodes.length && odd.length <= most && several <= most; place++) {
      const kind = blankAt(tree, nodes[place]!, attrs[place]!, values[place]!);
      if (kind) odd.push({ site: siteOf(field, place), field: leafName(field), kind });
      else if (/\s/.test(values[place]!)) several++;
    }
    if (odd.length <= most && several === 0) found.push(...odd);
  }
  blanksOf.set(tree, found);
  return found;
}

const isBlank = (code: number) => code === 32 || code === 9 || code === 10 || code === 13;

function blankAt(tree: Tree, node: number, attr: number, value: string): Blank['kind'] | null {
  if (value.length > SHORT) return null;
  const [start, end] =
    attr >= 0 ? [tree.valueStart[attr]!, tree.valueEnd[attr]!] : [tree.openEnd[node]!, tree.closeStart[node]!];
  if (attr < 0 && tree.after[node] !== node + 1) return null;
  if (isBlank(tree.text.charCodeAt(start)) || isBlank(tree.text.charCodeAt(end - 1))) return 'around';
  return isBroken(value) ? 'break' : null;
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
    }));
}
