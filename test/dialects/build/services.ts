import type { Model } from '../model.ts';
import { type Coll, T } from '../records.ts';
import type { Terms } from './terms.ts';

/** What the box does for others, and what only it knows: pools, tunnels, clocks, settings of its system. */
export function serviceRecords(model: Model, t: Terms): Coll[] {
  const { secret, wordless, d, ref, maybe, text, free, list, label, rec, viaField, idWord } = t;
  const userKey = (name: string): string => t.keys.get(t.uid('user', name)) as string;
  const colls: Coll[] = [];
  colls.push({
    concept: 'pool',
    section: 'sec.svc',
    tagField: d.keys.role === 'name' || d.keys.role === 'code' ? 'via' : null,
    records: model.pools.map((p) =>
      rec(
        `pool:${p.role.name}`,
        'pool',
        [viaField(ref('role', p.role.name)), text('first', p.first), text('last', p.last)],
        {
          colls: [
            {
              concept: 'lease',
              section: '',
              tagField: null,
              records: p.leases.map((l, i) =>
                rec(`lease:${p.role.name}:${i}`, 'lease', [text('mac', l.mac), text('ip', l.ip), text('host', l.host)]),
              ),
            },
          ],
        },
      ),
    ),
  });
  colls.push(
    {
      concept: 'vpn',
      section: 'sec.svc',
      tagField: 'name',
      records: model.servers.map((v) =>
        rec(`vpn:${v.name}`, 'vpn', [
          text('name', v.name),
          ...label(v.label),
          idWord('ca', 'authorityNamed', ref('ca', v.ca.name)),
          idWord('cert', 'certificateNamed', maybe('cert', v.cert)),
          viaField(ref('role', v.role.name)),
          text('tunnelnet', v.net),
          text('tlsport', String(v.port)),
          ...(v.group === null ? [] : [idWord('group', 'groupref', maybe('group', v.group))]),
        ]),
      ),
    },
    {
      concept: 'client',
      section: 'sec.svc',
      tagField: null,
      records: model.clients.map((c) =>
        rec(`client:${c.name}`, 'client', [
          text('name', c.name),
          ...label(c.label),
          text('remote', c.remote),
          viaField(ref('role', c.role.name)),
          list('allowed', c.networks.map(T)),
          secret('psk', c.psk),
        ]),
      ),
    },
    {
      concept: 'peer',
      section: 'sec.svc',
      tagField: null,
      records: model.peers.map((p) =>
        rec(`peer:${p.name}`, 'peer', [
          text('name', p.name),
          { ...text('pubkey', p.publicKey), optional: wordless },
          secret('psk', p.psk),
          list('allowed', p.networks.map(T)),
          ...label(p.label),
        ]),
      ),
    },
    {
      concept: 'ntp',
      section: 'sec.svc',
      tagField: null,
      records: model.ntp.map((h, i) => rec(`ntp:${i}`, 'ntp', [text('host', h), text('metric', String(i + 1))])),
    },
  );
  colls.push(
    {
      concept: 'tunable',
      section: 'sec.base',
      tagField: null,
      records: model.tunables.map((t) =>
        rec(
          `tunable:${t.name}`,
          'tunable',
          [text('name', t.name), text('value', t.value)],
          t.bound === 'yes' ? { hardware: true } : { optional: true },
        ),
      ),
    },
    {
      concept: 'remark',
      section: 'sec.base',
      tagField: null,
      records: model.remarks.map((m, i) =>
        rec(`remark:${i}`, 'remark', [
          { ...text('by', userKey(m.by.name)), optional: true },
          text('time', m.time),
          free('label', m.text),
        ]),
      ),
    },
  );
  return colls;
}
