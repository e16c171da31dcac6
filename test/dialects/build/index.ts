import type { Dialect } from '../dialect.ts';
import type { Met } from '../meeting.ts';
import type { Model } from '../model.ts';
import type { Doc } from '../records.ts';
import type { Rng } from '../rng.ts';
import { meetingRecords } from './meeting.ts';
import { networkRecords } from './network.ts';
import { objectRecords } from './objects.ts';
import { policyRecords } from './policy.ts';
import { routeRecords } from './routes.ts';
import { serviceRecords } from './services.ts';
import { singleRecords } from './singles.ts';
import { termsOf } from './terms.ts';
import { trustRecords } from './trust.ts';

/**
 * The model in the terms of one dialect, before any layout.
 * @param met in which of the further ways networks meet ports, null for the usual ones.
 */
export function buildRecords(model: Model, d: Dialect, root: Rng, met: Met | null = null): Doc {
  const t = termsOf(model, d, root);
  const colls = [
    ...(met ? meetingRecords(model, t, met, root.fork('meeting records')) : networkRecords(model, t)),
    ...routeRecords(model, t),
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
    vlans: model.roles.flatMap((role) => (role.vlan ? [{ role: t.roleName(role), tag: role.vlan.tag }] : [])),
  };
}
