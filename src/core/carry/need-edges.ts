import { spreadRecords } from '../compile/spread.ts';
import type { Reading } from '../reading/reading.ts';
import type { Tree } from '../xml/tree.ts';

/**
 * Why one entry needs another: it names it, it lies in it, it sits on the device that it defines, it is a certificate and
 * the other holds its private key, or the certificate of the authority that signed it.
 */
export type NeedKind = 'names' | 'inside' | 'device' | 'private-key' | 'authority';
export const kinds: readonly NeedKind[] = ['names', 'inside', 'device', 'private-key', 'authority'];
const code = Object.fromEntries(kinds.map((kind, at) => [kind, at])) as Record<NeedKind, number>;
export const INSIDE = code.inside;

/** Needs as they are found, from entry to entry, both as indices; kinds are indices of `kinds`. */
export class Edges {
  readonly from: number[] = [];
  readonly to: number[] = [];
  readonly kind: number[] = [];
  readonly source: number[] = [];

  constructor(private readonly size: number) {}

  add(from: number, to: number, kind: NeedKind, source: number): void {
    if (from < 0 || to < 0 || from >= this.size || from === to) return;
    this.from.push(from);
    this.to.push(to);
    this.kind.push(code[kind]);
    this.source.push(source);
  }
}

/**
 * Every need of a document.
 * @param nodes its entries, in document order.
 * @param of for each node of the tree the index of the entry that it belongs to, -1 for structure.
 */
export function needEdges(tree: Tree, reading: Reading, nodes: Int32Array, of: Int32Array): Edges {
  const edges = new Edges(nodes.length);
  for (let entry = 0; entry < nodes.length; entry++) {
    const parent = tree.parent[nodes[entry]!]!;
    const around = parent === -1 ? -1 : of[parent]!;
    if (around !== -1) edges.add(entry, around, 'inside', -1);
  }
  // Elements that are one record side by side need each other.
  for (const [top, fellows] of spreadRecords(tree, reading)) {
    for (const node of fellows) {
      edges.add(of[top]!, of[node]!, 'inside', -1);
      edges.add(of[node]!, of[top]!, 'inside', -1);
    }
  }
  for (const [at, { site, to, tier }] of reading.references.entries()) {
    if (tier !== 'possible') edges.add(of[site.node]!, of[to]!, 'names', at);
  }
  const devices = deviceRecords(reading);
  const known = new Set(edges.from.map((from, at) => from * nodes.length + edges.to[at]!));
  for (const [at, { site, value }] of reading.mentions.entries()) {
    const node = devices.get(value);
    const from = of[site.node]!;
    if (node === undefined || from === -1 || known.has(from * nodes.length + of[node]!)) continue;
    edges.add(from, of[node]!, 'device', at);
  }
  for (const [at, { site, keyAt, issuerAt }] of reading.certificates.entries()) {
    const from = of[site.node]!;
    if (keyAt) edges.add(from, of[keyAt.node]!, 'private-key', at);
    const issuer = reading.certificates[issuerAt];
    if (issuer && issuerAt !== at) edges.add(from, of[issuer.site.node]!, 'authority', at);
  }
  return edges;
}

/** Devices that a record of the file makes, VLANs and aggregates, each with that record's node. */
export function deviceRecords({ tagging, aggregates }: Reading): Map<string, number> {
  const devices = new Map(aggregates.map(({ device, node }) => [device, node]));
  for (const { records } of tagging) for (const { device, node } of records) devices.set(device, node);
  return devices;
}
