import type { Ca, Cert, Group, User } from '../model.ts';
import { AUTHORITIES, LEAVES } from '../pki.ts';
import type { Rng } from '../rng.ts';
import { type Gone, USERS } from './names.ts';
import { passwordHash } from './values.ts';

export interface Trust {
  readonly cas: Ca[];
  readonly certs: Cert[];
  readonly users: User[];
  readonly groups: Group[];
}

export function randomTrust(root: Rng, gone: Gone, small: boolean): Trust {
  const r = root.fork('trust');
  const cas: Ca[] = AUTHORITIES.slice(0, small ? 1 : r.int(1, 3)).map((pki, i) => ({
    pki,
    name: `ca${i + 1}`,
    label: ['Quay root', 'Guests root', 'Harbour signing'][i] as string,
  }));
  const leaves = r.sample(
    LEAVES.filter((l) => cas.some((c) => c.pki.name === l.issuer)),
    small ? 2 : r.int(2, 6),
  );
  const certs: Cert[] = leaves.map((pki, i) => ({
    pki,
    ca: cas.find((c) => c.pki.name === pki.issuer) as Ca,
    name: `cert${i + 1}`,
    label: ['Admin page 2026', 'Remote access 2026', 'Wi-Fi EAP', 'Tills', 'Radar feed', 'Berth meters'][i] as string,
  }));

  const users: User[] = r.sample(USERS, small ? 2 : r.int(3, 7)).map((name) => ({
    name,
    label: `${name.charAt(0).toUpperCase()}${name.slice(1)} of the quay`,
    hash: passwordHash(r),
    enabled: !r.chance(0.1),
  }));
  const groups: Group[] = r
    .sample(['wardens', 'visitors', 'engineers', 'desk'], small ? 1 : r.int(2, 4))
    .map((name) => ({
      name,
      label: r.chance(0.3) ? name : 'people',
      members: r.sample(users, r.int(1, Math.min(3, users.length))).map((it) => ({ it })),
    }));
  for (const s of gone.user) groups[0]?.members.push({ gone: s });
  return { cas, certs, users, groups };
}
