import type { Site } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';

/**
 * What the plan makes of the tree, said once as facts and apart from any source text: the second reader holds the
 * result against this, and the patches are only the other way to say it.
 */
export interface Edits {
  /** Elements that stay behind, none inside another, in document order, each with the decision that said so. */
  readonly leftOut: ReadonlyMap<number, string>;
  /** Comments that stand directly above an element that stays behind and go with it. */
  readonly goneComments: ReadonlySet<number>;
  /** New decoded values of texts and attributes, by `siteKey`. */
  readonly values: ReadonlyMap<string, ValueEdit>;
  /** New names of elements. */
  readonly tags: ReadonlyMap<number, { readonly name: string; readonly owner: string }>;
  /** Records and fields that the donor does not have, in the order in which they stand. */
  readonly added: readonly AddedRecord[];
  /** Attributes that elements of the donor do not have, by node; none where there are none. */
  readonly attributes?: ReadonlyMap<number, AddedAttribute>;
  /** What comes from another document, in the order in which it stands; none where nothing does. */
  readonly foreign?: readonly Foreign[];
}

/** An element or a comment of another document that goes in. */
export interface Foreign {
  /** It stands behind the node `at`, which may be left out itself, or first in the element `at`. */
  readonly place: 'after' | 'first';
  readonly at: number;
  readonly from: Tree;
  readonly node: number;
  /** Namespaces that it has to declare where it stands now: attributes that come to its own. */
  readonly declares: ReadonlyMap<string, string>;
}

/** A record, or a field of one, made like one that is there: a copy with other values, without the comments in it. */
export interface AddedRecord {
  /** The tagged device that it defines; null for a field of a record that is there. */
  readonly device: string | null;
  /** The element that it stands behind, and the others added there before it. */
  readonly after: number;
  /** The elements that it is a copy of, in order. */
  readonly parts: readonly number[];
  /** Decoded values of texts and attributes that are not those of the copied elements, by `siteKey`. */
  readonly values: ReadonlyMap<string, string>;
  /** Names of elements, likewise. */
  readonly tags: ReadonlyMap<number, string>;
  readonly owners: readonly string[];
}

export interface AddedAttribute {
  /** As written. */
  readonly name: string;
  /** Decoded. */
  readonly value: string;
  readonly owners: readonly string[];
}

export interface ValueEdit {
  readonly site: Site;
  readonly value: string;
  readonly owners: readonly string[];
}

export const siteKey = ({ node, attr }: Site) => `${node} ${attr}`;
