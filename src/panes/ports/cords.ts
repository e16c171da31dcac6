import type { BackupView, PlanView, RoleView } from '../../core/index.ts';

/** A device that hangs on a port: the port itself, or one derived from it. */
export interface Device {
  readonly name: string;
  /** Its name in the result. */
  readonly to: string;
  readonly tag: number | null;
  readonly roles: readonly Cord[];
}

/** A role's way from its old port to its new one. */
export interface Cord {
  /** From 1, in the order of the old box. */
  readonly no: number;
  readonly role: RoleView;
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
}

/** What people call a role: its label where the file has one. */
export const roleTitle = (role: RoleView): string => role.label || role.name;

const natural = new Intl.Collator('en', { numeric: true });

export const byName = (a: string, b: string): number => natural.compare(a, b);

/** The ports that stand alone, each with its devices and the roles on them; cords are numbered in their order. */
export function portRows(backup: BackupView, view: PlanView): PortRow[] {
  const states = new Map(view.ports.map((state) => [state.from, state]));
  const known = new Map(backup.ports.map((port) => [port.name, port]));
  const rolesOn = new Map<string, RoleView[]>();
  for (const role of backup.roles) {
    if (role.port !== null) rolesOn.set(role.port, [...(rolesOn.get(role.port) ?? []), role]);
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
  let no = 0;
  return [...states.keys()].sort(byName).map((name) => {
    const { to, clashes } = states.get(name)!;
    const device = (own: string): Device => ({
      name: own,
      to: own.startsWith(name) ? to + own.slice(name.length) : own,
      tag: known.get(own)?.tag ?? null,
      roles: (rolesOn.get(own) ?? []).map((role) => ({ no: ++no, role })),
    });
    return {
      name,
      to,
      clashes,
      kind: known.get(name)?.kind ?? 'other',
      mentions: known.get(name)?.mentions ?? 0,
      devices: [name, ...(below.get(name) ?? []).sort(byName)].map(device),
    };
  });
}

export const cordsOf = (row: PortRow): Cord[] => row.devices.flatMap((device) => device.roles);

/** Colour and dash pattern of a cord; from the ninth on the pattern moves on by three. */
export function strand(no: number): { readonly stroke: string; readonly strokeDasharray: string } {
  const colour = ((no - 1) % 8) + 1;
  const pattern = ((no - 1 + (no > 8 ? 3 : 0)) % 8) + 1;
  return { stroke: `var(--cord-${colour})`, strokeDasharray: `var(--dash-${pattern})` };
}

/** Names that a port may be given: those that go on in a row begun, then the old box's own. */
export function suggestions(rows: readonly PortRow[], name: string): string[] {
  const taken = new Set(rows.filter((row) => row.name !== name).map((row) => row.to));
  const found = new Set<string>();
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
  for (const row of rows) if (!found.has(row.name)) found.add(row.name);
  return [...found];
}

/** What keeps a text from being a port's name; null where nothing does. */
export function nameTrouble(text: string): string | null {
  if (/\s/.test(text)) return 'A port’s name has no blanks.';
  if (/[<>&"']/.test(text)) return 'A port’s name has none of < > & " \'.';
  return null;
}
