import { emptyPlan, type Plan, planOf } from '../core/index.ts';
import type { Desk } from './protocol.ts';

const ROUNDS = 10;
/** The first rounds are short, so that no call keeps anybody waiting while all of it is slow. */
const SHORT = 4;
/** So many times the lists are repeated in every other round after that: long lists take other ways through the code. */
const TIMES = 64;

/**
 * Opens a backup again and again, decides a few things on it and makes the result, as a technician would. A browser
 * compiles only what has run often, and the first file would pay for that: as much as reading 10 MB does later. Between
 * two calls it looks whether to go on, so whatever comes in waits for one call at most.
 *
 * @param desk that nothing else uses.
 * @param text a backup in the dialect of the plain example.
 */
export async function practise(desk: Desk, text: string, goesOn: () => boolean): Promise<void> {
  const long = longer(text, TIMES);
  for (let round = 0; round < ROUNDS; round++) {
    const isShort = round < SHORT || round % 2 === 1;
    for (const call of calls(desk, isShort ? text : long)) {
      await new Promise((resume) => setTimeout(resume));
      if (!goesOn()) return;
      await call();
    }
  }
}

function calls(desk: Desk, text: string): readonly (() => Promise<unknown>)[] {
  return [
    () => desk.open(new TextEncoder().encode(text).buffer, 'practice.xml', () => {}),
    () => desk.view(emptyPlan),
    () => desk.view(plan),
    () => desk.carryLists(plan, null),
    () => desk.build(plan),
  ];
}

/** What is decided on the practice backup. */
export const plan: Plan = planOf([
  { kind: 'rename-port', from: 'igb0', to: 'igc0' },
  { kind: 'leave-out', path: '/site-record[1]/traffic-rules[1]/rule[2]' },
  { kind: 'set-value', path: '/site-record[1]/address-books[1]/book[1]/@name', value: 'practice' },
]);

/** The backup with its lists repeated under names of their own. */
export function longer(text: string, times: number): string {
  const lists = /<(networks|address-books|service-books|traffic-rules|leases|people|fixed-routes)>([\s\S]*?)<\/\1>/g;
  return text.replace(lists, (_, tag, records) => {
    const copy = (_: unknown, at: number) =>
      at === 0 ? records : records.replace(/ (name|code|id|login|network)="([^"]*)"/g, ` $1="$2-${at}"`);
    return `<${tag}>${Array.from({ length: times }, copy).join('')}</${tag}>`;
  });
}
