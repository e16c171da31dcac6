/**
 * What the modules of a known format demand of a document, as data (RFC 7950): types, what must be there, and conditions.
 * Operations and notifications are left out; groupings, refinements and augments are put in; names carry their module.
 */
export interface KnownSchema {
  /** Every identity, `module:name`, with those that it is derived from directly. */
  readonly identities: Readonly<Record<string, readonly string[]>>;
  readonly types: readonly TypeRow[];
  readonly nodes: readonly SchemaRow[];
}

export interface TypeRow {
  readonly is:
    | ('int8' | 'int16' | 'int32' | 'int64' | 'uint8' | 'uint16' | 'uint32' | 'uint64' | 'decimal64')
    | ('string' | 'binary' | 'boolean' | 'empty' | 'enumeration' | 'bits' | 'identityref' | 'instance-identifier')
    | 'union';
  /** The typedef that it is known by, `module:name`. */
  readonly named?: string;
  /** Parts of numbers as in YANG, `1..4094|4096`; all of them hold. */
  readonly ranges?: readonly string[];
  /** The same for the number of characters, or of octets for binary. */
  readonly lengths?: readonly string[];
  /** ECMAScript expressions for the flag `u`; all of them hold. */
  readonly patterns?: readonly { readonly match: string; readonly not?: true }[];
  /** Of an enumeration or of bits. */
  readonly names?: readonly string[];
  /** Of an identityref: a value is derived from all of them. */
  readonly bases?: readonly string[];
  /** Of decimal64: digits behind the point. */
  readonly digits?: number;
  /** Of a union: the numbers of its members. */
  readonly of?: readonly number[];
}

export interface SchemaRow {
  readonly name: string;
  readonly is: 'container' | 'list' | 'leaf' | 'leaf-list' | 'choice' | 'case' | 'anydata' | 'anyxml';
  /** Where it is not that of the node around. */
  readonly module?: string;
  /** Number of its type. */
  readonly type?: number;
  readonly mandatory?: boolean;
  readonly keys?: readonly string[];
  readonly least?: number;
  readonly most?: number;
  /** A container that means something by being there. */
  readonly presence?: true;
  /** Of a leaf the value that it has where it is absent, of a choice the name of a case. */
  readonly default?: string;
  /** No configuration: only the box writes it. */
  readonly state?: true;
  /** XPath expressions that hold at the node. */
  readonly must?: readonly string[];
  /** Expressions without which the node has no place: asked at the node itself, or at the data node around it. */
  readonly when?: readonly { readonly test: string; readonly at: 'self' | 'parent' }[];
  readonly in?: readonly SchemaRow[];
}
