import type { Finding, Receiver, ReceiverPort } from '../../core/index.ts';
import { allCords, byName, type Cabling, type Cord, type PortRow } from './cords.ts';

/** One port of the new box, with what ends there. */
export interface Socket {
  readonly name: string;
  /** What the description of the new box says of it; null where it says nothing. */
  readonly port: ReceiverPort | null;
  /** Ports of the old box that take its name: one, or more where they clash. */
  readonly rows: readonly PortRow[];
  /** Roles that sit on it, untagged ones first, then by VLAN ID. */
  readonly cords: readonly Cord[];
  /** What is wrong with it, as the checks say. */
  readonly wrong: readonly Finding[];
}

/** What is wrong with the cords, by where it shows. */
export interface Trouble {
  readonly sockets: readonly Socket[];
  /** Findings about roles that end nowhere, or that their moves cannot be made, by path of the role. */
  readonly ofRole: ReadonlyMap<string, readonly Finding[]>;
}

/** A port of which only the name is known. */
export const bareSocket = (name: string): Socket => ({ name, port: null, rows: [], cords: [], wrong: [] });

/** Nothing ends there, and no old port takes its name. */
export const isFree = ({ rows, cords }: Socket): boolean => rows.length === 0 && cords.length === 0;

/**
 * The new box's ports: names that it does not have and that something ends on, then those of its description in its
 * order. Without a description, every name that the plan gives.
 */
export function socketsOf(cabling: Cabling, receiver: Receiver | null, findings: readonly Finding[]): Trouble {
  const rowsTo = groups(cabling.rows, ({ to }) => to);
  const cords = allCords(cabling);
  const endingOn = groups(
    cords.filter(({ end, state }) => end !== null && state.goes),
    ({ end }) => end!.socket,
  );
  const { at, ofRole } = placed(findings, cabling, cords);
  const told = new Map(receiver?.ports.map((port) => [port.name, port]));
  const isSocket = ({ kind }: ReceiverPort) => kind === 'physical' || kind === 'aggregate';
  // On a box that is known, a name that nothing needs is no port of it.
  const lacking = [...new Set([...rowsTo.keys(), ...endingOn.keys()])].filter(
    (name) => !told.has(name) && (receiver === null || endingOn.has(name) || at.has(name)),
  );
  const has = [...told.values()].filter((port) => isSocket(port) || endingOn.has(port.name) || rowsTo.has(port.name));
  // What is to be settled comes first; what the new box makes from the file, such as an aggregate, comes last.
  const isMissed = (name: string) => receiver === null || at.has(name);
  const [missed, made] = [lacking.filter(isMissed), lacking.filter((name) => !isMissed(name))];
  const names = [...missed.sort(byName), ...has.map(({ name }) => name), ...made.sort(byName)];
  const sockets = names.map((name) => ({
    name,
    port: told.get(name) ?? null,
    rows: rowsTo.get(name) ?? [],
    cords: (endingOn.get(name) ?? []).sort((a, b) => (a.end!.tag ?? 0) - (b.end!.tag ?? 0) || a.no - b.no),
    wrong: at.get(name) ?? [],
  }));
  return { sockets, ofRole };
}

function groups<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const map = new Map<string, T[]>();
  for (const item of items) {
    const list = map.get(keyOf(item));
    if (list) list.push(item);
    else map.set(keyOf(item), [item]);
  }
  return map;
}

/** Findings by the port of the new box that they are about, and by role. */
function placed(findings: readonly Finding[], cabling: Cabling, cords: readonly Cord[]) {
  const named = groups(cords, ({ role }) => role.name);
  const byPath = groups(cords, ({ state }) => state.path);
  const rows = new Map(cabling.rows.map((row) => [row.name, row]));
  const at = new Map<string, Finding[]>();
  const ofRole = new Map<string, Finding[]>();
  const put = <K>(map: Map<K, Finding[]>, key: K | undefined, finding: Finding) => {
    if (key === undefined) return;
    const list = map.get(key);
    if (!list) map.set(key, [finding]);
    else if (!list.includes(finding)) list.push(finding);
  };
  for (const finding of findings) {
    const { role, port, path, trouble } = finding.params;
    const about = named.get(String(role)) ?? byPath.get(String(path)) ?? [];
    switch (finding.code) {
      case 'port-doubled':
        put(at, String(port), finding);
        break;
      case 'port-not-on-receiver':
        // It is the port that is to be settled, once for all roles on it.
        if (!at.get(String(port))?.some(({ code }) => code === finding.code)) put(at, String(port), finding);
        break;
      case 'role-shares-device':
      case 'port-in-aggregate':
        for (const { end } of about) put(at, end?.socket, finding);
        break;
      case 'port-name-long':
        for (const { end } of cords) if (end && end.device === port) put(at, end.socket, finding);
        for (const row of rows.values()) if (row.devices.some(({ to }) => to === port)) put(at, row.to, finding);
        break;
      case 'tag-doubled':
        put(at, rows.get(String(port))?.to, finding);
        break;
      case 'role-without-port':
        if (finding.byPlan) for (const { state } of about) put(ofRole, state.path, finding);
        break;
      case 'plan-entry':
        if (!/^plan-(?:role|tag|port-no)-/.test(String(trouble))) break;
        for (const { state, end } of about) {
          if (end) put(at, end.socket, finding);
          else put(ofRole, state.path, finding);
        }
        if (about.length === 0) put(at, rows.get(String(port))?.to ?? String(port), finding);
        break;
    }
  }
  return { at, ofRole };
}
