import type { Kind } from '../dialect.ts';
import type { End, Model } from '../model.ts';
import { type Coll, type Field, type Rec, T, type Token, wrap } from '../records.ts';
import type { Terms } from './terms.ts';

/** Rules and translations. */
export function policyRecords(model: Model, t: Terms): Coll[] {
  const { d, keys, uid, goneText, ref, maybe, f, text, list, flag, enabled, label, rec, viaField, idWord } = t;
  const colls: Coll[] = [];
  const endTokens = (ends: readonly End[], negate: boolean): Token[] => {
    const not = negate && d.negation !== 'field' ? d.negation : { pre: '', post: '' };
    return ends.flatMap((e) => {
      switch (e.t) {
        case 'any':
          return d.any === null ? [] : [T(d.any)];
        case 'self':
          return [T(d.self)];
        case 'literal':
          return [wrap(T(e.s), not)];
        case 'net':
          return [wrap(wrap(ref('role', e.role.name), d.netOf), not)];
        case 'addr':
          return [wrap(wrap(ref('role', e.role.name), d.addressOf), not)];
        case 'set':
          return [wrap(wrap(ref('set', e.set.name), d.setMark), not)];
        case 'gone': {
          const kind = e.kind;
          const t: Token = { pre: '', post: '', s: goneText(kind, e.s), gone: kind };
          return [wrap(wrap(t, kind === 'set' ? d.setMark : d.netOf), not)];
        }
        default:
          return e satisfies never;
      }
    });
  };
  const endFields = (
    side: 'source' | 'dest',
    ends: readonly End[],
    negate: boolean,
    id: string,
  ): { fields: Field[]; single: Rec | null } => {
    const flags = negate && d.negation === 'field' ? flag(side === 'source' ? 'negsrc' : 'negdst', true) : [];
    if (d.ends === 'one')
      return { fields: [{ ...list(side, endTokens(ends, negate)), list: ends.length > 1 }, ...flags], single: null };
    const of = (kinds: readonly End['t'][]): Token[] =>
      endTokens(
        ends.filter((e) => kinds.includes(e.t)),
        negate,
      );
    const roles = ends.filter((e) => e.t === 'net' || e.t === 'addr' || (e.t === 'gone' && e.kind === 'role'));
    const roleTokens = roles.flatMap((e) =>
      e.t === 'net' || e.t === 'addr' ? [ref('role', e.role.name)] : endTokens([e], false),
    );
    const sets = ends.filter((e) => e.t === 'set' || (e.t === 'gone' && e.kind === 'set'));
    const setTokens = sets.flatMap((e) =>
      e.t === 'set'
        ? [ref('set', e.set.name)]
        : e.t === 'gone'
          ? [{ pre: '', post: '', s: goneText('set', e.s), gone: 'set' as Kind }]
          : [],
    );
    const literals = of(['literal', 'any', 'self']);
    if (d.ends === 'nested') {
      const inner: Field[] = [f('via', ...roleTokens), f('set.ref', ...setTokens), f('address', ...literals)].map(
        (x) => (x.concept === 'set.ref' ? { ...x, compound: ['set'] } : x),
      );
      return { fields: flags, single: rec(`${id}/${side}`, side, inner) };
    }
    return {
      fields: [
        {
          concept: `${side}.role`,
          compound: [side, 'role', ...(d.keys.role === 'int' ? ['id'] : [])],
          tokens: roleTokens,
        },
        { concept: `${side}.set`, compound: [side, 'set', ...(d.keys.set === 'int' ? ['id'] : [])], tokens: setTokens },
        { concept: side, tokens: literals, list: literals.length > 1 },
        ...flags,
      ],
      single: null,
    };
  };
  const rulesNamed = model.nats.some((n) => n.rule !== null) || d.keys.rule === 'int';
  const serviceFields = (service: Model['rules'][number]['service']): Field[] => {
    const literals = service.flatMap((s) => ('s' in s ? [T(s.s)] : []));
    const named = service.flatMap((s): Token[] =>
      'service' in s
        ? [ref('svc', s.service.name)]
        : 'gone' in s
          ? [{ pre: '', post: '', s: goneText('svc', s.gone), gone: 'svc' }]
          : [],
    );
    if (d.keys.svc !== 'int') return [{ ...list('service', [...named, ...literals]), list: service.length > 1 }];
    return [
      { ...list('svc.ref', named), compound: ['svc', 'id'], list: named.length > 1 },
      { ...list('service', literals), list: literals.length > 1 },
    ];
  };
  const ruleRoles = (x: Model['rules'][number]): Field[] => {
    if (x.role === null) return d.any === null || d.keys.role === 'int' ? [] : [f('via', T(d.any))];
    const tokens = [maybe('role', x.role), ...x.also.map((o) => ref('role', o.name))];
    return [{ ...viaField(tokens[0] as Token), tokens, list: tokens.length > 1 }];
  };
  colls.push({
    concept: 'rule',
    section: 'sec.policy',
    tagField: null,
    records: model.rules.map((x) => {
      const s = endFields('source', x.source, x.notSource, x.uid);
      const t = endFields('dest', x.dest, x.notDest, x.uid);
      return rec(
        uid('rule', x.uid),
        'rule',
        [
          ...(rulesNamed ? [text('id', keys.get(uid('rule', x.uid)) as string)] : []),
          text('action', x.action === 'permit' ? d.permit : d.deny),
          ...ruleRoles(x),
          ...(x.proto === null ? [] : [text('proto', x.proto)]),
          ...s.fields,
          ...t.fields,
          ...serviceFields(x.service),
          ...(x.when === null ? [] : [idWord('sched', 'when', maybe('sched', x.when))]),
          ...(x.gateway === null ? [] : [idWord('gw', 'gatewayNamed', ref('gw', x.gateway.name))]),
          ...label(x.label),
          ...enabled(x.enabled),
          ...(x.log ? flag('log', true) : []),
        ],
        { singles: [s.single, t.single].filter((q) => q !== null).filter((q) => q.fields.length > 0) },
      );
    }),
  });
  colls.push({
    concept: 'nat',
    section: 'sec.policy',
    tagField: null,
    records: model.nats.map((n, i) =>
      rec(`nat:${i}`, 'nat', [
        viaField(ref('role', n.role.name)),
        text('proto', n.proto),
        text('outport', String(n.outside)),
        'set' in n.target
          ? d.keys.set === 'int'
            ? { concept: 'set.ref', compound: ['set', 'id'], tokens: [ref('set', n.target.set.name)] }
            : f('inside', wrap(ref('set', n.target.set.name), d.setMark))
          : text('inside', n.target.s),
        text('inport', String(n.inside)),
        ...(n.rule === null ? [] : [idWord('rule', 'ruleref', ref('rule', n.rule.uid))]),
        ...label(n.label),
      ]),
    ),
  });
  return colls;
}
