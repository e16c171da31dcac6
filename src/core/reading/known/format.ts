import type { Port, Secret, Tier } from '../reading.ts';
import type { KnownSchema } from './schema/format.ts';

/**
 * A format whose meaning is published, as data: what the modules of an open standard say about lists, keys and
 * references. Another format is another table; no code knows a format's words.
 *
 * Paths are those of instance documents, written as RFC 7951 (6.11) names members: `/module:top/inner/other:leaf`, a
 * module's name where the module changes.
 */
export interface KnownFormat {
  /** As people call it. */
  readonly name: string;
  /** Elements that only wrap: their content stands at the top. */
  readonly envelope: readonly { readonly namespace: string; readonly elements: readonly string[] }[];
  readonly modules: readonly KnownModule[];
  readonly lists: readonly KnownList[];
  readonly references: readonly KnownReference[];
  readonly secrets: readonly { readonly at: string; readonly kind: Secret['kind']; readonly source: string }[];
  /** Leaves that hold certificates. */
  readonly certificates: readonly { readonly at: string; readonly source: string }[];
  readonly devices: readonly KnownDevices[];
  /** The leaf with the box's own name. */
  readonly host: string | null;
  /** Types, what must be there, and conditions. */
  readonly schema?: KnownSchema;
}

export interface KnownModule {
  /** Stands for the namespace in paths. */
  readonly name: string;
  readonly namespace: string;
  readonly source: string;
}

export interface KnownList {
  readonly at: string;
  /** Names of the leaves that tell its entries apart together; none where the list has no key. */
  readonly keys: readonly string[];
  /** A leaf that names entries for people, where it is no key. */
  readonly label?: string;
}

export interface KnownReference {
  readonly at: string;
  /** A leaf; the record named is the innermost list entry around it. */
  readonly to: string;
  /** Further leaves that may hold the target. */
  readonly or?: readonly string[];
  /**
   * How a value names its target: it is equal to it (`name`), equal but for case (`host`, RFC 4343), or it is an
   * address or prefix that lies in it (`address`).
   */
  readonly by: 'name' | 'host' | 'address';
  /** Leaves beside an address, of which one says how large the network around it is. */
  readonly length?: readonly string[];
  readonly tier: Tier;
  /** Source and target lie in the same instance of this node. */
  readonly within?: string;
  /** The entry of a list on the target's path whose key equals the value at a path from the source. */
  readonly where?: readonly KnownCondition[];
  /** The reference holds only for entries that a value at this path names by their key. */
  readonly onlyNamedAt?: string;
  /** Values, or prefixes of addresses, that name nothing. */
  readonly except?: readonly string[];
  /** The target may be kept elsewhere: nothing dangles where the document holds no target at all. */
  readonly elsewhere?: boolean;
  readonly source: string;
}

export interface KnownCondition {
  readonly list: string;
  readonly key: string;
  /** `../name`: climbs from the source leaf, then descends. */
  readonly equals: string;
}

/** A list whose entries are devices of the operating system, or logical networks on them. */
export interface KnownDevices {
  readonly list: string;
  /** Leaves below an entry, by name; `module:name` where the module changes. */
  readonly name: string;
  readonly label: string;
  readonly type: string;
  /** Values of the type, `module:identity`, and what a device of it is. All others are `other`. */
  readonly kinds: Readonly<Record<string, Port['kind']>>;
  /** The device that a tagged one is derived from, and its VLAN ID. */
  readonly parent: string;
  readonly tag: string;
  /** Lists of addresses: an entry with one is a logical network, whatever names it. */
  readonly addresses: readonly string[];
  readonly source: string;
}
