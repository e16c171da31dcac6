import type { Reading } from '../reading/reading.ts';
import { naturalOrder } from '../text/natural-order.ts';
import { bad, good, type Result } from '../trouble.ts';
import { attributeValue, textOf } from '../xml/site.ts';
import { attributesOf, isElement, isLeaf, isWithin, type Tree } from '../xml/tree.ts';
import { hardwareAddress } from './hardware-address.ts';
import type { Receiver, ReceiverPort } from './receiver.ts';
import { faster, speedIn } from './speed.ts';

/** Values looked at in one record: a role has a few dozen; what has thousands is no role. */
const MOST_VALUES = 400;

/**
 * The new box by its own backup.
 * @param name what to call it where the backup does not name itself, such as its file's name.
 * @returns trouble `receiver-no-ports` for a backup that names no port.
 */
export function receiverFromBackup(tree: Tree, reading: Reading, name: string): Result<Receiver> {
  const ports = portsOfBackup(tree, reading);
  if (ports.length === 0) return bad({ code: 'receiver-no-ports', params: { shape: 'backup', ignored: 0 } });
  return good({
    name: reading.about.host ?? name,
    source: 'backup',
    ports,
    version: reading.about.version,
    sections: reading.sections.map((section) => section.name),
  });
}

/**
 * The ports of a backup, the old box's or the new one's, in the order of their names (`igb2` before `igb10`). The label
 * is that of the role that sits on exactly this port; hardware address and speed are those that its record sets.
 */
export function portsOfBackup(tree: Tree, reading: Reading): ReceiverPort[] {
  const roles = new Map(reading.roles.map((role) => [role.name, role]));
  const bound = new Map<string, { label: string | null; records: number[] }>();
  for (const { role: name, port, site } of reading.bindings) {
    const role = roles.get(name);
    const entry = bound.get(port) ?? { label: null, records: [] };
    bound.set(port, entry);
    entry.label ??= role ? role.label || role.name : name || null;
    if (role) entry.records.push(role.node);
    if (!role || !isWithin(tree, site.node, role.node)) entry.records.push(recordAround(tree, site.node, site.attr));
  }
  const settings = new Map<number, Settings>();
  const settingsIn = (node: number): Settings => {
    let known = settings.get(node);
    if (!known) {
      known = readSettings(tree, node);
      settings.set(node, known);
    }
    return known;
  };
  return reading.ports
    .map(({ name, kind, parent }): ReceiverPort => {
      const entry = bound.get(name);
      const found = [...new Set(entry?.records)].map(settingsIn);
      const macs = new Set(found.flatMap((one) => (one.mac ? [one.mac] : [])));
      return {
        name,
        mac: macs.size === 1 ? [...macs][0]! : null,
        speedMbit: found.reduce<number | null>((best, one) => faster(best, one.speedMbit), null),
        label: entry?.label ?? null,
        up: null,
        kind,
        parent: kind === 'tagged' ? parent : null,
      };
    })
    .sort((a, b) => naturalOrder(a.name, b.name));
}

/** The element whose attribute holds the value, or the one around the leaf that does. */
function recordAround(tree: Tree, node: number, attr: number): number {
  return attr >= 0 || node === tree.root ? node : tree.parent[node]!;
}

interface Settings {
  readonly mac: string | null;
  readonly speedMbit: number | null;
}

/** A value that is a medium from its first letter on, as `1000baseT <full-duplex>`. */
const isMedium = /^\d[\d.]*G?[ -]?base\S*(?: \S+){0,2}$/i;

/** A record with two hardware addresses tells of others, too, and so of none for sure. */
function readSettings(tree: Tree, record: number): Settings {
  const macs = new Set<string>();
  let speedMbit: number | null = null;
  let left = MOST_VALUES;
  const look = (value: string) => {
    left--;
    const text = value.trim();
    const mac = hardwareAddress(text);
    if (mac) macs.add(mac);
    else if (isMedium.test(text)) speedMbit = faster(speedMbit, speedIn(text));
  };
  for (let node = record; node < tree.after[record]! && left > 0; node++) {
    if (!isElement(tree, node)) continue;
    const [first, end] = attributesOf(tree, node);
    for (let attr = first; attr < end && left > 0; attr++) look(attributeValue(tree, attr));
    if (isLeaf(tree, node)) look(textOf(tree, node));
  }
  return { mac: macs.size === 1 ? [...macs][0]! : null, speedMbit };
}
