import type { AddressSet, Model, Service } from '../model.ts';
import { type Coll, type Field, T, wrap } from '../records.ts';
import type { Terms } from './terms.ts';

/** Named things that rules speak of: address sets, port groups, hours. */
export function objectRecords(model: Model, t: Terms): Coll[] {
  const { d, uid, ref, text, list, rec, keyFields, tagged } = t;
  const colls: Coll[] = [];
  const setEntries = (s: AddressSet): Field[] => {
    const literals = s.entries.flatMap((e) => ('s' in e ? [T(e.s)] : []));
    const nested = s.entries.flatMap((e) => ('set' in e ? [wrap(ref('set', e.set.name), d.setMark)] : []));
    return d.keys.set === 'int'
      ? [list('entries', literals), { ...list('set.ref', nested), compound: ['members', 'set'] }]
      : [list('entries', [...literals, ...nested])];
  };
  const svcEntries = (s: Service): Field[] => {
    const literals = s.entries.flatMap((e) => ('s' in e ? [T(e.s)] : []));
    const nested = s.entries.flatMap((e) => ('service' in e ? [ref('svc', e.service.name)] : []));
    return d.keys.svc === 'int'
      ? [list('entries', literals), { ...list('svc.ref', nested), compound: ['members', 'svc'] }]
      : [list('entries', [...literals, ...nested])];
  };
  colls.push(
    {
      concept: 'set',
      section: 'sec.policy',
      tagField: tagged('set'),
      records: model.sets.map((s) =>
        rec(uid('set', s.name), 'set', [...keyFields('set', s.name, s.label), ...setEntries(s)]),
      ),
    },
    {
      concept: 'svc',
      section: 'sec.policy',
      tagField: tagged('svc'),
      records: model.services.map((s) =>
        rec(uid('svc', s.name), 'svc', [...keyFields('svc', s.name, s.label), ...svcEntries(s)]),
      ),
    },
    {
      concept: 'sched',
      section: 'sec.policy',
      tagField: tagged('sched'),
      records: model.schedules.map((s) =>
        rec(uid('sched', s.name), 'sched', [
          ...keyFields('sched', s.name, s.label),
          text('span', s.span),
          text('days', s.days),
        ]),
      ),
    },
  );
  return colls;
}
