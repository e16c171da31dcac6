import type { Dialect } from '../dialect.ts';
import type { Model } from '../model.ts';
import type { Doc } from '../records.ts';
import type { Rng } from '../rng.ts';
import { networkRecords } from './network.ts';
import { objectRecords } from './objects.ts';
import { policyRecords } from './policy.ts';
import { serviceRecords } from './services.ts';
import { singleRecords } from './singles.ts';
import { termsOf } from './terms.ts';
import { trustRecords } from './trust.ts';

/** The model in the terms of one dialect, before any layout. */
export function buildRecords(model: Model, d: Dialect, root: Rng): Doc {
  const t = termsOf(model, d, root);
  const colls = [
    ...networkRecords(model, t),
    ...objectRecords(model, t),
    ...policyRecords(model, t),
    ...serviceRecords(model, t),
    ...trustRecords(model, t),
  ].filter((c) => c.records.length > 0);
  return {
    singles: singleRecords(model, t),
    colls,
    keyText: (id) => {
      const key = t.keys.get(id);
      if (key === undefined) throw new Error(`no key for ${id}`);
      return key;
    },
    optionalValues: [...new Set(t.optionalValues)],
  };
}
