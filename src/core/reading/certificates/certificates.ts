import 'reflect-metadata';
import {
  AuthorityKeyIdentifierExtension,
  BasicConstraintsExtension,
  SubjectAlternativeNameExtension,
  SubjectKeyIdentifierExtension,
  X509Certificate,
} from '@peculiar/x509';
import { childrenOf, oidOf, readDer } from '../../values/der.ts';
import { type PublicHalf, publicHalfOf } from '../../values/key-pair.ts';
import type { Site } from '../../xml/site.ts';
import type { Certificate, Reading } from '../reading.ts';
import { KeyRing } from './key-ring.ts';
import { type HeldMaterial, readMaterial } from './material.ts';

/**
 * The certificates of a document with what a technician asks of each: whose it is, who issued it, how long it holds, which
 * private key fits it, and which authority of the file signed it. Keys fit by their numbers, never by name or place. The
 * authority is chosen by name and key identifiers; `verifyIssuers` then tries signatures.
 */
export function readCertificates(material: readonly HeldMaterial[]): readonly Certificate[] {
  const parsed = parse(material);
  const keys = new KeyRing(material);
  const bySubject = groupBySubject(parsed);
  const places = placesOf(parsed);
  return parsed.map((one, at) => ({
    site: one.site,
    subject: one.x509.subject,
    issuer: one.x509.issuer,
    serial: one.x509.serialNumber,
    notBefore: utc(one.x509.notBefore),
    notAfter: utc(one.x509.notAfter),
    keyType: one.half?.keyType ?? 'unknown',
    digest: digestOf(one.x509),
    names: namesOf(one.x509),
    isAuthority: one.x509.getExtension(BasicConstraintsExtension)?.ca === true,
    keyAt: one.half ? keys.fitting(one.half) : null,
    ...issuedBy(issuersOf(parsed, at, bySubject), places, parsed),
  }));
}

/** A certificate with what its signature says of the issuer. */
export interface ProvenCertificate extends Certificate {
  /**
   * `checked`: the key of the authority at `issuerAt` made it. `fails`: the file holds authorities of the issuer's name,
   * and none of them made it. `untried`: the file holds none, or the runtime does not know the algorithm.
   */
  readonly signature: 'checked' | 'fails' | 'untried';
}

/**
 * The same certificates with `issuerAt` proven by signature: where several authorities have the name of the issuer the one
 * whose key verifies, and -1 where none does. An algorithm that the runtime does not know leaves the choice as it was.
 * Uses WebCrypto, so a page outside a secure context has to do without.
 */
export async function verifyIssuers(
  certificates: readonly Certificate[],
  material: readonly HeldMaterial[],
): Promise<readonly ProvenCertificate[]> {
  const parsed = parse(material);
  const bySubject = groupBySubject(parsed);
  const places = placesOf(parsed);
  return Promise.all(
    certificates.map(async (certificate, at): Promise<ProvenCertificate> => {
      const candidates = parsed[at] ? issuersOf(parsed, at, bySubject) : [];
      const signed: number[] = [];
      const untried: number[] = [];
      for (const candidate of candidates) {
        const verdict = await isSignedBy(parsed[at]!, parsed[candidate]!);
        if (verdict === true) signed.push(candidate);
        else if (verdict === null) untried.push(candidate);
      }
      const issued = issuedBy(signed.length > 0 ? signed : untried, places, parsed);
      const fails = candidates.length > 0 && issued.issuerAt === -1;
      return { ...certificate, ...issued, signature: signed.length > 0 ? 'checked' : fails ? 'fails' : 'untried' };
    }),
  );
}

/** Tries the signatures of all certificates of a reading; see `verifyIssuers`. */
export async function provenCertificates({
  certificates,
  values,
}: Pick<Reading, 'certificates' | 'values'>): Promise<readonly ProvenCertificate[]> {
  return certificates.length === 0 ? [] : verifyIssuers(certificates, readMaterial(values.fields));
}

async function isSignedBy(one: Parsed, issuer: Parsed): Promise<boolean | null> {
  try {
    return await one.x509.verify({ publicKey: issuer.x509.publicKey, signatureOnly: true });
  } catch {
    return null;
  }
}

interface Parsed {
  readonly site: Site;
  readonly x509: X509Certificate;
  readonly half: PublicHalf | null;
  /** Key identifiers of its own key and of its issuer's (RFC 5280, 4.2.1.1 and 4.2.1.2), where it tells them. */
  readonly subjectKey: string | null;
  readonly issuerKey: string | null;
  /** Index of the first place that holds the same certificate. */
  readonly first: number;
}

function parse(material: readonly HeldMaterial[]): readonly Parsed[] {
  const parsed: Parsed[] = [];
  // The same certificate often stands in several places.
  const known = new Map<string, number>();
  for (const { kind, der, site } of material) {
    if (kind !== 'certificate' || !der) continue;
    const octets = der.join();
    const first = known.get(octets);
    if (first !== undefined) {
      if (first >= 0) parsed.push({ ...parsed[first]!, site });
      continue;
    }
    const x509 = certificateOf(der);
    known.set(octets, x509 ? parsed.length : -1);
    if (!x509) continue;
    parsed.push({
      site,
      x509,
      half: publicHalfOf(new Uint8Array(x509.publicKey.rawData)),
      subjectKey: x509.getExtension(SubjectKeyIdentifierExtension)?.keyId.toLowerCase() ?? null,
      issuerKey: x509.getExtension(AuthorityKeyIdentifierExtension)?.keyId?.toLowerCase() ?? null,
      first: parsed.length,
    });
  }
  return parsed;
}

/** Null where the octets only look like a certificate. */
export function certificateOf(der: Uint8Array): X509Certificate | null {
  try {
    const certificate = new X509Certificate(new Uint8Array(der));
    return Number.isNaN(certificate.notAfter.getTime()) || certificate.publicKey.rawData.byteLength === 0
      ? null
      : certificate;
  } catch {
    return null;
  }
}

/** Signature algorithms (RFC 3279, RFC 4055, RFC 5758) by what they digest with; Ed25519 and Ed448 have their own way. */
const digests: Record<string, string> = {
  '1.2.840.113549.1.1.2': 'MD2',
  '1.2.840.113549.1.1.4': 'MD5',
  '1.2.840.113549.1.1.5': 'SHA-1',
  '1.3.14.3.2.29': 'SHA-1',
  '1.2.840.10040.4.3': 'SHA-1',
  '1.2.840.10045.4.1': 'SHA-1',
  '1.2.840.113549.1.1.14': 'SHA-224',
  '1.2.840.113549.1.1.11': 'SHA-256',
  '1.2.840.113549.1.1.12': 'SHA-384',
  '1.2.840.113549.1.1.13': 'SHA-512',
  '1.2.840.10045.4.3.1': 'SHA-224',
  '1.2.840.10045.4.3.2': 'SHA-256',
  '1.2.840.10045.4.3.3': 'SHA-384',
  '1.2.840.10045.4.3.4': 'SHA-512',
};

function digestOf({ rawData }: X509Certificate): string | null {
  const outer = readDer(new Uint8Array(rawData));
  const algorithm = outer && childrenOf(outer)?.[1];
  const oid = algorithm && childrenOf(algorithm)?.[0];
  return (oid && digests[oidOf(oid)]) ?? null;
}

/** RFC 9525, 2: the extension speaks; the common name is for certificates that have none. */
function namesOf(x509: X509Certificate): readonly string[] {
  const names = x509.getExtension(SubjectAlternativeNameExtension)?.names.items ?? [];
  const spoken = names.filter(({ type }) => type === 'dns' || type === 'ip').map(({ value }) => value);
  return spoken.length > 0 ? spoken : x509.subjectName.getField('CN');
}

function utc(date: Date): string {
  return date.toISOString().replace(/\.\d+Z$/, 'Z');
}

/** By the first place of a certificate all of its places. */
function placesOf(parsed: readonly Parsed[]): ReadonlyMap<number, readonly number[]> {
  const places = new Map<number, number[]>();
  for (const [at, { first }] of parsed.entries()) {
    const list = places.get(first);
    if (list) list.push(at);
    else places.set(first, [at]);
  }
  return places;
}

const issuedBy = (
  candidates: readonly number[],
  places: ReadonlyMap<number, readonly number[]>,
  parsed: readonly Parsed[],
): Pick<Certificate, 'issuerAt' | 'issuers'> => ({
  issuerAt: candidates[0] ?? -1,
  issuers: [...new Set(candidates.flatMap((at) => [at, ...places.get(parsed[at]!.first)!.slice(0, NAMESAKES)]))],
});

/** Each distinct certificate once, by its subject. */
function groupBySubject(parsed: readonly Parsed[]): Map<string, number[]> {
  const groups = new Map<string, number[]>();
  for (const [at, { x509, first }] of parsed.entries()) {
    if (first !== at) continue;
    const group = groups.get(x509.subject);
    if (group) group.push(at);
    else groups.set(x509.subject, [at]);
  }
  return groups;
}

/** No more authorities of one name are tried, and no more places of one are told. */
const NAMESAKES = 64;

/** Those that may have signed it, the likeliest first. An authority that signed itself is its own issuer. */
function issuersOf(
  parsed: readonly Parsed[],
  at: number,
  bySubject: ReadonlyMap<string, readonly number[]>,
): readonly number[] {
  const { x509, first, issuerKey } = parsed[at]!;
  const fits = (candidate: number): number => {
    const { subjectKey } = parsed[candidate]!;
    if (issuerKey && subjectKey) return issuerKey === subjectKey ? 4 : -1;
    return candidate === first ? 2 : 1;
  };
  return (bySubject.get(x509.issuer) ?? [])
    .slice(0, NAMESAKES)
    .map((candidate) => ({ candidate: candidate === first ? at : candidate, fit: fits(candidate) }))
    .filter(({ fit }) => fit > 0)
    .sort((a, b) => b.fit - a.fit || a.candidate - b.candidate)
    .map(({ candidate }) => candidate);
}
