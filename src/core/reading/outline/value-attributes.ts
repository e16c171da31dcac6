import { attributeValue } from '../../xml/site.ts';
import { firstElement, isElement, type Tree } from '../../xml/tree.ts';
import { kindOf } from '../names/literals.ts';
import { areLeafNames, leafNames } from './lone-rows.ts';

/** Elements of so many names show a manner of writing, and so many kinds of value where each element comes but once. */
const NAMES = 5;
const KINDS = 3;

/** What is known of the elements that have attributes of one name. */
interface Use {
  /** Names of the empty elements that have no other attribute, and how many they are. */
  readonly alone: Set<number>;
  times: number;
  /** How many of these come but once. */
  once: number;
  /** Names of elements that have more. */
  readonly elsewhere: Set<number>;
  readonly kinds: Set<string>;
}

/**
 * Attribute names that hold the value of an element where another school writes text: the only attribute of empty
 * elements of many names (`<port is="…"/><label is="…"/>`). Indexed by name, 1 for such an attribute; null for none.
 */
export function valueAttributesOf(tree: Tree): Uint8Array | null {
  const uses = new Map<number, Use>();
  const seen = new Int32Array(tree.names.length);
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    const first = tree.attrFirst[node]!;
    const last = tree.attrFirst[node + 1]!;
    const name = tree.name[node]!;
    const alone =
      last - first === 1 && firstElement(tree, node) === -1 && tree.openEnd[node]! >= tree.closeStart[node]!;
    for (let at = first; at < last; at++) {
      let use = uses.get(tree.attrName[at]!);
      if (!use) {
        use = { alone: new Set(), times: 0, once: 0, elsewhere: new Set(), kinds: new Set() };
        uses.set(tree.attrName[at]!, use);
      }
      if (!alone) {
        use.elsewhere.add(name);
        continue;
      }
      use.alone.add(name);
      use.times++;
      const count = ++seen[name]!;
      if (count === 1) use.once++;
      else if (count === 2) use.once--;
      if (use.kinds.size < KINDS) use.kinds.add(kindOf(attributeValue(tree, at)));
    }
  }
  let leaves: ReadonlySet<string> | null = null;
  const areLeaves = (names: Iterable<number>): boolean => {
    leaves ??= leafNames(tree);
    return areLeafNames(
      [...names].map((name) => tree.names[name]!),
      leaves,
    );
  };
  const found = [...uses].filter(([, use]) => holdsValues(use, areLeaves));
  if (found.length === 0) return null;
  const result = new Uint8Array(tree.names.length);
  for (const [name] of found) result[name] = 1;
  return result;
}

function holdsValues(
  { alone, times, once, elsewhere, kinds }: Use,
  areLeaves: (names: Iterable<number>) => boolean,
): boolean {
  if (alone.size < 2 || elsewhere.size * 3 > alone.size) return false;
  // Elements of which hardly any comes twice are records called by their tags, unless their values are of many kinds.
  if (once > times * 0.6 ? kinds.size >= KINDS : alone.size >= NAMES) return true;
  // A few show it where what they are called are leaves elsewhere.
  return areLeaves(alone);
}
