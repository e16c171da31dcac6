import type { Receiver, ReceiverPort } from './receiver.ts';

/** What a suggestion goes by. */
export type SuggestBy = 'order' | 'speed' | 'label' | 'hardware-address';

/** One old port and the new one that it could go to: for the technician to take or leave. */
export interface Suggestion {
  readonly from: string;
  readonly to: string;
  readonly reason: SuggestReason;
}

export type SuggestReason =
  /** Both are the nth of their kind, from 1. */
  | { readonly by: 'order'; readonly place: number }
  /** The new port runs at the old one's speed, or else at the next one above. */
  | { readonly by: 'speed'; readonly fromMbit: number; readonly toMbit: number }
  | { readonly by: 'label'; readonly label: string }
  | { readonly by: 'hardware-address'; readonly mac: string };

/**
 * Pairs of old ports and new ones; never one port twice on either side. Sockets go onto sockets and aggregates onto
 * aggregates; what stands on them goes along and is not named here. A port that nothing speaks for is left out.
 * @param donorPorts in the order that counts for `order`: see portsOfBackup.
 */
export function suggest(by: SuggestBy, donorPorts: readonly ReceiverPort[], receiver: Receiver): Suggestion[] {
  const old = unique(donorPorts);
  const fresh = unique(receiver.ports);
  return (['physical', 'aggregate'] as const).flatMap((kind) =>
    methods[by](
      old.filter((port) => port.kind === kind),
      fresh.filter((port) => port.kind === kind),
    ),
  );
}

type Method = (old: readonly ReceiverPort[], fresh: readonly ReceiverPort[]) => Suggestion[];

const methods: Record<SuggestBy, Method> = {
  order: (old, fresh) =>
    old
      .slice(0, fresh.length)
      .map(({ name }, at) => ({ from: name, to: fresh[at]!.name, reason: { by: 'order', place: at + 1 } })),
  speed: bySpeed,
  label: (old, fresh) => paired(old, fresh, labelKey, (from) => ({ by: 'label', label: from.label! })),
  'hardware-address': (old, fresh) =>
    paired(
      old,
      fresh,
      ({ mac }) => mac,
      (from) => ({ by: 'hardware-address', mac: from.mac! }),
    ),
};

/** Of two ports of one name the first; neither a reading nor a receiver has two. */
function unique(ports: readonly ReceiverPort[]): ReceiverPort[] {
  const names = new Set<string>();
  return ports.filter(({ name }) => !names.has(name) && names.add(name));
}

/** Letters and digits of a label, without regard to case: `WAN 1` is `wan-1`. Labels without any are no labels. */
const labelKey = ({ label }: ReceiverPort): string | null =>
  label
    ?.normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '') || null;

/** Ports that alone have something on both sides; what two ports of one side have tells nothing. */
function paired(
  old: readonly ReceiverPort[],
  fresh: readonly ReceiverPort[],
  keyOf: (port: ReceiverPort) => string | null,
  reason: (from: ReceiverPort) => SuggestReason,
): Suggestion[] {
  const known = byKey(fresh, keyOf);
  return [...byKey(old, keyOf)].flatMap(([key, from]) => {
    const to = known.get(key);
    return from && to ? [{ from: from.name, to: to.name, reason: reason(from) }] : [];
  });
}

function byKey(ports: readonly ReceiverPort[], keyOf: (port: ReceiverPort) => string | null) {
  const map = new Map<string, ReceiverPort | null>();
  for (const port of ports) {
    const key = keyOf(port);
    if (key !== null) map.set(key, map.has(key) ? null : port);
  }
  return map;
}

/**
 * Equal speeds first, in order; then each port that is left, the fastest first, onto the slowest free one that is no
 * slower, so that no link gets slower by it.
 */
function bySpeed(old: readonly ReceiverPort[], fresh: readonly ReceiverPort[]): Suggestion[] {
  const free = new Map<number, ReceiverPort[]>();
  for (const port of fresh) {
    if (port.speedMbit === null) continue;
    const list = free.get(port.speedMbit);
    if (list) list.push(port);
    else free.set(port.speedMbit, [port]);
  }
  for (const list of free.values()) list.reverse();
  const to = new Map<string, ReceiverPort>();
  const put = (from: ReceiverPort, speed: number) => {
    const port = free.get(speed)?.pop();
    if (port) to.set(from.name, port);
    return port !== undefined;
  };
  const known = old.filter((port) => port.speedMbit !== null);
  const left = known.filter((from) => !put(from, from.speedMbit!));
  const speeds = [...free.keys()].sort((a, b) => a - b);
  for (const from of left.sort((a, b) => b.speedMbit! - a.speedMbit!)) {
    const speed = speeds.find((one) => one > from.speedMbit! && free.get(one)!.length > 0);
    if (speed !== undefined) put(from, speed);
  }
  return known.flatMap(({ name, speedMbit }) => {
    const port = to.get(name);
    return port
      ? [{ from: name, to: port.name, reason: { by: 'speed', fromMbit: speedMbit!, toMbit: port.speedMbit! } }]
      : [];
  });
}
