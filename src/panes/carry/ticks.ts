import type { Decision, Plan } from '../../core/index.ts';
import { change } from '../../state/decide.ts';

export type TickState = 'on' | 'some' | 'off';

/**
 * What the plan says about carrying, ready to be asked about a place. Of all that is said about a place and what is
 * around it the nearest counts.
 */
export class Ticks {
  /** True where a place goes along, false where it stays behind. */
  private readonly said = new Map<string, boolean>();
  /** For every path around a place that something is said about: how often each is said. */
  private readonly inside = new Map<string, { on: number; off: number }>();

  constructor(plan: Plan) {
    for (const decision of plan.decisions) {
      if (decision.kind === 'leave-out' || decision.kind === 'keep')
        this.said.set(decision.path, decision.kind === 'keep');
    }
    for (const [path, on] of this.said) {
      for (let at = around(path); at; at = around(at)) {
        const sums = this.inside.get(at) ?? { on: 0, off: 0 };
        sums[on ? 'on' : 'off']++;
        this.inside.set(at, sums);
      }
    }
  }

  /** Whether a place goes along, by the nearest word about it. */
  goes(path: string): boolean {
    for (let at = path; at; at = around(at)) {
      const said = this.said.get(at) ?? this.said.get(at.replace(/\[\d+\]$/, '[*]'));
      if (said !== undefined) return said;
    }
    return true;
  }

  state(path: string): TickState {
    const goes = this.goes(path);
    const inside = this.inside.get(path);
    if (inside && (goes ? inside.off : inside.on)) return 'some';
    return goes ? 'on' : 'off';
  }

  /** Whether it stays behind only because what it lies in does. */
  followsOther(path: string): boolean {
    return !this.goes(path) && this.said.get(path) === undefined;
  }

  /** Subjects of what is said about a place and about what is in it. */
  subjectsIn(path: string): string[] {
    const within = [...this.said.keys()].filter((one) => one === path || one.startsWith(`${path}/`));
    return within.map((one) => `leave-out ${one}`);
  }
}

const around = (path: string): string => path.slice(0, path.lastIndexOf('/'));

const leaveOut = (path: string): Decision => ({ kind: 'leave-out', path });

/** Ticks or clears one place as a whole; what was said about its parts gives way. */
export function tick(ticks: Ticks, path: string, name: string, on: boolean): void {
  const withdrawn = ticks.subjectsIn(path);
  const needsWord = ticks.goes(around(path)) !== on;
  const word: Decision = on ? { kind: 'keep', path } : leaveOut(path);
  change(`${on ? 'Carry' : 'Leave out'} ${name}`, needsWord ? [word] : [], withdrawn);
}

export function leaveOutAll(paths: readonly string[], name: string): void {
  change(name, paths.map(leaveOut));
}
