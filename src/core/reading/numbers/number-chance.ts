import { largestOf } from '../../lists.ts';
import type { Table } from './number-tables.ts';

/** Numbers that may be one of the records', present or gone; others beside them are counts, ports and the like. */
export class Reach {
  constructor(
    readonly low: number,
    readonly high: number,
    /** True where each kind of record counts by itself: that others have a number says nothing. */
    readonly apart: boolean,
    /** Numbers that are gone whichever of several kinds of record is meant; null where the kind is known. */
    readonly nowhere: ReadonlySet<string> | null = null,
  ) {}

  includes(number: string): boolean {
    return Number(number) >= this.low && Number(number) <= this.high;
  }
}

/** Numbers this far from the first and the last of one count may have been of records that are gone. */
const GONE = 16;

/** Hardly a service has a port up to here (IANA registry of service names and port numbers). */
const NO_PORT = 19;
const SELDOM = 0.005;

/** What a number among those of the records says at most, for them and against them, in nats. */
const TELLING = 4.5;
const AGAINST = -2;
/** What all of them say together at most. */
const ENOUGH = 8;

/**
 * How often a plain number is this one: small ones are the more frequent the smaller (as Benford's law has it for first
 * digits), and below 1024 stand the ports of services. Common practice, no source for the rates.
 */
function plainRate(number: number): number {
  if (number < 1) return 0.2;
  return number < 256 ? 0.25 / number : number < 1024 ? 1 / 1024 : 1 / number;
}

/** The same of lengths of prefixes, where all numbers may be such. */
const PREFIX = 0.04;
export const mayBePrefix = (number: string) => Number(number) >= 8 && Number(number) <= 32;

/**
 * How much likelier these numbers are as names of records than as plain numbers, in nats: the first ones are named most.
 * @param ports true where they would be ports, as others beside them are.
 */
export function likelier(numbers: readonly string[], order: ReadonlyMap<string, number>, ports = false): number {
  const { size } = order;
  const prefixes = numbers.every(mayBePrefix);
  const all = Math.max(1, Math.log(size) + 0.58);
  let sum = 0;
  for (const number of numbers) {
    const named = 0.5 / size + 0.5 / (order.get(number)! * all);
    const plain = prefixes ? PREFIX : ports && Number(number) <= NO_PORT ? SELDOM : plainRate(Number(number));
    sum += Math.max(AGAINST, Math.min(TELLING, Math.log(named / plain)));
  }
  return Math.min(ENOUGH, sum);
}

/**
 * @param whole the kinds of record that one count goes through.
 * @param ports true where other numbers stand beside the records', so that none can be said to be gone.
 */
export function reachOf(table: Table, whole: readonly Table[], ports = false): Reach {
  let [low, high] = [Infinity, -Infinity];
  for (const { values, vlans } of table.counted ? whole : [table]) {
    // VLAN IDs are chosen: where one stands before a count by chance, what lies between is not of it.
    if (vlans && !table.vlans) continue;
    for (const value of values) {
      low = Math.min(low, Number(value));
      high = Math.max(high, Number(value));
    }
  }
  if (!table.counted) return new Reach(Math.min(1, low), ports ? Math.max(high, NO_PORT) : Infinity, true);
  const beyond = ports ? 0 : GONE;
  return new Reach(low - beyond, high + beyond, false);
}

/** Less likely kinds of record are not meant. */
const MEANT = 3;
/** Log-odds of each of several kinds of record that may be meant: none is more than possible. */
const ONE_OF_SEVERAL = -0.5;

/** Of a field that names records by its name, where several kinds are as likely: the same for each. */
export function oneOfSeveral(numbers: ReadonlySet<string>, kinds: readonly { table: Table; odds: number }[]): Fit {
  const best = largestOf(kinds.map(({ odds }) => odds));
  const likely = kinds.filter(({ odds }) => odds > best - MEANT);
  const nowhere = [...numbers].filter((number) => !likely.some(({ table }) => table.values.has(number)));
  return { odds: ONE_OF_SEVERAL, reach: new Reach(-Infinity, Infinity, true, new Set(nowhere)) };
}

/** That a field names some records by their number. */
export interface Fit {
  /** Log-odds by all fields of the name. */
  readonly odds: number;
  readonly reach: Reach;
}
