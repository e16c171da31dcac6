import { fieldsByShape } from '../fields/by-shape.ts';
import { TokenSet } from '../names/tokens.ts';
import type { Given } from '../references/facts.ts';
import type { Target } from '../references/references.ts';
import { tierOf } from '../references/score.ts';

/** Fewer places, or numbers, may be of records that are gone. */
const LEAST_PLACES = 3;
const LEAST_NUMBERS = 2;
/** Share of the places left over whose numbers are there. */
const NEARLY_ALL = 0.75;
/** Likely: nothing but the field beside tells. */
const ODDS = 0.5;

/**
 * Where each kind counts by itself, a field may name two kinds by their numbers: networks, and sets beside these. What is left
 * over of its numbers, again and again, names the records that another field beside surely names, where nearly all of it is there.
 */
export function withLeftovers(results: readonly Target[][], { fields, readers }: Given): Target[][] {
  const isSure = ({ odds, key }: Target) => key.kind === 'integer' && tierOf(odds) === 'certain';
  let byShape: ReturnType<typeof fieldsByShape> | null = null;
  return results.map((list, index) => {
    const field = fields[index]!;
    const [top] = list;
    if (!top || tierOf(top.odds) !== 'certain' || field.rowShape === -1) return list;
    const mixed = top.key.kind !== 'integer';
    const { counts } = readers[index]!;
    const left: number[] = [];
    let places = 0;
    for (let token = 0; token < counts.size; token++) {
      if (counts.kinds[token] !== 'integer' || list.some(({ odds, tokens }) => odds >= 0 && tokens.has(token)))
        continue;
      left.push(token);
      places += counts.times[token]!;
    }
    if (left.length === 0 || (!mixed && (places < LEAST_PLACES || left.length < LEAST_NUMBERS))) return list;
    byShape ??= fieldsByShape(fields);
    // Among names a number tells by itself, where both fields name the same records by these.
    const beside = (byShape.get(field.rowShape) ?? []).filter(
      (other) => other !== field && (!mixed || results[other.index]!.some(({ key }) => key === top.key)),
    );
    for (const target of beside.flatMap((other) => results[other.index]!.filter(isSure))) {
      if (list.some(({ key }) => key.shape === target.key.shape)) continue;
      const numbers = new Set(target.key.field.distinct);
      const found = left.filter((token) => numbers.has(counts.tokens[token]!));
      const held = found.reduce((sum, token) => sum + counts.times[token]!, 0);
      if (mixed ? left.length > found.length + 1 : found.length < LEAST_NUMBERS || held < places * NEARLY_ALL) continue;
      const evidence = { ...target.evidence, hits: found.length, beside: true };
      return [
        ...list,
        {
          ...target,
          odds: mixed ? target.odds : ODDS,
          evidence,
          tokens: new TokenSet(found, counts.size),
          total: found.length,
        },
      ];
    }
    return list;
  });
}
