import type { PortMention, Reading } from '../../reading/reading.ts';
import { MAX_DEVICE_NAME } from '../../values/device-name.ts';
import type { Repair } from '../../views.ts';
import { once } from '../facts/once.ts';
import type { CheckInput } from '../input.ts';
import { setTo } from './repairs.ts';

const hasLonger = once(
  ({ mentions }: Reading) => mentions.some(({ value }) => value.length > MAX_DEVICE_NAME),
  ({ mentions }) => mentions,
);

/** Names with a slash or a blank are none of these systems' (from memory), and a box that has longer ones runs another. */
export const isTooLong = ({ donor }: Pick<CheckInput, 'donor'>, name: string): boolean =>
  name.length > MAX_DEVICE_NAME && !/[/\s]/.test(name) && !hasLonger(donor);

/** `enp101s0f3np1` in letters with their numbers. */
const groups = /\D*\d+/g;

/** Shorter names for tagged devices whose port is called longer, each free and none given twice. */
export class ShortNames {
  private readonly taken: Set<string>;
  private readonly mentions = new Map<string, PortMention[]>();

  constructor(private readonly input: CheckInput) {
    const { reading, devices, receiver } = input;
    for (const mention of reading.mentions) {
      const list = this.mentions.get(mention.value);
      if (list) list.push(mention);
      else this.mentions.set(mention.value, [mention]);
    }
    this.taken = new Set([...[...this.mentions.keys()].map((device) => devices.renamed(device)), ...(receiver ?? [])]);
  }

  /**
   * One that begins like the port and ends like the old one, in every place that names the device. Nothing where no record
   * of the file says what the device is called: there the name itself says the port and the VLAN.
   */
  for(device: string, { port, portAt }: PortMention): Repair[] {
    const { devices } = this.input;
    const below = devices.below(device);
    const record = below && devices.record(below.port, below.tag)?.record;
    if (!record?.spots.some(({ holds }) => holds === 'device')) return [];
    const suffix = device.slice(portAt + port.length);
    const to = [`${cut(devices.renamed(port), MAX_DEVICE_NAME - suffix.length)}${suffix}`, `vlan${below!.tag}`].find(
      (name) => name.length <= MAX_DEVICE_NAME && !name.startsWith(suffix) && !this.taken.has(name),
    );
    if (to === undefined) return [];
    this.taken.add(to);
    const places = this.mentions.get(device) ?? [];
    return setTo(
      this.input,
      'shorten-name',
      { to, count: places.length },
      places.map(({ site, from }) => ({ site, value: to, was: device, from })),
    );
  }
}

/** The first groups of a name that have room. */
function cut(name: string, room: number): string {
  let short = '';
  for (const [group] of name.matchAll(groups)) {
    if (short.length + group.length > room) break;
    short += group;
  }
  return short;
}
