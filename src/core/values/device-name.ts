import table from './os-ports.json' with { type: 'json' };

export type DeviceKind = 'ethernet' | 'wireless' | 'aggregate' | 'vlan' | 'bridge' | 'tunnel' | 'loopback' | 'other';

/** A network device as an operating system names it. */
export interface DeviceName {
  /** `igb` of `igb2`; the whole prefix for names that follow the card's place, `en` of `enp3s0`. */
  readonly driver: string;
  readonly kind: DeviceKind;
  /** The name without a VLAN part: `igb2` of `igb2.30`. */
  readonly base: string;
}

const drivers = new Map<string, DeviceKind>();
for (const { kinds } of [table.drivers, table.prefixes]) {
  for (const [kind, names] of Object.entries(kinds)) for (const name of names) drivers.set(name, kind as DeviceKind);
}
const predictable = new RegExp(table.predictable.patterns.join('|'));
const predictableKind: Record<string, DeviceKind> = {
  en: 'ethernet',
  ib: 'ethernet',
  wl: 'wireless',
  ww: 'wireless',
  sl: 'tunnel',
};
const unitName = /^([a-z]+)\d{1,4}$/;

/** What the kernel keeps for a name, its end octet left out. */
export const NAME_LIMIT = table.nameLimit.value;

/** Null for a name that neither system would give; a name of the user's own choice is such a one too. */
export function parseDeviceName(text: string): DeviceName | null {
  if (text.length < 2 || text.length > NAME_LIMIT + 5) return null;
  const cut = text.search(/[.:]/);
  if (cut >= 0 && !/^\d{1,4}$/.test(text.slice(cut + 1))) return null;
  const base = cut < 0 ? text : text.slice(0, cut);
  if (base === 'lo') return { driver: 'lo', kind: 'loopback', base };
  const unit = unitName.exec(base);
  const kind = unit ? drivers.get(unit[1]!) : undefined;
  if (unit && kind) return { driver: unit[1]!, kind, base };
  if (!predictable.test(base)) return null;
  const prefix = base.slice(0, 2);
  return { driver: prefix, kind: predictableKind[prefix] ?? 'other', base };
}

/** The kind of device that a driver makes; null for a word that is no driver of the table. */
export function driverKind(word: string): DeviceKind | null {
  return drivers.get(word) ?? null;
}
