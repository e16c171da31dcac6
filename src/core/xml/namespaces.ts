import { attributeValue, type Site, TAG } from './site.ts';
import { attributesOf, isElement, type Tree } from './tree.ts';

/**
 * Namespaces in XML 1.0 (third edition): which namespace each element's name is in. A prefix is only a local
 * abbreviation, so names are compared by namespace and local part.
 */
export interface Namespaces {
  /** Namespace names, each once. */
  readonly uris: readonly string[];
  /** For each node an index into `uris`; -1 where its name is in no namespace, or its prefix is not declared. */
  readonly of: Int32Array;
  /** Names without their prefixes, parallel to the tree's `names`. */
  readonly local: readonly string[];
  /** Elements and attributes whose prefix is not declared, in document order. */
  readonly unbound: readonly Unbound[];
}

/** `attr` is an index into the tree's attributes, or TAG for the element's own name. */
export interface Unbound extends Site {
  readonly prefix: string;
}

/** Bound without a declaration (section 3). */
const XML = 'http://www.w3.org/XML/1998/namespace';

const cache = new WeakMap<Tree, Namespaces>();

const NONE = -1;
const DECLARES = -2;

/** Resolves every name of the tree in one pass; made once for a tree. */
export function namespacesOf(tree: Tree): Namespaces {
  const known = cache.get(tree);
  if (known) return known;
  const uris: string[] = [];
  const uri = numbering(uris);
  const prefixes: string[] = [];
  const prefix = numbering(prefixes);
  const standard = prefix('');
  const local: string[] = [];
  const prefixOf = new Int32Array(tree.names.length);
  /** For an attribute that declares a namespace the prefix it binds, else DECLARES. */
  const binds = new Int32Array(tree.names.length).fill(DECLARES);
  for (const [index, name] of tree.names.entries()) {
    const cut = name.indexOf(':');
    prefixOf[index] = prefix(cut === -1 ? '' : name.slice(0, cut));
    local.push(cut === -1 ? name : name.slice(cut + 1));
    if (name === 'xmlns') binds[index] = standard;
    else if (name.startsWith('xmlns:')) binds[index] = prefix(name.slice(6));
  }
  /** What each prefix means at the place that the walk has reached; declarations are taken back as elements end. */
  const means = new Int32Array(prefixes.length).fill(NONE);
  const xml = prefixes.indexOf('xml');
  if (xml !== -1) means[xml] = uri(XML);
  const undo: { readonly until: number; readonly prefix: number; readonly before: number }[] = [];
  const of = new Int32Array(tree.size).fill(NONE);
  const unbound: Unbound[] = [];
  for (let node = 0; node < tree.size; node++) {
    if (!isElement(tree, node)) continue;
    while (undo.length > 0 && undo[undo.length - 1]!.until <= node) {
      const last = undo.pop()!;
      means[last.prefix] = last.before;
    }
    const [first, end] = attributesOf(tree, node);
    for (let attr = first; attr < end; attr++) {
      const bound = binds[tree.attrName[attr]!]!;
      if (bound === DECLARES) continue;
      undo.push({ until: tree.after[node]!, prefix: bound, before: means[bound]! });
      const value = attributeValue(tree, attr);
      means[bound] = value === '' ? NONE : uri(value);
    }
    const own = prefixOf[tree.name[node]!]!;
    of[node] = means[own]!;
    if (own !== standard && of[node] === NONE) unbound.push({ node, attr: TAG, prefix: prefixes[own]! });
    for (let attr = first; attr < end; attr++) {
      const name = tree.attrName[attr]!;
      const at = prefixOf[name]!;
      if (binds[name] !== DECLARES || at === standard || means[at] !== NONE) continue;
      unbound.push({ node, attr, prefix: prefixes[at]! });
    }
  }
  const made = { uris, of, local, unbound };
  cache.set(tree, made);
  return made;
}

/** Gives each name its number in `names`, adding those that are new. */
function numbering(names: string[]): (name: string) => number {
  const numbers = new Map<string, number>();
  return (name) => {
    let number = numbers.get(name);
    if (number === undefined) {
      number = names.push(name) - 1;
      numbers.set(name, number);
    }
    return number;
  };
}

/**
 * Elements and attributes whose prefix is not declared. Such a file is well-formed XML but not namespace-well-formed
 * (Namespaces in XML 1.0, section 5): readers that know namespaces refuse it.
 */
export function unboundPrefixes(tree: Tree): readonly Unbound[] {
  return namespacesOf(tree).unbound;
}

/**
 * The namespace that a prefix means inside an element, for values that are qualified names; '' asks for the default
 * one. Null where none is declared.
 */
export function namespaceAt(tree: Tree, node: number, prefix: string): string | null {
  if (prefix === 'xml') return XML;
  const name = prefix === '' ? 'xmlns' : `xmlns:${prefix}`;
  for (let at = node; at !== -1; at = tree.parent[at]!) {
    const [first, end] = attributesOf(tree, at);
    for (let attr = first; attr < end; attr++) {
      if (tree.names[tree.attrName[attr]!] === name) return attributeValue(tree, attr) || null;
    }
  }
  return null;
}
