import { append } from '../../lists.ts';
import { namespaceAt } from '../../xml/namespaces.ts';
import { TEXT, textOf } from '../../xml/site.ts';
import { firstElement, isElement, isLeaf, nextElement, type Tree } from '../../xml/tree.ts';
import type { Binding, Port, PortMention, Role, Spot, TaggedRecord, Tagging } from '../reading.ts';
import type { KnownDevices, KnownFormat } from './format.ts';
import type { Placed } from './placed.ts';

export interface KnownPorts {
  readonly roles: readonly Role[];
  readonly ports: readonly Port[];
  readonly bindings: readonly Binding[];
  readonly tagging: readonly Tagging[];
  readonly mentions: readonly PortMention[];
}

/** One entry of a device list. */
interface Device {
  readonly node: number;
  readonly nameLeaf: number;
  readonly name: string;
  readonly label: string | null;
  readonly kind: Port['kind'];
  readonly parent: string | null;
  readonly tag: number | null;
  /** Leaves that say parent and tag, -1 for none. */
  readonly parentLeaf: number;
  readonly tagLeaf: number;
  readonly hasAddress: boolean;
}

/**
 * Devices, and the logical networks on them. Records name an interface by its device's name, so a network has the name
 * of its device: every entry that holds an address or is named by something else than a device derived from it.
 */
export function readPorts(placed: Placed, format: KnownFormat): KnownPorts {
  const { tree, table } = placed;
  const roles: Role[] = [];
  const ports: Port[] = [];
  const bindings: Binding[] = [];
  const mentions: PortMention[] = [];
  const tagging: Tagging[] = [];
  const modules = new Map(format.modules.map(({ namespace, name }) => [namespace, name]));
  for (const row of format.devices) {
    const devices = devicesOf(placed, row, modules);
    if (devices.length === 0) continue;
    const byName = new Map<string, Device>();
    for (const device of devices) if (!byName.has(device.name)) byName.set(device.name, device);
    const named = new Set<string>();
    const mention = (leaf: number) => {
      const raw = textOf(tree, leaf);
      const value = raw.trim();
      const port = baseOf(value, byName);
      if (value === '' || port === null) return;
      const from = raw.indexOf(value);
      mentions.push({ site: { node: leaf, attr: TEXT }, from, to: from + value.length, value, port, portAt: 0 });
    };
    for (const device of byName.values()) {
      const { name, kind, parent, tag, node } = device;
      ports.push({ name, kind, parent: byName.has(parent ?? '') ? parent : null, tag, node });
    }
    for (const { nameLeaf } of devices) mention(nameLeaf);
    const names = `${row.list}/${row.name}`;
    for (const { at, to } of format.references) {
      if (to !== names) continue;
      for (const leaf of placed.at.get(table.number(at)) ?? []) {
        mention(leaf);
        if (at !== `${row.list}/${row.parent}`) named.add(textOf(tree, leaf).trim());
      }
    }
    for (const device of byName.values()) {
      if (!device.hasAddress && !named.has(device.name)) continue;
      roles.push({ name: device.name, label: device.label, node: device.node });
      bindings.push({
        role: device.name,
        port: device.name,
        site: { node: device.nameLeaf, attr: TEXT },
        node: device.node,
        tag: null,
        vlan: -1,
        ofPort: true,
      });
    }
    append(tagging, taggingOf(tree, [...byName.values()]));
    append(mentions, zones(placed, byName));
  }
  mentions.sort((a, b) => a.site.node - b.site.node || a.from - b.from);
  return { roles, ports, bindings, tagging, mentions };
}

function devicesOf(placed: Placed, row: KnownDevices, modules: ReadonlyMap<string, string>): Device[] {
  const { tree, table, path } = placed;
  const number = (below: string) => table.number(`${row.list}/${below}`);
  const leaves = { name: number(row.name), label: number(row.label), type: number(row.type) };
  const derived = { parent: number(row.parent), tag: number(row.tag) };
  const addresses = new Set<number>();
  for (const below of row.addresses) {
    for (const node of placed.at.get(number(below)) ?? [])
      addresses.add(ancestorAt(placed, node, table.number(row.list)));
  }
  const entries = placed.at.get(table.number(row.list)) ?? [];
  const drafts = entries.flatMap((node) => {
    const at = new Map<number, number>();
    for (let child = firstElement(tree, node); child !== -1; child = nextElement(tree, child)) {
      if (path[child]! > 0 && !at.has(path[child]!)) at.set(path[child]!, child);
    }
    const text = (leaf: number) => (at.has(leaf) ? textOf(tree, at.get(leaf)!).trim() : '');
    const name = text(leaves.name);
    if (name === '') return [];
    const type = at.has(leaves.type) ? identityOf(tree, at.get(leaves.type)!, modules) : '';
    return [
      {
        node,
        nameLeaf: at.get(leaves.name)!,
        name,
        label: text(leaves.label) || null,
        kind: row.kinds[type] ?? ('other' as const),
        parent: text(derived.parent) || null,
        tag: /^\d{1,4}$/.test(text(derived.tag)) ? Number(text(derived.tag)) : null,
        parentLeaf: at.get(derived.parent) ?? -1,
        tagLeaf: at.get(derived.tag) ?? -1,
        hasAddress: addresses.has(node),
      },
    ];
  });
  const names = new Set(drafts.map(({ name }) => name));
  return drafts.map((device) => {
    // Modules of makers say it in their own namespaces; then the name tells, as `igc3.30` does.
    const parts =
      device.parent === null && device.kind === 'tagged' ? /^(.+)[^\p{L}\p{N}](\d{1,4})$/u.exec(device.name) : null;
    if (!parts || !names.has(parts[1]!)) return device;
    return { ...device, parent: parts[1]!, tag: device.tag ?? Number(parts[2]) };
  });
}

/** Sub-interfaces whose entry says parent and tag, as one list for each element that holds them. */
function taggingOf(tree: Tree, devices: readonly Device[]): Tagging[] {
  const lists = new Map<number, TaggedRecord[]>();
  const marks: string[] = [];
  for (const { node, name, nameLeaf, parent, tag, parentLeaf, tagLeaf } of devices) {
    if (parentLeaf === -1 || tagLeaf === -1) continue;
    const spot = (leaf: number, holds: Spot['holds'], field: number): Spot => {
      const raw = textOf(tree, leaf);
      const from = raw.length - raw.trimStart().length;
      return { site: { node: leaf, attr: TEXT }, from, to: from + raw.trim().length, holds, field };
    };
    const spots = [spot(nameLeaf, 'device', 0), spot(parentLeaf, 'parent', 1), spot(tagLeaf, 'tag', 2)];
    const record = { node, parts: [node], device: name, parent, tag, spots };
    const holder = tree.parent[node]!;
    lists.set(holder, [...(lists.get(holder) ?? []), record]);
    if (parent !== null && tag !== null && name.startsWith(parent) && name.endsWith(String(tag)))
      marks.push(name.slice(parent.length, name.length - String(tag).length));
  }
  return [...lists].map(([holder, records]) => ({
    holder,
    marks: marks[0] ?? '',
    onParent: marks.length > 0,
    key: -1,
    records,
  }));
}

function ancestorAt({ tree, path }: Placed, node: number, wanted: number): number {
  let at = node;
  while (at !== -1 && path[at] !== wanted) at = tree.parent[at]!;
  return at;
}

/** `module:identity` of a leaf whose value is a qualified name (RFC 7950, 9.10.3). */
function identityOf(tree: Tree, leaf: number, modules: ReadonlyMap<string, string>): string {
  const value = textOf(tree, leaf).trim();
  const cut = value.indexOf(':');
  const namespace = namespaceAt(tree, leaf, cut === -1 ? '' : value.slice(0, cut));
  return `${modules.get(namespace ?? '') ?? ''}:${value.slice(cut + 1)}`;
}

/** True where a device's name is another's, a mark, and more. */
const extendsName = (name: string, stem: string) =>
  name.length > stem.length && name.startsWith(stem) && !/[\p{L}\p{N}]/u.test(name[stem.length]!);

/** The device that a new name would be asked for: the one whose name begins this one's. Null for no device at all. */
function baseOf(name: string, devices: ReadonlyMap<string, Device>): string | null {
  let at = name;
  if (!devices.has(at)) {
    const stem = /^(.+)[^\p{L}\p{N}]\d{1,4}$/u.exec(name)?.[1];
    if (stem === undefined || !devices.has(stem)) return null;
    at = stem;
  }
  for (;;) {
    const parent = devices.get(at)!.parent;
    if (parent === null || !devices.has(parent) || !extendsName(at, parent)) return at;
    at = parent;
  }
}

/** Addresses with the device that their link is on, as in `fe80::1%igc0` (RFC 4007, 11). */
function zones({ tree, covered }: Placed, devices: ReadonlyMap<string, Device>): PortMention[] {
  const found: PortMention[] = [];
  let percent = tree.text.indexOf('%');
  for (let leaf = 0; leaf < tree.size && percent !== -1; leaf++) {
    if (!isElement(tree, leaf) || !isLeaf(tree, leaf)) continue;
    if (percent < tree.openEnd[leaf]!) percent = tree.text.indexOf('%', tree.openEnd[leaf]!);
    if (percent === -1 || percent >= tree.closeStart[leaf]! || !covered[leaf]) continue;
    const raw = textOf(tree, leaf);
    const parts = /^\s*[0-9a-fA-F:.]+%([^\s/%]+)/.exec(raw);
    const port = parts?.[0].includes(':') ? baseOf(parts[1]!, devices) : null;
    if (port === null) continue;
    const to = parts![0].length;
    const value = parts![1]!;
    found.push({ site: { node: leaf, attr: TEXT }, from: to - value.length, to, value, port, portAt: 0 });
  }
  return found;
}
