import { bad, good, type Result, type Trouble } from '../../trouble.ts';
import { namesLikeAnother, type Receiver, type ReceiverPort } from '../receiver.ts';
import { faster } from '../speed.ts';
import { readBootLog } from './boot-log.ts';
import { readIfconfig } from './ifconfig.ts';
import { readIpBrief } from './ip-brief.ts';
import { readIpJson } from './ip-json.ts';
import { readIpLong } from './ip-long.ts';
import { type IgnoredWhy, judge } from './kinds.ts';
import { type Paste, type PasteLine, takeApart } from './lines.ts';
import { readIfconfigList, readTypedList } from './name-lists.ts';
import { lookOfPaste } from './other-text.ts';
import type { Found, OtherName, Seen } from './seen.ts';

export type PasteShape = 'ip-json' | 'ip-long' | 'ip-brief' | 'ifconfig' | 'boot-log' | 'ifconfig-list' | 'typed-list';

/** What a paste says of a box. */
export interface DevicesRead {
  readonly shape: PasteShape;
  readonly receiver: Receiver;
  /** Devices of the paste that are no ports of the box. */
  readonly ignored: readonly { readonly name: string; readonly why: IgnoredWhy }[];
  /** Names beside those of the ports, each with the port that has or had it. */
  readonly otherNames: readonly OtherName[];
  /** Lines that mean nothing here; those of a boot log that are about other things are not among them. */
  readonly unread: readonly { readonly line: number; readonly text: string }[];
  /** Commands and prompts' lines of the paste, left out of the above. */
  readonly commands: readonly string[];
  /** Worth a look, in the way of nothing. */
  readonly troubles: readonly Trouble[];
}

/** Longest paste in UTF-16 units: a boot log has a few hundred thousand. */
export const PASTE_LIMIT = 8_000_000;

/** In the order that decides where two make out as many devices. */
const shapes: readonly (readonly [PasteShape, (paste: Paste) => Found])[] = [
  ['ip-json', ({ lines }) => readIpJson(lines)],
  ['ip-long', ({ lines }) => readIpLong(lines)],
  ['ifconfig', ({ lines }) => readIfconfig(lines)],
  ['ip-brief', ({ lines }) => readIpBrief(lines)],
  ['boot-log', ({ lines }) => readBootLog(lines)],
];
/** Only where none of the others finds a device: nearly every word could be a name. */
const lists: typeof shapes = [
  ['ifconfig-list', readIfconfigList],
  ['typed-list', readTypedList],
];

/**
 * The ports of a box by a command's output or by a list of names: whatever the shape, it is recognised.
 * @returns trouble `paste-empty`, `paste-too-large`, `paste-not-devices` (with what it looks like),
 * `receiver-port-doubled` (with the line) or `receiver-no-ports`.
 */
export function readDevices(text: string): Result<DevicesRead> {
  if (text.length > PASTE_LIMIT)
    return bad({ code: 'paste-too-large', params: { size: text.length, limit: PASTE_LIMIT } });
  if (text.replace(/^\uFEFF/, '').trim() === '') return bad({ code: 'paste-empty' });
  const paste = takeApart(text);
  const best = recognised(paste, shapes) ?? recognised(paste, lists);
  if (!best) return bad({ code: 'paste-not-devices', params: { look: lookOfPaste(text, paste) } });
  const devices = merged(best.found.devices, best.shape);
  if (!devices.ok) return devices;
  return described(best.shape, devices.value, best.found, paste);
}

function recognised(paste: Paste, among: typeof shapes): { shape: PasteShape; found: Found } | null {
  let best: { shape: PasteShape; found: Found } | null = null;
  for (const [shape, read] of among) {
    const found = read(paste);
    if (found.devices.length > (best?.found.devices.length ?? 0)) best = { shape, found };
  }
  return best;
}

/**
 * A command that ran twice tells of each device twice; the later time counts. Two hardware addresses under one name are
 * two boxes, and a name that stands twice in a list may be a slip for another.
 */
function merged(devices: readonly Seen[], shape: PasteShape): Result<Seen[]> {
  const isList = shape === 'typed-list' || shape === 'ifconfig-list';
  const byName = new Map<string, Seen>();
  for (const device of devices) {
    const first = byName.get(device.name);
    if (first && (isList || (first.mac !== null && device.mac !== null && first.mac !== device.mac)))
      return bad({
        code: 'receiver-port-doubled',
        line: device.line,
        params: { port: device.name, first: first.line },
      });
    byName.set(
      device.name,
      first
        ? {
            ...device,
            mac: device.mac ?? first.mac,
            label: device.label ?? first.label,
            up: device.up ?? first.up,
            speedMbit: faster(device.speedMbit, first.speedMbit),
            made: device.made ?? first.made,
            link: device.link ?? first.link,
            parent: device.parent ?? first.parent,
            bare: device.bare && first.bare,
          }
        : device,
    );
  }
  return good([...byName.values()]);
}

function described(shape: PasteShape, devices: readonly Seen[], found: Found, paste: Paste): Result<DevicesRead> {
  const ports: ReceiverPort[] = [];
  const lines: number[] = [];
  const ignored: { name: string; why: IgnoredWhy }[] = [];
  for (const [at, judged] of judge(devices).entries()) {
    const { name, mac, speedMbit, label, up, line } = devices[at]!;
    if ('why' in judged) {
      ignored.push({ name, why: judged.why });
      continue;
    }
    ports.push({ name, mac, speedMbit, label, up, kind: judged.kind, parent: judged.parent });
    lines.push(line);
  }
  if (ports.length === 0) return bad({ code: 'receiver-no-ports', params: { shape, ignored: ignored.length } });
  return good({
    shape,
    receiver: {
      name: paste.host ?? '',
      source: shape === 'typed-list' ? 'typed' : 'paste',
      ports,
      version: null,
      sections: null,
    },
    ignored,
    otherNames: found.otherNames,
    commands: paste.commands,
    unread: found.unread.map(({ number, text }: PasteLine) => ({ line: number, text })),
    troubles: namesLikeAnother(ports).map(({ name, other, at }) => ({
      code: 'receiver-ports-alike',
      line: lines[at]!,
      params: { port: name, other },
    })),
  });
}
