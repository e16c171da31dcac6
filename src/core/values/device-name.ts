import table from './os-ports.json' with { type: 'json' };

/** `card`: something with a socket or an antenna. `pseudo`: tunnels, bridges, VLANs, loopback. */
export type DeviceKind = 'card' | 'aggregate' | 'pseudo';

/** A network device as an operating system names it. */
export interface DeviceName {
  /** `igb` of `igb2`; null for names that follow the card's place, such as `enp3s0`. */
  readonly driver: string | null;
  readonly kind: DeviceKind;
  /** The name without a VLAN part: `igb2` of `igb2.30`. */
  readonly base: string;
}

/**
 * Longest name of a network device: IFNAMSIZ is 16 with the closing zero, in Linux (linux/if.h, read) and in
 * FreeBSD (net/if.h, from memory).
 */
export const MAX_DEVICE_NAME = 15;

const drivers = new Map<string, DeviceKind>();
for (const name of table.drivers) drivers.set(name, 'card');
for (const name of table.aggregates) drivers.set(name, 'aggregate');
for (const name of table.pseudo) drivers.set(name, 'pseudo');
/** The formats end in one for `parent.tag`, which a base name never is. */
const placed = new RegExp(table.formats.filter((format) => !format.includes('\\.')).join('|'));
const cardFormat = /^(?:en|ib|wl|ww|eth|usb)/;
const unitName = /^([a-z]+)\d{1,4}$/;

/** What the kernels keep for a name, the end octet left out (IFNAMSIZ 16, from memory). */
export const NAME_LIMIT = 15;

/** Null for a name that neither system would give; a name of the user's own choice is such a one too. */
export function parseDeviceName(text: string): DeviceName | null {
  if (text.length < 2 || text.length > NAME_LIMIT + 5) return null;
  const cut = text.search(/[.:]/);
  if (cut >= 0 && !/^\d{1,4}$/.test(text.slice(cut + 1))) return null;
  const base = cut < 0 ? text : text.slice(0, cut);
  if (base === 'lo') return { driver: 'lo', kind: 'pseudo', base };
  const driver = unitName.exec(base)?.[1];
  const kind = driver === undefined ? undefined : drivers.get(driver);
  if (kind) return { driver: driver!, kind, base };
  return placed.test(base) ? { driver: null, kind: cardFormat.test(base) ? 'card' : 'pseudo', base } : null;
}

/** The kind of device that a driver makes; null for a word that is no driver of the table. */
export function driverKind(word: string): DeviceKind | null {
  return drivers.get(word) ?? null;
}
