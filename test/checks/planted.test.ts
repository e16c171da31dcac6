import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/core/views.ts';
import { FAULTS, faultsIn, plantFault } from '../dialects/faults.ts';
import { generateDialect, isHeldBack, SCHOOL_NAMES } from '../dialects/generate.ts';
import type { Model } from '../dialects/model.ts';
import { findingsOf, opened } from './support.ts';

/** As `faultsIn` tells it. */
function told({ code, params }: Finding): string {
  const { first, last, address, subnet, otherSubnet } = params;
  const bare = (network: unknown) => String(network).split('/')[0]!;
  if (code.startsWith('pool-')) return `${code} ${first} ${last}`;
  if (code === 'subnets-overlap') return [code, ...[bare(subnet), bare(otherSubnet)].sort()].join(' ');
  return `${code} ${address}`;
}

const SEEDS = Array.from({ length: 24 }, (_, at) => at + 1).filter((seed) => !isHeldBack(seed));

/** A box of one school with one fault, by what is wrong with it and what was found. */
function planted(school: string, seed: number) {
  const fault = FAULTS[(seed + SCHOOL_NAMES.indexOf(school)) % FAULTS.length]!;
  let box: Model | null = null;
  const { bytes } = generateDialect(seed, {
    school,
    change: (model, rng) => {
      plantFault(model, fault, rng);
      box = model;
    },
  });
  const found = findingsOf(opened(bytes)).filter(({ code }) => FAULTS.some((one) => one === code));
  return {
    wrong: [...faultsIn(box!, ({ enabled }) => enabled)],
    // Where nothing that is understood says that a role is off, it counts as on.
    may: faultsIn(box!, () => true),
    found: found.map(told),
  };
}

// The judge is the invented box that the file is written from, by arithmetic of its own; what each fault rests on says
// src/words/grounds.ts.
describe('faults of addresses in every school of writing', { timeout: 120_000 }, () => {
  const all = { wrong: 0, found: 0 };
  it.each(SCHOOL_NAMES)('%s: none invented, few missed', (school) => {
    const sum = { wrong: 0, found: 0 };
    for (const seed of SEEDS) {
      const { wrong, may, found } = planted(school, seed);
      expect([seed, found.filter((one) => !may.has(one))]).toEqual([seed, []]);
      sum.wrong += wrong.length;
      sum.found += wrong.filter((one) => found.includes(one)).length;
    }
    all.wrong += sum.wrong;
    all.found += sum.found;
    expect(sum.wrong).toBeGreaterThan(SEEDS.length / 2);
    expect(sum.found / sum.wrong).toBeGreaterThan(0.8);
  });

  it('over all schools: hardly any missed', () => {
    expect(all.found / all.wrong).toBeGreaterThan(0.9);
  });
});
