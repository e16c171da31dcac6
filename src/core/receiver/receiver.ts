/** The box that the settings go to, as far as anything tells: its sockets and what is built on them. */
export interface Receiver {
  /** What people call the box; empty where nothing says it. */
  readonly name: string;
  /** Its own backup, a command's output that was pasted, or names typed by hand. */
  readonly source: ReceiverSource;
  /** In the order of the source; no two of one name. */
  readonly ports: readonly ReceiverPort[];
  /** The version mark of its backup; null where there is none. */
  readonly version: string | null;
  /** Names of the sections of its backup; null where no backup was read. */
  readonly sections: readonly string[] | null;
}

export type ReceiverSource = 'backup' | 'paste' | 'typed';

/** One network device, of the new box or of the old. */
export interface ReceiverPort {
  /** As the operating system writes it. */
  readonly name: string;
  /** Hardware address, six octets in lower case between colons; null where it is not told. */
  readonly mac: string | null;
  /** The fastest that the source speaks of, in Mbit/s: what the link runs at or what the card can do. */
  readonly speedMbit: number | null;
  /** What people call the socket. */
  readonly label: string | null;
  /** Whether it had a link when the source was written; null where that is not told. */
  readonly up: boolean | null;
  readonly kind: ReceiverPortKind;
  /** The device that a tagged one stands on; null for others, and where it is not told. */
  readonly parent: string | null;
}

export type ReceiverPortKind = 'physical' | 'aggregate' | 'tagged' | 'other';

/** The receiver with another label on one port; a blank label is none. The same receiver where it has no such port. */
export function withLabel(receiver: Receiver, name: string, label: string | null): Receiver {
  if (!receiver.ports.some((port) => port.name === name)) return receiver;
  const text = label?.trim() || null;
  return { ...receiver, ports: receiver.ports.map((port) => (port.name === name ? { ...port, label: text } : port)) };
}

/** Names that differ in the case of letters only: legal, and easily mistaken. Each later one with the first. */
export function namesLikeAnother(ports: readonly ReceiverPort[]): { name: string; other: string; at: number }[] {
  const seen = new Map<string, string>();
  const found: { name: string; other: string; at: number }[] = [];
  for (const [at, { name }] of ports.entries()) {
    const folded = name.toLowerCase();
    const other = seen.get(folded);
    if (other === undefined) seen.set(folded, name);
    else if (other !== name) found.push({ name, other, at });
  }
  return found;
}
