import type { Plan } from '../../core/index.ts';
import { isTick, resultOf } from '../../state/results.ts';

/**
 * What the plan says about carrying, ready to be asked about a place. Of all that is said about a place and what is
 * around it the nearest counts. Of a part nothing goes along but what is ticked.
 */
export class Ticks {
  /** True where a place goes along, false where it stays behind. */
  private readonly said = new Map<string, boolean>();
  private readonly otherwise: boolean;

  constructor(plan: Plan) {
    const whole = resultOf(plan) === 'whole';
    this.otherwise = whole;
    for (const { kind, path } of whole ? plan.decisions.filter(isTick) : plan.part!.ticks)
      this.said.set(path, kind === 'keep');
  }

  /** Whether a place goes along, by the nearest word about it. */
  goes(path: string): boolean {
    for (let at = path; at; at = at.slice(0, at.lastIndexOf('/'))) {
      const said = this.said.get(at) ?? this.said.get(`${at}/record()`) ?? this.said.get(at.replace(/\[\d+\]$/, '[*]'));
      if (said !== undefined) return said;
    }
    return this.otherwise;
  }
}
