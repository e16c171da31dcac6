import { type CarryWindowQuery, newPart, type Part, type Plan, resultOf, withPart } from '../core/index.ts';
import { changePlan } from './decide.ts';
import { describe } from './new-box.ts';
import { follow, type Source, working } from './open.ts';
import { useDesk } from './session.ts';

const { getState, setState } = useDesk;

const present = (): Plan => getState().history.present.plan;

/** Ticks wait for the ones before, since each begins where the last one ended. */
let last: Promise<void> = Promise.resolve();

/** Ticks rows of the carry sheet or clears them, as one step; with their needs, also all that they need in the end. */
export function tickRows(name: string, ids: readonly string[], carried: boolean, withNeeds = false): Promise<void> {
  const mine = last.then(() => tickNow(name, ids, carried, withNeeds));
  last = mine.catch(() => {});
  return mine;
}

/** Where something else was decided meanwhile, the ticks are worked out again on top of it. */
async function tickNow(name: string, ids: readonly string[], carried: boolean, withNeeds: boolean): Promise<void> {
  const before = present();
  const next = await working().tick(before, ids, carried, withNeeds);
  if (present() !== before) return tickNow(name, ids, carried, withNeeds);
  if (JSON.stringify(next) !== JSON.stringify(before)) changePlan(name, next);
}

const names = { whole: 'the whole file', ticked: 'only what is ticked', graft: 'a graft into the new box’s backup' };

/** What is to come out. Each starts from its own ticks; the others wait. */
export function askFor(result: Part['result']): void {
  const plan = present();
  if (resultOf(plan) !== result) changePlan(`Make ${names[result]}`, withPart(plan, { result }));
}

export const changePart = (name: string, change: Partial<Part>): void => changePlan(name, withPart(present(), change));

/** What is said of a graft so far. */
export const partOf = (plan: Plan): Part => plan.part ?? newPart;

/**
 * Reads the backup that a graft goes into; where the new box was not described yet, it is by this. One that is refused
 * leaves the one before in its place.
 */
export async function receive(source: Source): Promise<void> {
  const desk = working();
  const arriving = { name: source.name, trouble: null };
  setState({ arriving });
  const isLate = () => getState().arriving !== arriving;
  try {
    const read = await desk.receive(await source.bytes(), source.name, () => {});
    if (isLate()) return;
    if (!read.ok) return setState({ arriving: { ...arriving, trouble: read.trouble } });
    const { mark, box } = read.value!;
    setState({ into: mark, arriving: null });
    const { newBox } = getState();
    if (box && newBox === null) describe({ receiver: box, from: source.name, safe: true, backup: source });
    else {
      if (newBox) setState({ newBox: { ...newBox, backup: source } });
      follow();
    }
  } catch (error) {
    if (!isLate()) setState({ arriving: null });
    throw error;
  }
}

export async function putAway(): Promise<void> {
  const { newBox } = getState();
  setState({ into: null, arriving: null, newBox: newBox && { ...newBox, backup: null } });
  await working().receive(null, '', () => {});
  follow();
}

export const account = (plan: Plan) => working().account(plan);
export const carryWindow = (plan: Plan, query: CarryWindowQuery) => working().carryWindow(plan, query);
export const carryLists = (plan: Plan) => working().carryLists(plan, getState().newBox?.receiver ?? null);
export const carryDetail = (plan: Plan, id: string) => working().carryDetail(plan, id);
export const tryValue = (plan: Plan, path: string, value: string) => working().tryValue(plan, path, value);
export const graftChanges = (plan: Plan) => working().graftChanges(plan);
export const compareGraft = (plan: Plan, section: string, limit: number) =>
  working().compareGraft(plan, section, limit);
export const graft = (plan: Plan) => working().graft(plan);
