import { type Plan, renamesOf } from '../plan/plan.ts';
import type { PortMention, Reading } from '../reading/reading.ts';
import type { Trouble } from '../trouble.ts';

/** A mention that changes: `port` gives way to `to`, at `at` in the decoded value. */
export interface PortRename {
  readonly mention: PortMention;
  readonly at: number;
  readonly to: string;
  readonly owner: string;
}

/**
 * Every place that a port's new name has to go. All renames happen at once, so two ports can change places; a device
 * derived from a port (`igb2.30`) follows it, a free remark does not.
 */
export function portRenames(reading: Reading, plan: Plan, troubles: Trouble[]): PortRename[] {
  const renames = renamesOf(plan);
  const known = new Set(reading.mentions.map((mention) => mention.port));
  for (const from of [...renames.keys()]) {
    if (known.has(from)) continue;
    troubles.push({ code: 'plan-port-missing', params: { port: from } });
    renames.delete(from);
  }
  for (const clash of portClashes(known, renames)) {
    troubles.push({ code: 'plan-port-doubled', params: { port: clash.to, from: clash.from.join(', ') } });
  }
  const changes: PortRename[] = [];
  for (const mention of reading.mentions) {
    const to = renames.get(mention.port);
    if (to === undefined || to === mention.port) continue;
    changes.push({ mention, at: mention.from + mention.portAt, to, owner: `rename-port ${mention.port}` });
  }
  return changes;
}

/** Names that more than one port would have in the result. */
export function portClashes(
  ports: Iterable<string>,
  renames: ReadonlyMap<string, string>,
): { to: string; from: string[] }[] {
  const holders = new Map<string, string[]>();
  for (const port of ports) {
    const to = renames.get(port) ?? port;
    holders.set(to, [...(holders.get(to) ?? []), port]);
  }
  return [...holders].filter(([, from]) => from.length > 1).map(([to, from]) => ({ to, from }));
}
