import { naturalOrder } from '../../text/natural-order.ts';
import type { KeyTable } from '../keys/key-table.ts';
import type { Outline } from '../outline/outline.ts';
import type { Aggregate, Port, PortMention } from '../reading.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Devices } from './device-set.ts';
import { osAggregate } from './os-names.ts';

interface Given {
  readonly mentions: readonly PortMention[];
  readonly aggregates: readonly Aggregate[];
  readonly devices: Devices;
  readonly keys: KeyTable;
  readonly outline: Outline;
  readonly structure: Structure;
}

/** The devices of the file, ports first, then what is derived from them. */
export function portsOf(given: Given): Port[] {
  const { mentions, devices, outline } = given;
  const rows = new Map<string, number>();
  for (const name of new Set(mentions.flatMap(({ port, value }) => [port, value])))
    rows.set(name, recordOf(name, given));
  const isPort = portsAmong(rows, given);
  return [...rows]
    .map(([name, row]): Port => {
      const node = row === -1 ? -1 : outline.element[row]!;
      const derived = devices.bases.has(name) ? null : devices.split(name);
      const own = devices.named.get(name);
      if (derived) return { name, kind: 'tagged', parent: derived.base, tag: derived.tag, node };
      if (own && own.tag !== null) return { name, kind: 'tagged', parent: own.parent, tag: own.tag, node };
      const isMade = osAggregate(name) || (own && !isPort(name, row));
      return { name, kind: isMade ? 'aggregate' : 'physical', parent: own?.parent ?? null, tag: null, node };
    })
    .sort((a, b) => rank(a) - rank(b) || naturalOrder(a.name, b.name));
}

/** The first record that is called by a name, -1 for none. */
function recordOf(name: string, { keys }: Given): number {
  let row = -1;
  keys.each(name, (_, at) => {
    if (row === -1 || at < row) row = at;
  });
  return row;
}

/**
 * Devices that have a name and a record of their own are made of others, unless their records lie in the list of the ports
 * and say of no other that it is a part.
 */
function portsAmong(rows: ReadonlyMap<string, number>, given: Given): (name: string, row: number) => boolean {
  const { mentions, aggregates, devices, outline, structure } = given;
  const { tree } = outline;
  const lists = new Set<number>();
  const called = new Map<number, string>();
  for (const [name, row] of rows) {
    if (row === -1) continue;
    called.set(outline.element[row]!, name);
    if (devices.bases.has(name)) lists.add(structure.shapeOf[row]!);
  }
  const made = new Set(aggregates.map(({ device }) => device));
  for (const { site, port, value } of mentions) {
    let node = site.node;
    while (node !== -1 && !called.has(node)) node = tree.parent[node]!;
    const name = called.get(node);
    if (name !== undefined && name !== port && name !== value) made.add(name);
  }
  return (name, row) => row !== -1 && lists.has(structure.shapeOf[row]!) && !made.has(name);
}

const rank = (port: Port) => ({ physical: 0, aggregate: 1, tagged: 2, other: 3 })[port.kind];
