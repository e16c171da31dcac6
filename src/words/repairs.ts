import type { Repair, RepairCode } from '../core/index.ts';
import type { Params } from './findings.ts';
import { count, number } from './numbers.ts';
import { type Said, say, value } from './said.ts';

const words: Record<RepairCode, (params: Params) => Said> = {
  trim: () => say`Take the blanks away`,
  'join-lines': () => say`Put it on one line`,
  'remove-unseen': () => say`Take them out`,
  'name-nearest': ({ to }) => say`Name ${value(to)}`,
  'name-as-written': ({ to }) => say`Write ${value(to)}`,
  'rename-record': ({ name, to, count: uses }) =>
    Number(uses ?? 0) > 0
      ? say`Rename ${value(name)} to ${value(to)}, and in ${count(Number(uses), 'place')}`
      : say`Rename ${value(name)} to ${value(to)}`,
  'spell-usual': ({ to, count: all }) =>
    Number(all ?? 1) > 1 ? say`Spell all ${number(Number(all))} as usual` : say`Write ${value(to)}`,
  'hardware-like-others': ({ to }) => say`Write ${value(to)}`,
  'host-name-plain': ({ to }) => say`Write ${value(to)}`,
  'frame-as-parent': ({ to }) => say`Make it ${value(to)}`,
  'host-bits-off': ({ to }) => say`Write ${value(to)}`,
  'swap-ends': () => say`Swap both ends`,
  'shrink-pool': ({ first, last }) =>
    first === undefined
      ? say`End it at ${value(last)}`
      : last === undefined
        ? say`Begin it at ${value(first)}`
        : say`Make it ${value(first)} to ${value(last)}`,
  'leave-out': ({ too, name }) =>
    too ? say`Leave this out too` : name ? say`Leave ${value(name)} out` : say`Leave it out`,
  'leave-out-other': ({ name }) => (name ? say`Leave ${value(name)} out` : say`Leave the other out`),
  'empty-value': () => say`Empty it`,
  carry: ({ name }) => (name ? say`Take ${value(name)} along` : say`Take it along`),
  'rename-port': ({ name, to }) => say`Put ${value(name)} on ${value(to)}`,
  'shorten-name': ({ to, count: places }) =>
    Number(places ?? 1) > 1
      ? say`Call it ${value(to)}, in all ${number(Number(places))} places`
      : say`Call it ${value(to)}`,
  'follow-port': ({ to }) => say`Write ${value(to)}`,
  'take-back': ({ name }) => (name ? say`Put ${value(name)} back` : say`Take it back`),
};

/** What a repair does, for its button. */
export const repairWords = ({ code, params }: Pick<Repair, 'code' | 'params'>): Said => words[code](params);

/** Every code that has words, for tests. */
export const repairCodes = Object.keys(words) as RepairCode[];
