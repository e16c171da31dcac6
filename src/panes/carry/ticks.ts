import type { Decision, Plan } from '../../core/index.ts';
import { change } from '../../state/decide.ts';

export type TickState = 'on' | 'some' | 'off';

/** Paths that the plan leaves out, ready to be asked about a place: itself, what is around it, what is in it. */
export class LeftOut {
  readonly paths: ReadonlySet<string>;
  /** Every path around one that is left out. */
  private readonly around = new Set<string>();

  constructor(plan: Plan) {
    this.paths = new Set(plan.decisions.flatMap((decision) => (decision.kind === 'leave-out' ? [decision.path] : [])));
    for (const path of this.paths) {
      for (let at = path.lastIndexOf('/'); at > 0; at = path.lastIndexOf('/', at - 1))
        this.around.add(path.slice(0, at));
    }
  }

  /** The path, at or around this one, that is left out; null for none. */
  holder(path: string): string | null {
    for (let at = path; at; at = at.slice(0, at.lastIndexOf('/'))) if (this.paths.has(at)) return at;
    return null;
  }

  state(path: string): TickState {
    if (this.holder(path)) return 'off';
    return this.around.has(path) ? 'some' : 'on';
  }

  /** Subjects of the decisions at a path and inside it. */
  subjectsIn(path: string): string[] {
    return [...this.paths].filter((one) => one === path || one.startsWith(`${path}/`)).map((one) => `leave-out ${one}`);
  }
}

const leaveOut = (path: string): Decision => ({ kind: 'leave-out', path });

/** Ticks or clears one place as a whole; decisions inside it give way. */
export function tick(left: LeftOut, path: string, name: string, on: boolean): void {
  const inside = left.subjectsIn(path);
  if (on) change(`Carry ${name}`, [], inside);
  else change(`Leave out ${name}`, [leaveOut(path)], inside);
}

export function leaveOutAll(paths: readonly string[], name: string): void {
  change(name, paths.map(leaveOut));
}
