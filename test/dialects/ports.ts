import type { Rng } from './rng.ts';

export type PortMap = Readonly<Record<string, string>>;

/** A network device: a port of the box, something derived from one, or (base null) a device with a name of its own. */
export interface Device {
  readonly base: string | null;
  readonly suffix: string;
}

export function deviceName(device: Device, ports: PortMap): string {
  return device.base === null ? device.suffix : (ports[device.base] ?? device.base) + device.suffix;
}

interface Family {
  readonly id: string;
  readonly name: (index: number) => string;
  /** The driver's word in operating-system variables, where the name shows one. */
  readonly driver: string | null;
}

/**
 * Names as two operating systems write them (freebsd-src share/man/man4, systemd.net-naming-scheme), and neutral ways
 * of numbering sockets (RFC 8343, appendix E, has such names; the spellings here are our own).
 */
const FAMILIES: readonly Family[] = [
  ...['igb', 'ix', 'ixl', 'em', 'igc', 're', 'bge', 'vtnet', 'bnxt', 'mce', 'axp', 'ice', 'msk'].map((driver) => ({
    id: driver,
    driver,
    name: (i: number) => `${driver}${i}`,
  })),
  { id: 'eth', driver: null, name: (i) => `eth${i}` },
  { id: 'enp', driver: null, name: (i) => `enp${i + 1}s0` },
  { id: 'enpf', driver: null, name: (i) => `enp${3 + (i >> 1)}s0f${i % 2}` },
  { id: 'eno', driver: null, name: (i) => `eno${i + 1}` },
  { id: 'ens', driver: null, name: (i) => `ens${i + 1}` },
  { id: 'slot', driver: null, name: (i) => `0/${i + 1}` },
  { id: 'slot3', driver: null, name: (i) => `1/0/${i + 1}` },
  { id: 'named-slot', driver: null, name: (i) => `copper-${1 + (i >> 2)}/${i % 4}` },
  { id: 'spaced', driver: null, name: (i) => `port ${i + 1}` },
  { id: 'sfp', driver: null, name: (i) => `sfp${i + 1}` },
  { id: 'letter', driver: null, name: (i) => `P${i + 1}` },
  { id: 'lan-jack', driver: null, name: (i) => `jack${String(i + 1).padStart(2, '0')}` },
];

/** More ways to call sockets, drawn only where `Options.meeting` asks for them: words, letters, long numbers. */
const MORE_FAMILIES: readonly Family[] = [
  { id: 'word-number', driver: null, name: (i) => `Port ${i + 1}` },
  { id: 'word-joined', driver: null, name: (i) => `LAN${i + 1}` },
  { id: 'word-letter', driver: null, name: (i) => `${['quay', 'deck', 'loft'][i >> 2]}-${'abcd'[i % 4]}` },
  { id: 'slot-zero', driver: null, name: (i) => `0/0/${i + 1}` },
  { id: 'card-port', driver: null, name: (i) => `ge${1 + (i >> 2)}-${i % 4}` },
  { id: 'capital', driver: null, name: (i) => `X${i + 1}` },
  { id: 'socket-letter', driver: null, name: (i) => 'ABCDEFGHIJKL'[i] as string },
];
/** Names that only a table of ports makes ports of. */
export const isBareFamily = (family: string): boolean => family === 'socket-letter' || family === 'word-letter';

export interface PortSet {
  readonly family: string;
  readonly driver: string | null;
  readonly names: readonly string[];
  readonly moved: PortMap;
  readonly swapped: PortMap;
}

/** @param more whether the further families may be drawn, too. */
export function randomPorts(rng: Rng, count: number, more = false): PortSet {
  const usual = rng.pick(FAMILIES);
  const family = more && rng.fork('more').chance(0.6) ? rng.fork('of more').pick(MORE_FAMILIES) : usual;
  const start =
    MORE_FAMILIES.includes(family) || ['slot', 'slot3', 'spaced', 'named-slot'].includes(family.id)
      ? 0
      : rng.pick([0, 0, 0, 1]);
  const names: string[] = [];
  // A box often has a second kind of port for the last one or two.
  const second = rng.chance(0.2) ? rng.pick(FAMILIES.filter((f) => f.id !== family.id && f.id !== 'spaced')) : null;
  for (let i = 0; i < count; i++) {
    names.push(second !== null && i >= count - 2 ? second.name(i - (count - 2)) : family.name(i + start));
  }
  // A blank in a new name could not be told from a list that is separated by blanks.
  const target = rng.pick(FAMILIES.filter((f) => f.id !== family.id && f.id !== second?.id && f.id !== 'spaced'));
  const order = rng.shuffle(names.map((_, i) => i));
  const moved = Object.fromEntries(names.map((n, i) => [n, target.name(order[i] as number)]));
  const swapped: Record<string, string> = {};
  for (let i = 0; i + 1 < count; i += 2) {
    swapped[names[i] as string] = names[i + 1] as string;
    swapped[names[i + 1] as string] = names[i] as string;
  }
  return { family: family.id, driver: family.driver, names, moved, swapped };
}
