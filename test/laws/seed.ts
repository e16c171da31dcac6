import type { Parameters } from 'fast-check';

/** Every law runs with this seed and prints it; CARRYOVER_SEED asks for another. */
export const seed = Number(process.env.CARRYOVER_SEED ?? 20_261_125);

export function runs(numRuns: number): Parameters<unknown> {
  console.log(`seed ${seed}, ${numRuns} runs`);
  return { seed, numRuns };
}
