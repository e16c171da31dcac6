import type { ProvenCertificate } from '../../reading/certificates/certificates.ts';
import type { Certificate } from '../../reading/reading.ts';
import { materialIn } from '../../values/key-material.ts';
import { publicHalfOfPrivate } from '../../values/key-pair.ts';
import type { Finding } from '../../views.ts';
import type { Site } from '../../xml/site.ts';
import { once } from '../facts/once.ts';
import { eachCellAt, siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { carry, causeOf } from '../repairs/repairs.ts';

/** Days before its end from which a certificate is spoken of: two months, common practice, no source. */
export const SOON = 60;
/** Shortest RSA key that is still good (NIST SP 800-131A rev. 2; CA/Browser Forum baseline, 6.1.5; both from memory). */
const RSA_BITS = 2048;
/** Digests that collide at will (RFC 6151, RFC 9155). */
const weakDigests = new Set(['MD2', 'MD5', 'SHA-1']);
const DAY = 86_400_000;

/** Certificates that are refused, or will be soon: by time, by key, by issuer, by strength. */
export function checkCertificates(input: CheckInput): Finding[] {
  const { reading, gone, place } = input;
  const findings: Finding[] = reading.outliers
    .filter(({ site, expected }) => expected === 'certificate' && !gone(site.node))
    .map(({ site }) => ({
      code: 'certificate-unread',
      severity: 'warning',
      place: place(site),
      params: {},
      byPlan: false,
    }));
  for (const [at, certificate] of (input.proven ?? reading.certificates).entries()) {
    const { site } = certificate;
    if (gone(site.node)) continue;
    const add = (
      code: Finding['code'],
      severity: Finding['severity'],
      params: Finding['params'] = {},
      byPlan = false,
      where: Site = site,
      repairs: Finding['repairs'] = [],
      cause?: Finding['cause'],
    ) =>
      findings.push({
        code,
        severity,
        place: place(where),
        params: { subject: shortName(certificate), ...params },
        byPlan,
        repairs,
        ...(cause && { cause }),
      });
    checkTime(certificate, input.now, add);
    checkKey(certificate, at, input, add);
    checkIssuer(certificate, input, add);
    const bits = /^RSA (\d+)$/.exec(certificate.keyType)?.[1];
    if (bits !== undefined && Number(bits) < RSA_BITS) add('certificate-weak-key', 'warning', { bits: Number(bits) });
    // Nobody checks the signature of a root: it is trusted for itself.
    const root = certificate.subject === certificate.issuer;
    if (certificate.digest !== null && weakDigests.has(certificate.digest) && !root)
      add('certificate-weak-digest', 'warning', { digest: certificate.digest });
  }
  return findings;
}

type Add = (
  code: Finding['code'],
  severity: Finding['severity'],
  params?: Finding['params'],
  byPlan?: boolean,
  at?: Site,
  repairs?: Finding['repairs'],
  cause?: Finding['cause'],
) => void;

/** The common name (RFC 4519, 2.3) where there is one, else the whole name. */
export function shortName({ subject }: Pick<Certificate, 'subject'>): string {
  return /(?:^|, ?)CN=((?:\\.|[^,\\])+)/.exec(subject)?.[1] ?? subject;
}

/** RFC 5280, 4.1.2.5: from `notBefore` to `notAfter`, both included. */
function checkTime({ notBefore, notAfter }: Certificate, now: string | null, add: Add): void {
  if (now === null) return;
  const [at, from, to] = [now, notBefore, notAfter].map((text) => new Date(text).getTime()) as [number, number, number];
  if (at > to) add('certificate-expired', 'warning', { notAfter });
  else if (at < from) add('certificate-not-yet', 'warning', { notBefore });
  else if (to - at <= SOON * DAY) add('certificate-expiring', 'note', { notAfter, days: Math.floor((to - at) / DAY) });
}

interface Holders {
  /** For each certificate whether others of its field have their keys in the file. */
  readonly wantsKey: readonly boolean[];
  /** For each certificate a private key in its own record that is another's, null for none. */
  readonly strange: readonly (Site | null)[];
}

const holdersOf = once((reading): Holders => {
  const rowOf = new Map<number, number>();
  const fieldOf = new Map<number, number>();
  const textOf = new Map<number, string>();
  const keys = reading.secrets.filter(({ kind }) => kind === 'private-key').map(({ site }) => site);
  const fitting = reading.certificates.flatMap(({ keyAt }) => keyAt ?? []);
  eachCellAt(
    reading,
    [...reading.certificates.map(({ site }) => site), ...keys, ...fitting],
    ({ field, place }, key) => {
      if (field.begins) return;
      rowOf.set(key, field.rows[place]!);
      fieldOf.set(key, field.index);
      textOf.set(key, field.values[place]!);
    },
  );
  const row = ({ node, attr }: Site) => rowOf.get(siteKey(node, attr)) ?? -1;
  const keyOfRow = new Map(keys.map((site) => [row(site), site]));
  /** Public halves of the keys at a site; none of one that is encrypted, or of a kind that is not known here. */
  const marks = ({ node, attr }: Site) => publicMarks(textOf.get(siteKey(node, attr)) ?? '');
  const keyed = new Map<number, number>();
  const all = new Map<number, number>();
  const bump = (counts: Map<number, number>, field: number) => counts.set(field, (counts.get(field) ?? 0) + 1);
  const fields = reading.certificates.map(({ site }) => fieldOf.get(siteKey(site.node, site.attr)) ?? -1);
  for (const [at, { keyAt }] of reading.certificates.entries()) {
    bump(all, fields[at]!);
    if (keyAt) bump(keyed, fields[at]!);
  }
  return {
    wantsKey: fields.map((field) => (keyed.get(field) ?? 0) * 2 > (all.get(field) ?? 0)),
    strange: reading.certificates.map(({ site, keyAt, keyType, isAuthority }) => {
      const own = row(site) === -1 ? undefined : keyOfRow.get(row(site));
      if (!own || keyType === 'unknown' || isAuthority || (keyAt && row(keyAt) === row(site))) return null;
      const beside = marks(own);
      return beside.length === 0 || (keyAt && marks(keyAt).some((mark) => beside.includes(mark))) ? null : own;
    }),
  };
});

function publicMarks(text: string): readonly string[] {
  return materialIn(text).flatMap(({ kind, der, half: shown }) => {
    if (shown && (kind === 'private-key' || kind === 'encrypted-key')) return [shown.mark];
    const half = kind === 'private-key' && der ? publicHalfOfPrivate(der) : null;
    return half ? [half.mark] : [];
  });
}

/** A key that is encrypted or held by a card cannot be told from a missing one, so only company speaks, and what was there. */
function checkKey({ site, keyAt, isAuthority }: Certificate, at: number, input: CheckInput, add: Add): void {
  const { reading, donor, set, gone } = input;
  const { wantsKey, strange } = holdersOf(reading);
  if (strange[at]) add('certificate-key-strange', 'warning', {}, false, strange[at]);
  else if (keyAt) {
    if (gone(keyAt.node)) add('certificate-key-left-out', 'warning', {}, true, site, carry(input, keyAt.node));
  } else {
    const before = set.size === 0 ? null : donor.certificates.find((one) => isAt(one.site, site))?.keyAt;
    if (before && set.has(siteKey(before.node, before.attr)))
      add('certificate-key-missing', 'warning', { changed: 1 }, true, before);
    else if (wantsKey[at] && !isAuthority) add('certificate-key-missing', 'warning');
  }
}

const isAt = (a: Site, b: Site) => a.node === b.node && a.attr === b.attr;

function checkIssuer(certificate: Certificate | ProvenCertificate, input: CheckInput, add: Add): void {
  const { site, subject, issuer, issuers } = certificate;
  const { reading, gone } = input;
  const params = { issuer: shortName({ subject: issuer }) };
  if ('signature' in certificate && certificate.signature === 'fails') {
    add('certificate-signature', 'warning', params);
    return;
  }
  if (subject === issuer) return;
  const held = issuers.flatMap((at) => reading.certificates[at] ?? []);
  if (held.length === 0) add('certificate-issuer-missing', 'note', params);
  else if (held.every((one) => gone(one.site.node)))
    add(
      'certificate-issuer-left-out',
      'warning',
      params,
      true,
      site,
      carry(input, held[0]!.site.node, { name: params.issuer }),
      causeOf(input, held[0]!.site.node),
    );
}
