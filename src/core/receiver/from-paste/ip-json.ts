import { hardwareAddress } from '../hardware-address.ts';
import { linkIsUp } from './ip-flags.ts';
import { isLegalName, type PasteLine } from './lines.ts';
import { type Found, nothing, type OtherName, type Seen, seen } from './seen.ts';

/**
 * `ip -j link`, `ip -j addr`, with `-d`, `-p` or `-br` (ip(8), `-json`): an array with an object for each device. A
 * terminal may have broken the one long line; a prompt or more may stand around it.
 */
export function readIpJson(lines: readonly PasteLine[]): Found {
  const entries = jsonIn(lines);
  if (!entries) return nothing;
  const devices: Seen[] = [];
  const otherNames: OtherName[] = [];
  const unread: PasteLine[] = [...entries.around];
  for (const entry of entries.value) {
    const { ifname: name } = entry;
    if (!isText(name) || !isLegalName(name)) {
      // iproute2 leaves empty objects where a filter skipped a device (from memory).
      const text = JSON.stringify(entry);
      if (text !== '{}') unread.push({ number: entries.line, text, inset: false });
      continue;
    }
    const flags = texts(entry.flags);
    const info = isObject(entry.linkinfo) ? entry.linkinfo.info_kind : null;
    const type = text(entry.link_type);
    devices.push(
      seen(name, entries.line, {
        mac: hardwareAddress(text(entry.permaddr)) ?? hardwareAddress(text(entry.address)),
        label: text(entry.ifalias)?.trim() || null,
        up: linkIsUp(flags, text(entry.operstate)),
        parent: text(entry.link) ?? (typeof entry.link_index === 'number' ? peer(entry.link_index) : null),
        master: text(entry.master),
        flags,
        link: type,
        made: text(info),
        // The short form has no type; with flags it shows the address of all that have one.
        bare: type === null && flags.length > 0 && text(entry.address) === null,
      }),
    );
    for (const other of texts(entry.altnames)) otherNames.push({ name: other, port: name, how: 'alternative' });
  }
  return { devices, otherNames, unread };
}

/** How the plain form writes a device of another namespace; 0 is nothing. */
const peer = (index: number) => (index === 0 ? 'NONE' : `if${index}`);

type JsonObject = Readonly<Record<string, unknown>>;

/** The array of objects in a paste; null where there is none that parses. */
function jsonIn(lines: readonly PasteLine[]): { value: JsonObject[]; line: number; around: PasteLine[] } | null {
  const first = lines.findIndex(({ text }) => /^\[\s*(?:\{|\]|$)/.test(text));
  if (first < 0) return null;
  let last = lines.length - 1;
  while (last >= first && !lines[last]!.text.endsWith(']')) last--;
  if (last < first) return null;
  const inside = lines.slice(first, last + 1).map(({ text }) => text);
  const value = parse(inside.join('\n')) ?? parse(inside.join(''));
  if (!Array.isArray(value) || !value.every(isObject)) return null;
  return { value, line: lines[first]!.number, around: [...lines.slice(0, first), ...lines.slice(last + 1)] };
}

function parse(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return null;
  }
}

const isObject = (value: unknown): value is JsonObject =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isText = (value: unknown): value is string => typeof value === 'string';
const text = (value: unknown): string | null => (isText(value) ? value : null);
const texts = (value: unknown): string[] => (Array.isArray(value) ? value.filter(isText) : []);
