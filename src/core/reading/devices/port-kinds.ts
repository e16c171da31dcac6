import { naturalOrder } from '../../text/natural-order.ts';
import type { KeyTable } from '../keys/key-table.ts';
import type { Outline } from '../outline/outline.ts';
import type { Aggregate, Binding, Port, PortMention } from '../reading.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Devices } from './device-set.ts';
import { osAggregate } from './os-names.ts';

interface Given {
  readonly mentions: readonly PortMention[];
  readonly aggregates: readonly Aggregate[];
  readonly bindings: readonly Binding[];
  readonly devices: Devices;
  readonly keys: KeyTable;
  readonly outline: Outline;
  readonly structure: Structure;
}

/** The devices of the file, ports first, then what is derived from them. */
export function portsOf(given: Given): Port[] {
  const { mentions, devices, outline } = given;
  const rows = new Map<string, readonly number[]>();
  for (const name of new Set(mentions.flatMap(({ port, value }) => [port, value])))
    rows.set(name, recordsOf(name, given));
  const isPort = portsAmong(rows, given);
  return [...rows]
    .map(([name, [row]]): Port => {
      const node = row === undefined ? -1 : outline.element[row]!;
      const derived = devices.bases.has(name) ? null : devices.split(name);
      const own = devices.named.get(name);
      if (derived) return { name, kind: 'tagged', parent: derived.base, tag: derived.tag, node };
      if (own && own.tag !== null) return { name, kind: 'tagged', parent: own.parent, tag: own.tag, node };
      const isMade = osAggregate(name) || (own && !isPort(name));
      return { name, kind: isMade ? 'aggregate' : 'physical', parent: own?.parent ?? null, tag: null, node };
    })
    .sort((a, b) => rank(a) - rank(b) || naturalOrder(a.name, b.name));
}

/** The records that are called by a name, in the order of the document. */
function recordsOf(name: string, { keys }: Given): readonly number[] {
  const rows: number[] = [];
  keys.each(name, (_, at) => rows.push(at));
  return rows.sort((a, b) => a - b);
}

/**
 * Devices that have a name and a record of their own are made of others, unless a record of theirs lies in a list of ports and
 * none says of another that it is a part.
 */
function portsAmong(rows: ReadonlyMap<string, readonly number[]>, given: Given): (name: string) => boolean {
  const { mentions, aggregates, bindings, devices, outline, structure } = given;
  const { tree } = outline;
  // A network may be told from others by its port, and lies in no list of ports.
  const roles = new Set(bindings.map(({ node }) => node));
  const lists = new Set<number>();
  const called = new Map<number, string>();
  for (const [name, own] of rows)
    for (const row of own) {
      called.set(outline.element[row]!, name);
      if (devices.bases.has(name) && !roles.has(outline.element[row]!)) lists.add(structure.shapeOf[row]!);
    }
  const made = new Set(aggregates.map(({ device }) => device));
  for (const { site, port, value } of mentions) {
    let node = site.node;
    while (node !== -1 && !called.has(node)) node = tree.parent[node]!;
    const name = called.get(node);
    if (name !== undefined && name !== port && name !== value) made.add(name);
  }
  return (name) => !made.has(name) && rows.get(name)!.some((row) => lists.has(structure.shapeOf[row]!));
}

const rank = (port: Port) => ({ physical: 0, aggregate: 1, tagged: 2, other: 3 })[port.kind];
