import type { Model } from '../model.ts';
import { type Coll, type Field, T } from '../records.ts';
import type { Terms } from './terms.ts';

/** Authorities, certificates, users and groups. */
export function trustRecords(model: Model, t: Terms): Coll[] {
  const { d, uid, ref, maybe, text, free, list, enabled, rec, keyFields, tagged, idWord } = t;
  const colls: Coll[] = [];
  const pem = (s: string): { s: string; block: boolean } => {
    switch (d.pem) {
      case 'pem':
        return { s, block: true };
      case 'base64-pem':
        return { s: base64(`${s}\n`), block: false };
      default: {
        const body = s.split('\n').filter((l) => !l.startsWith('-----'));
        return d.pem === 'der' ? { s: body.join(''), block: false } : { s: body.join('\n'), block: true };
      }
    }
  };
  const blob = (concept: string, s: string, mark: 'secret' | 'certificate'): Field => {
    const p = pem(s);
    return { concept, tokens: [T(p.s)], block: p.block, [mark]: true };
  };
  const caKind = (c: { name: string; label: string }): Field[] => keyFields('ca', c.name, c.label);
  colls.push(
    {
      concept: 'ca',
      section: 'sec.trust',
      tagField: null,
      records: model.cas.map((c) =>
        rec(uid('ca', c.name), 'ca', [...caKind(c), blob('chain', c.pki.cert, 'certificate')]),
      ),
    },
    {
      concept: 'cert',
      section: 'sec.trust',
      tagField: null,
      records: model.certs.map((c) =>
        rec(uid('cert', c.name), 'cert', [
          ...keyFields('cert', c.name, c.label),
          idWord('ca', 'issuer', ref('ca', c.ca.name)),
          blob('chain', c.pki.cert, 'certificate'),
          blob('key', c.pki.key, 'secret'),
        ]),
      ),
    },
    {
      concept: 'user',
      section: 'sec.trust',
      tagField: tagged('user'),
      records: model.users.map((u) => {
        const key = keyFields('user', u.name, '');
        return rec(uid('user', u.name), 'user', [
          ...key,
          ...(d.labels || d.keys.user === 'code' ? [free('fullname', u.label)] : []),
          { ...text('hash', u.hash), secret: true },
          ...enabled(u.enabled),
        ]);
      }),
    },
    {
      concept: 'group',
      section: 'sec.trust',
      tagField: tagged('group'),
      records: model.groups.map((g) => {
        const members = list(
          'userref',
          g.members.map((m) => maybe('user', m)),
        );
        return rec(uid('group', g.name), 'group', [
          ...keyFields('group', g.name, g.label),
          d.keys.user === 'int' ? { ...members, concept: 'user.ref', compound: ['user', 'id'] } : members,
        ]);
      }),
    },
  );
  return colls;
}

/** Standard base64 of ASCII text, RFC 4648 section 4. */
function base64(ascii: string): string {
  return btoa(ascii);
}
