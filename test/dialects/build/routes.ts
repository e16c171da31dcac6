import type { Model } from '../model.ts';
import type { Coll } from '../records.ts';
import type { Terms } from './terms.ts';

/** Gateways, and the routes that name them. */
export function routeRecords(model: Model, t: Terms): Coll[] {
  const { uid, ref, maybe, text, label, rec, keyFields, tagged, viaField, idWord } = t;
  return [
    {
      concept: 'gw',
      section: 'sec.net',
      tagField: tagged('gw'),
      records: model.gateways.map((g) =>
        rec(uid('gw', g.name), 'gw', [
          ...keyFields('gw', g.name, g.label),
          viaField(ref('role', g.role.name)),
          text('ip', g.ip),
          text('monitor', g.monitor),
          text('metric', String(g.metric)),
        ]),
      ),
    },
    {
      concept: 'route',
      section: 'sec.net',
      tagField: null,
      records: model.routes.map((x, i) =>
        rec(`route:${i}`, 'route', [
          text('network', x.network),
          idWord('gw', 'gatewayNamed', maybe('gw', x.gateway)),
          ...label(x.label),
        ]),
      ),
    },
  ];
}
