import { localName } from '../fields/fields.ts';
import type { Structure } from './structure.ts';

/** Elements of one name that hold so many kinds of record are lists, whatever they are called. */
const MANY = 4;

const known = new WeakMap<Structure, ReadonlySet<string>>();

/** Names that only say that something is a list: `list` in `people/list/person` and `doors/list/door`. */
function listNames(structure: Structure): ReadonlySet<string> {
  let names = known.get(structure);
  if (!names) {
    const { shapes } = structure;
    const counts = new Map<string, number>();
    for (const { step, above, below } of shapes)
      if (above !== -1 && step !== '*' && below.some((one) => shapes[one]!.repeated))
        counts.set(step, (counts.get(step) ?? 0) + 1);
    names = new Set([...counts].filter(([, count]) => count >= MANY).map(([name]) => name));
    known.set(structure, names);
  }
  return names;
}

/** The shape that says what a kind of record is held by: the one above, or above the list that it lies in; -1 for none. */
export function holderOf(structure: Structure, shape: number): number {
  const names = listNames(structure);
  let { above } = structure.shapes[shape]!;
  while (above !== -1 && names.has(structure.shapes[above]!.step)) above = structure.shapes[above]!.above;
  return above;
}

/** True for what a list of something is called: `ports`, `port-list` and `portList` are lists of what is called `port`. */
export const isListOf = (list: string, item: string): boolean =>
  item.length > 1 && list.startsWith(item) && /^(?:\p{Ll}{1,2}$|[-_.\p{Lu}])/u.test(list.slice(item.length));

/** What a step says that its nodes are: `vlan` of `row{vlan}`, and `row`. */
export const namesIn = (step: string): string[] =>
  step === '*' ? [] : step.split(/[{}[\]]/).flatMap((name) => (name === '' ? [] : [localName(name)]));
