import { parseDeviceName } from '../../values/device-name.ts';
import { hardwareAddress } from '../hardware-address.ts';
import { isLegalName, type Paste } from './lines.ts';
import { type Found, nothing, type Seen, seen } from './seen.ts';

/**
 * `ifconfig -l` (FreeBSD ifconfig(8); from memory): all names with blanks between. Known by the command above it, or by
 * the loopback among names that are all a system's own.
 */
export function readIfconfigList({ lines, commands }: Paste): Found {
  const words = lines.flatMap(({ text, number }) => text.split(/\s+/).map((word) => ({ word, number })));
  if (words.length === 0 || !words.every(({ word }) => isLegalName(word))) return nothing;
  const asked = commands.some((command) => /\bifconfig\s+-\w*l/.test(command));
  const bsd =
    words.some(({ word }) => word === 'lo0') && lines.length === 1 && words.every(({ word }) => /\d/.test(word));
  if (!asked && !bsd) return nothing;
  return { ...nothing, devices: words.map(({ word, number }) => seen(word, number)) };
}

/**
 * Names typed by hand, with commas, blanks or line ends between; a hardware address may follow a name. Words with only
 * blanks between them are names where most hold a number or are a system's own, so that a sentence is none.
 */
export function readTypedList({ lines }: Paste): Found {
  if (lines.reduce((sum, { text }) => sum + text.length, 0) > LONGEST) return nothing;
  const devices: Seen[] = [];
  let doubtful = 0;
  for (const { text, number } of lines) {
    for (const item of text.split(/[,;]/)) {
      const words = item.trim().split(/\s+/).filter(Boolean);
      for (const word of words) {
        const last = devices.at(-1);
        const mac = hardwareAddress(word);
        if (mac && last && last.line === number && last.mac === null) last.mac = mac;
        else if (isTypedName(word)) {
          devices.push(seen(word, number));
          if (words.length > 1 && !/\d/.test(word) && !parseDeviceName(word)) doubtful++;
        } else return nothing;
      }
    }
  }
  return doubtful * 2 > devices.length ? nothing : { ...nothing, devices };
}

/** A list of several thousand names; what is longer is a text. */
const LONGEST = 50_000;

/** Longer than a kernel takes, and with slashes: RFC 8343 has `gigabitethernet-0/1`; some boxes have `1/0/3`. */
const isTypedName = (word: string) =>
  /^\d{1,3}(?:\/\d{1,3}){1,3}$/.test(word) ||
  (/^[A-Za-z][\w.:+/-]{0,39}$/.test(word) && /[\w+]$/.test(word) && !word.includes('//') && !/^https?:/i.test(word));
