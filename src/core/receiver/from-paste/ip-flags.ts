/** What `ip` calls a device's state (RFC 2863 ifOperStatus; ip-link(8)). */
export const states = ['UP', 'DOWN', 'UNKNOWN', 'LOWERLAYERDOWN', 'NOTPRESENT', 'TESTING', 'DORMANT'];

/** Whether a link is there: the carrier's flag where there is one, else the state; null where neither tells. */
export function linkIsUp(flags: readonly string[], state: string | null): boolean | null {
  if (flags.includes('NO-CARRIER')) return false;
  if (state === 'UP') return true;
  if (state === 'DOWN' || state === 'LOWERLAYERDOWN' || state === 'NOTPRESENT') return false;
  return flags.includes('LOWER_UP') ? true : null;
}

/** `eth0.30@eth0` in two: name and what is below it; `NONE` is nothing. */
export function splitName(text: string): { name: string; parent: string | null } {
  const at = text.lastIndexOf('@');
  if (at <= 0) return { name: text, parent: null };
  return { name: text.slice(0, at), parent: text.slice(at + 1) };
}

export const flagsIn = (text: string): string[] => /<([\w,-]*)>/.exec(text)?.[1]?.split(',') ?? [];
