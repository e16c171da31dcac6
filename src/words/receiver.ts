import type { DevicesRead, PasteShape, ReceiverPort, SuggestBy, Suggestion } from '../core/index.ts';
import { number } from './numbers.ts';
import { type Said, say, value } from './said.ts';

const shapes: Record<PasteShape, string> = {
  'ip-json': 'what “ip -j link” prints',
  'ip-long': 'what “ip link” or “ip addr” prints',
  'ip-brief': 'what “ip -br link” or “ip -br addr” prints',
  ifconfig: 'what “ifconfig -a” prints',
  'boot-log': 'messages of a system that starts',
  'ifconfig-list': 'what “ifconfig -l” prints',
  'typed-list': 'a list of names',
};

/** What a paste was taken for. */
export const shapeWords = (shape: PasteShape): string => shapes[shape];

const whys: Record<DevicesRead['ignored'][number]['why'], string> = {
  loopback: 'the box itself, no socket',
  tunnel: 'a tunnel, made from the settings',
  alias: 'a second address on a port',
  'no-hardware': 'no hardware behind it',
};

/** Why a device of a paste is no port. */
export const ignoredWords = (why: DevicesRead['ignored'][number]['why']): string => whys[why];

/** `100 M`, `2.5 G`, `10 G`; empty where the speed is not told. */
export function speedWords(mbit: number | null): string {
  if (mbit === null) return '';
  return mbit < 1000 ? `${mbit} M` : `${number(mbit / 1000)} G`;
}

export const kindWords: Record<ReceiverPort['kind'], string> = {
  physical: '',
  aggregate: 'aggregate',
  tagged: 'tagged device',
  other: 'other device',
};

export const suggestNames: Record<SuggestBy, string> = {
  order: 'by order',
  speed: 'by speed',
  label: 'by label',
  'hardware-address': 'by MAC',
};

/** Why a way of suggesting has nothing to offer. */
export function nothingBy(by: SuggestBy, old: readonly ReceiverPort[], fresh: readonly ReceiverPort[]): string {
  const has = (ports: readonly ReceiverPort[], test: (port: ReceiverPort) => boolean) => ports.some(test);
  const [what, test]: [string, (port: ReceiverPort) => boolean] =
    by === 'speed'
      ? ['speed', ({ speedMbit }) => speedMbit !== null]
      : by === 'label'
        ? ['label', ({ label }) => label !== null]
        : by === 'hardware-address'
          ? ['MAC', ({ mac }) => mac !== null]
          : ['port of one kind', ({ kind }) => kind === 'physical' || kind === 'aggregate'];
  if (!has(old, test)) return `the old backup tells no ${what}`;
  if (!has(fresh, test)) return `the new box’s description tells no ${what}`;
  return by === 'speed' ? 'no port of the new box is fast enough' : `no ${what} is on both sides, once each`;
}

/** What speaks for a pair. */
export function reasonOf({ reason }: Suggestion): Said {
  switch (reason.by) {
    case 'order':
      return say`number ${reason.place} on both boxes`;
    case 'speed':
      return reason.fromMbit === reason.toMbit
        ? say`${speedWords(reason.fromMbit)} on both`
        : say`${speedWords(reason.fromMbit)} onto ${speedWords(reason.toMbit)}`;
    case 'label':
      return say`labelled ${value(reason.label)}`;
    case 'hardware-address':
      return say`has ${value(reason.mac)} on both`;
    default:
      return reason satisfies never;
  }
}
