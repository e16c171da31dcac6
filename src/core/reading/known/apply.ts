import { type Site, TEXT, textOf } from '../../xml/site.ts';
import { nameOf, type Tree } from '../../xml/tree.ts';
import type { Collection, Key, Secret } from '../reading.ts';
import type { KnownFormat } from './format.ts';
import { type Placed, place } from './placed.ts';
import { type KnownPorts, readPorts } from './ports.ts';
import { followReferences, type KnownReferences } from './references.ts';

/** What a known format says about a document, exactly. */
export interface KnownReading extends KnownPorts, KnownReferences {
  readonly standard: string;
  /** 1 for elements that the format speaks of. */
  readonly covered: Uint8Array;
  readonly collections: readonly Collection[];
  readonly secrets: readonly Secret[];
  readonly certificates: readonly Site[];
  readonly host: string | null;
}

/** Reads the part of a document that is in a format's namespaces; null where there is none. Linear in its size. */
export function applyFormat(tree: Tree, format: KnownFormat): KnownReading | null {
  const placed = place(tree, format);
  if (!placed) return null;
  const { collections, collectionOf } = collectionsOf(placed, format);
  const leaves = (path: string) =>
    (placed.at.get(placed.table.number(path)) ?? [])
      .map((node) => ({ site: { node, attr: TEXT }, value: textOf(tree, node).trim() }))
      .filter(({ value }) => value !== '');
  return {
    standard: format.name,
    covered: placed.covered,
    collections,
    ...readPorts(placed, format),
    ...followReferences(placed, format, (record) => collectionOf.get(record) ?? -1),
    secrets: format.secrets.flatMap(({ at, kind }) =>
      // RFC 7317, type crypt-hash: `$0$` stands before a password in the clear.
      leaves(at).map(({ site, value }) => ({ site, kind: value.startsWith('$0$') ? 'password' : kind })),
    ),
    certificates: format.certificates.flatMap(({ at }) => leaves(at).map(({ site }) => site)),
    host: (format.host === null ? undefined : leaves(format.host)[0]?.value) ?? null,
  };
}

/** Entries of one list under one parent are a collection, keyed as the list says. */
function collectionsOf(placed: Placed, format: KnownFormat) {
  const { tree, table, path } = placed;
  const collections: Collection[] = [];
  const collectionOf = new Map<number, number>();
  for (const { at, keys, label } of format.lists) {
    const records = new Map<number, number[]>();
    for (const node of placed.at.get(table.number(at)) ?? []) {
      const parent = tree.parent[node]!;
      const siblings = records.get(parent);
      if (siblings) siblings.push(node);
      else records.set(parent, [node]);
    }
    for (const [parent, siblings] of records) {
      const leaf = (name: string | undefined) =>
        name === undefined ? null : leafKey(siblings, table.number(`${at}/${name}`));
      const together = keys.length > 1 ? keys.map(leaf) : [];
      for (const node of siblings) collectionOf.set(node, collections.length);
      collections.push({
        parent,
        item: nameOf(tree, siblings[0]!),
        key: (keys.length === 1 && leaf(keys[0])) || { by: 'position' },
        label: leaf(keys.length > 1 ? keys.at(-1) : label),
        ...(together.length > 0 && together.every((key) => key !== null) && { together }),
        records: siblings,
      });
    }
  }
  return { collections, collectionOf };

  /** The key leaf as this document writes its name. */
  function leafKey(siblings: readonly number[], wanted: number): Key | null {
    for (const record of siblings) {
      for (let node = record + 1; node < tree.after[record]!; node++) {
        if (path[node] === wanted && tree.parent[node] === record) return { by: 'leaf', path: [nameOf(tree, node)] };
      }
    }
    return null;
  }
}
