import { type ProvenCertificate, readCertificates } from '../../reading/certificates/certificates.ts';
import { readMaterial } from '../../reading/certificates/material.ts';
import type { FieldData } from '../../reading/fields/fields.ts';
import type { Certificate, Outlier, Reading } from '../../reading/reading.ts';
import { materialIn } from '../../values/key-material.ts';
import { siteKey } from '../facts/tables.ts';
import type { SetValue } from './set-value.ts';

type SetValues = ReadonlyMap<number, SetValue>;

const holdsAny = (value: string) =>
  materialIn(value.trim()).some(({ kind }) => kind === 'certificate' || kind === 'private-key');

/** The certificates once values are set: read anew where one, or a key, stood or is put. */
export function amendCertificates(
  { certificates }: Reading,
  fields: readonly FieldData[],
  set: SetValues,
): readonly Certificate[] {
  const isTouched = [...set.values()].some(({ before, value }) => holdsAny(before) || holdsAny(value));
  return isTouched ? readCertificates(readMaterial(fields)) : certificates;
}

/** Where a certificate stood and something is set that cannot be read as one. What is emptied is meant to be gone. */
export function unreadCertificates(set: SetValues): Outlier[] {
  const unread: Outlier[] = [];
  for (const { site, before, value } of set.values()) {
    const stood = materialIn(before.trim()).some(({ kind }) => kind === 'certificate');
    if (!stood || value.trim() === '') continue;
    if (!materialIn(value.trim()).some(({ kind, der }) => kind === 'certificate' && der))
      unread.push({ site, expected: 'certificate' });
  }
  return unread;
}

/**
 * What signatures said of the donor's certificates, for those that are as they were and whose authority is not touched;
 * of the others it is not known yet.
 */
export function stillProven(
  proven: readonly ProvenCertificate[],
  certificates: readonly Certificate[],
  set: SetValues,
): readonly (Certificate | ProvenCertificate)[] {
  const isSet = ({ site }: Certificate) => set.has(siteKey(site.node, site.attr));
  const touched = new Set([...proven, ...certificates].filter(isSet).map(({ subject }) => subject));
  const places = new Map(certificates.map((one, at) => [idOf(one), at]));
  const tried = new Map(proven.map((one) => [idOf(one), one]));
  return certificates.map((one) => {
    const own = isSet(one) || touched.has(one.issuer) ? undefined : tried.get(idOf(one));
    if (!own) return one;
    const issuer = proven[own.issuerAt];
    const issuers = own.issuers.flatMap((at) => places.get(idOf(proven[at]!)) ?? []);
    return { ...one, signature: own.signature, issuers, issuerAt: issuer ? (places.get(idOf(issuer)) ?? -1) : -1 };
  });
}

/** A certificate at its place (RFC 5280, 4.1.2.2: issuer and serial number name one). */
const idOf = ({ site, issuer, serial, subject }: Certificate) =>
  JSON.stringify([site.node, site.attr, issuer, serial, subject]);
