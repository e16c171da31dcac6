import type { BackupView, PlanView, RoleState, RoleView } from '../../core/index.ts';

/** A device that hangs on a port of the old box: the port itself, or one derived from it. */
export interface Device {
  readonly name: string;
  /** Its name in the result. */
  readonly to: string;
  readonly tag: number | null;
  readonly roles: readonly Cord[];
}

/** A role's way from its old port to its new one. */
export interface Cord {
  /** From 1, in the order of the old box; roles without a port there come last. */
  readonly no: number;
  readonly role: RoleView;
  readonly state: RoleState;
  /** Where it ends on the new box; null for a loose end. */
  readonly end: End | null;
}

export interface End {
  /** Name of the port on the new box that frames go through. */
  readonly socket: string;
  /** VLAN ID; null for untagged. */
  readonly tag: number | null;
  /** As the new box calls the device; null where port and VLAN ID stand apart. */
  readonly device: string | null;
}

/** A port that can be given another name, with everything that follows it. */
export interface PortRow {
  readonly name: string;
  readonly to: string;
  readonly kind: BackupView['ports'][number]['kind'];
  readonly clashes: readonly string[];
  /** The port itself first, then the devices derived from it. */
  readonly devices: readonly Device[];
  /** Places that name it or what is derived from it. */
  readonly mentions: number;
  /** The aggregate that it is a part of, as the new box calls it; null for none. */
  readonly partOf: string | null;
}

/** Both sides of the bay by their cords. */
export interface Cabling {
  readonly rows: readonly PortRow[];
  /** Roles that the old box has on no port. */
  readonly portless: readonly Cord[];
}

/** What people call a role: its label where the file has one. */
export const roleTitle = (role: RoleView): string => role.label || role.name;

const natural = new Intl.Collator('en', { numeric: true });

export const byName = (a: string, b: string): number => natural.compare(a, b);

/** The ports that stand alone, each with its devices and the roles on them; cords are numbered in their order. */
export function cablingOf(backup: BackupView, view: PlanView): Cabling {
  const states = new Map(view.ports.map((state) => [state.from, state]));
  const known = new Map(backup.ports.map((port) => [port.name, port]));
  const rolesOn = new Map<string | null, number[]>();
  const tagsOn = new Map<string, Set<number>>();
  for (const [at, { port, tag }] of backup.roles.entries()) {
    if (port !== null && tag !== null) tagsOn.set(port, (tagsOn.get(port) ?? new Set()).add(tag));
    const list = rolesOn.get(port);
    if (list) list.push(at);
    else rolesOn.set(port, [at]);
  }
  const top = (name: string): string => {
    const seen = new Set<string>();
    let at = name;
    // A file may say that two devices hang on each other.
    while (!seen.has(at) && !states.has(at)) {
      seen.add(at);
      const parent = known.get(at)?.parent;
      if (parent === null || parent === undefined) break;
      at = parent;
    }
    return at;
  };
  const below = new Map<string, string[]>();
  for (const { name } of backup.ports) {
    const port = top(name);
    if (name !== port) below.set(port, [...(below.get(port) ?? []), name]);
  }
  // A tagged device may be named as if it were a port.
  const tagOf = (port: string) => known.get(port)?.tag ?? null;
  const endOf = ({ seat, device }: RoleState): End | null => {
    if (seat.on === 'none') return null;
    const base = top(seat.port);
    // A name that the old box does not have is the new box's own.
    return { socket: states.get(base)?.to ?? base, tag: seat.on === 'tag' ? seat.tag : tagOf(seat.port), device };
  };
  let no = 0;
  const cords = (port: string | null, tag: number | null): Cord[] =>
    (rolesOn.get(port) ?? []).flatMap((at) => {
      if (backup.roles[at]!.tag !== tag) return [];
      const state = view.roles[at]!;
      return { no: ++no, role: backup.roles[at]!, state, end: endOf(state) };
    });
  const rows = [...states.keys()].sort(byName).map((name): PortRow => {
    const { to, clashes } = states.get(name)!;
    const partOf = known.get(name)?.partOf ?? null;
    const device = (own: string, tag: number | null = null): Device => ({
      name: own,
      to: own.startsWith(name) ? to + own.slice(name.length) : own,
      tag: tag ?? known.get(own)?.tag ?? null,
      roles: cords(own, tag),
    });
    return {
      name,
      to,
      clashes,
      kind: known.get(name)?.kind ?? 'other',
      mentions: known.get(name)?.mentions ?? 0,
      partOf: partOf === null ? null : (states.get(partOf)?.to ?? partOf),
      devices: [name, ...(below.get(name) ?? []).sort(byName)].flatMap((own) => [
        device(own),
        ...[...(tagsOn.get(own) ?? [])].sort((a, b) => a - b).map((tag) => device(own, tag)),
      ]),
    };
  });
  return { rows, portless: cords(null, null) };
}

/** What a device of a port is called: its name, or the VLAN ID where it has none of its own. */
export const deviceTitle = ({ name, tag }: Device, port: string): string =>
  tag !== null && name === port ? `VLAN ${tag}` : name;

export const cordsOf = (row: PortRow): Cord[] => row.devices.flatMap((device) => device.roles);

export const allCords = ({ rows, portless }: Cabling): Cord[] => [...rows.flatMap(cordsOf), ...portless];

/** One cable to plug on the night: all roles that go from one old port to one new port. */
export interface Cable {
  /** Null for roles that the old box has on no port. */
  readonly from: string | null;
  /** Null for roles that end nowhere. */
  readonly to: string | null;
  /** None for a port without a role. */
  readonly cords: readonly Cord[];
  /** Why there is none, in words. */
  readonly bare: string;
}

export function cablesOf({ rows, portless }: Cabling): Cable[] {
  const cables: Cable[] = [];
  const add = (from: string | null, cords: readonly Cord[]) => {
    for (const to of new Set(cords.map(({ end }) => end?.socket ?? null)))
      cables.push({ from, to, cords: cords.filter(({ end }) => (end?.socket ?? null) === to), bare: '' });
  };
  for (const row of rows) {
    const cords = cordsOf(row);
    if (cords.length === 0) cables.push({ from: row.name, to: row.to, cords, bare: bareWords(row) });
    else add(row.name, cords);
  }
  add(null, portless);
  return cables;
}

/** Why a port has no role of its own. */
export const bareWords = ({ partOf, devices }: PortRow): string =>
  partOf !== null ? `part of ${partOf}` : devices.length > 1 ? 'trunk' : 'no role';

/** Where a role sits, in words: `ix0, tag 30`. */
export const endWords = (end: Pick<End, 'socket' | 'tag'> | null): string =>
  end === null ? 'no port' : end.tag === null ? end.socket : `${end.socket}, tag ${end.tag}`;

/** True for a role that is written in the record of its own device: it cannot leave it, only the device can move. */
export const isItsPort = ({ role }: Cord): boolean => role.name === role.port;

/** Colour and dash pattern of a cord; from the ninth on the pattern moves on by three. */
export function strand(no: number): { readonly stroke: string; readonly strokeDasharray: string } {
  const colour = ((no - 1) % 8) + 1;
  const pattern = ((no - 1 + (no > 8 ? 3 : 0)) % 8) + 1;
  return { stroke: `var(--cord-${colour})`, strokeDasharray: `var(--dash-${pattern})` };
}

/**
 * Names that a port may be given: those of the new box, the free ones first. Where it is not known, those that go on in
 * a row begun, then the old box's own.
 */
export function suggestions(
  rows: readonly PortRow[],
  name: string,
  sockets: readonly string[] | null = null,
): string[] {
  const taken = new Set(rows.filter((row) => row.name !== name).map((row) => row.to));
  const found = new Set<string>();
  if (sockets) {
    for (const socket of sockets) if (!taken.has(socket)) found.add(socket);
    for (const socket of sockets) found.add(socket);
    found.add(name);
    return [...found];
  }
  for (const row of rows) {
    if (row.to === row.name) continue;
    const parts = /^(.*?)(\d+)$/.exec(row.to);
    if (!parts) continue;
    for (let at = Number(parts[2]); at < Number(parts[2]) + rows.length + 1; at++) {
      const next = `${parts[1]}${at}`;
      if (!taken.has(next)) {
        found.add(next);
        break;
      }
    }
  }
  for (const row of rows) found.add(row.name);
  return [...found];
}

/** What keeps a text from being a port's name; null where nothing does. */
export function nameTrouble(text: string): string | null {
  if (/\s/.test(text)) return 'A port’s name has no blanks.';
  if (/[<>&"']/.test(text)) return 'A port’s name has none of < > & " \'.';
  return null;
}
