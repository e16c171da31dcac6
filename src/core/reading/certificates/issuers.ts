import { append } from '../../lists.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import { type FieldData, leafName } from '../fields/fields.ts';
import { type KeyTable, keyOn } from '../keys/key-table.ts';
import { kindOf } from '../names/literals.ts';
import { placeKey } from '../outline/flat-lists.ts';
import type { Certificate } from '../reading.ts';
import { readCertificates } from './certificates.ts';
import { type HeldMaterial, readMaterial } from './material.ts';

/** The certificates and keys of a document, read before anything is known of its names. */
export interface Holdings {
  readonly material: readonly HeldMaterial[];
  readonly certificates: readonly Certificate[];
}

export function holdingsOf(fields: readonly FieldData[]): Holdings {
  const material = readMaterial(fields);
  return { material, certificates: readCertificates(material) };
}

/**
 * Fields that certificates prove to name records: what stands in the record of each certificate is a key of the record of
 * the authority that issued it (RFC 5280, 4.1.2.4 and 6.1). By field the key; none where several fields of the records fit,
 * as small numbers may.
 */
export function issuerFields(
  { material, certificates }: Holdings,
  fields: readonly FieldData[],
  keys: KeyTable,
): ReadonlyMap<number, number> {
  const proven = new Map<number, number>();
  const rowAt = new Map<string, { readonly row: number; readonly shape: number }>();
  for (const { site, field, place } of material)
    rowAt.set(placeKey(site), { row: fields[field]!.rows[place]!, shape: fields[field]!.rowShape });
  /** By row of a certificate the row of its issuer, for each two kinds of record. */
  const signed = new Map<string, { shape: number; issuers: number; rows: Map<number, number> }>();
  for (const { site, issuerAt } of certificates) {
    const own = rowAt.get(placeKey(site));
    const issuer = issuerAt === -1 ? undefined : rowAt.get(placeKey(certificates[issuerAt]!.site));
    if (!own || !issuer || own.row === -1 || issuer.row === -1 || own.row === issuer.row) continue;
    const id = `${own.shape} ${issuer.shape}`;
    const pair = signed.get(id) ?? { shape: own.shape, issuers: issuer.shape, rows: new Map() };
    signed.set(id, pair);
    pair.rows.set(own.row, issuer.row);
  }
  if (signed.size === 0) return proven;
  const byShape = fieldsByShape(fields);
  for (const { shape, issuers, rows } of signed.values()) {
    const found: [field: number, key: number][] = [];
    for (const field of byShape.get(shape) ?? []) {
      if (field.several || field.tag || keys.keys.some((key) => key.field === field && key.best)) continue;
      const key = keys.keys.find((one) => one.shape === issuers && names(field, rows, one.field));
      if (key) found.push([field.index, key.index]);
    }
    if (found.length === 0) append(found, namesOfOne(byShape.get(shape) ?? [], rows, byShape.get(issuers) ?? [], keys));
    if (found.length === 1) proven.set(...found[0]!);
  }
  return proven;
}

/**
 * The same where the authority stands alone in its kind, so that nothing tells it apart: what it and nothing else of it
 * has in common with each certificate, by another name, and is called as keys are or written as an identifier.
 */
function namesOfOne(
  list: readonly FieldData[],
  rows: ReadonlyMap<number, number>,
  issuer: readonly FieldData[],
  keys: KeyTable,
): [field: number, key: number][] {
  const isOwn = (one: FieldData) => {
    if (one.tag || one.several || one.values.length !== 1 || kindOf(one.values[0]!) === 'phrase') return false;
    return keys.keys.some(({ field }) => leafName(field) === leafName(one)) || LONG.test(one.values[0]!);
  };
  const own = issuer.filter(isOwn);
  return list.flatMap((field) => {
    if (field.several || field.tag || keys.keys.some((key) => key.field === field && key.best)) return [];
    const one = own.find((one) => leafName(one) !== leafName(field) && names(field, rows, one));
    return one ? [[field.index, keyOn(one, keys).index] as [number, number]] : [];
  });
}

/** Numbers of so many digits, and codes with some, stand in two places hardly by chance. */
const LONG = /^\d{3,}$|^(?=.*\d)(?=.*\p{L})\S{6,}$/u;

/** True where the field has, in each row that it stands in, the key of the row that this one goes with. */
function names(field: FieldData, rows: ReadonlyMap<number, number>, key: FieldData): boolean {
  const keyOf = new Map(key.rows.map((row, at) => [row, key.values[at]!]));
  let hits = 0;
  for (const [at, row] of field.rows.entries()) {
    const issuer = rows.get(row);
    if (issuer === undefined) continue;
    if (keyOf.get(issuer) !== field.values[at]) return false;
    hits++;
  }
  return hits === rows.size;
}
