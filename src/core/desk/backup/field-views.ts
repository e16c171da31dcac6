import { shortName } from '../../checks/credentials/certificates.ts';
import type { ProvenCertificate } from '../../reading/certificates/certificates.ts';
import { type FieldData, leafName } from '../../reading/fields/fields.ts';
import { SiteSet } from '../../reading/fields/site-set.ts';
import { fieldType } from '../../reading/fields/value-types.ts';
import { keyOfField, listOf } from '../../reading/keys/collections.ts';
import type { BoxBoundReason, Certificate, Reading, Secret } from '../../reading/reading.ts';
import { hiddenIn } from '../../reading/secrets/secrets-in-text.ts';
import type {
  BoundFieldView,
  CareView,
  CertificateView,
  FieldPlaceView,
  FieldQuery,
  FieldsView,
  KeyOption,
  SecretFieldView,
} from '../../views.ts';
import { templateOf } from '../../xml/path.ts';
import { documentViews } from './document-views.ts';
import { type Backup, placeOf } from './open.ts';

/** Values shown of one field, and the most units of one. */
const SAMPLES = 3;
const LONGEST = 60;
/** Keys offered for one list. */
const OPTIONS = 12;

/** The fields whose path or name holds the words, in the order of the file: those in [from, from + limit), and how many. */
export function fieldsOf(backup: Backup, reading: Reading, query: FieldQuery): FieldsView {
  const words = query.words.trim().toLowerCase();
  const secrets = new SiteSet(reading.secrets);
  const hidden = new SiteSet(hiddenIn(backup.tree, reading));
  const bound = new SiteSet(reading.boxBound.map((site) => ({ site })));
  const fields: FieldPlaceView[] = [];
  let total = 0;
  for (const field of reading.values.fields) {
    if (field.virtual || (words && !field.template.toLowerCase().includes(words))) continue;
    if (total >= query.from && fields.length < query.limit) {
      const site = { node: field.nodes[0]!, attr: field.attrs[0]! };
      const holds = (set: SiteSet) => field.nodes.some((node, at) => set.has(node, field.attrs[at]!));
      const { kind, outliers } = fieldType(field);
      fields.push({
        template: field.template,
        name: leafName(field),
        count: field.values.length,
        distinct: field.distinct.length,
        sample: holds(hidden) ? [] : samplesOf(field),
        kind,
        odd: outliers.length,
        secret: holds(secrets),
        boxBound: holds(bound),
        place: placeOf(backup, site),
      });
    }
    total++;
  }
  return { total, fields };
}

/** What the records of a list may be told apart by, the surest first. @param collection see `listOf`. */
export function keyOptions(backup: Backup, reading: Reading, collection: string): KeyOption[] {
  const { tree } = backup;
  const records = new Set<number>();
  for (const one of reading.collections) {
    if (listOf(tree, one) !== collection) continue;
    for (const node of one.records) records.add(node);
  }
  const hidden = new SiteSet(hiddenIn(backup.tree, reading));
  const found = new Map<string, KeyOption & { readonly same: number }>();
  for (const field of reading.values.fields) {
    if (field.rowShape === -1 || (field.several && !field.tag) || !records.has(field.records[0]!)) continue;
    const key = keyOfField(field, reading.values.depths[field.rowShape]!);
    const id = JSON.stringify(key);
    const same = (found.get(id)?.same ?? 0) + 1;
    const isHidden = field.nodes.some((node, at) => hidden.has(node, field.attrs[at]!));
    found.set(id, {
      key,
      filled: field.values.length,
      distinct: field.distinct.length,
      records: records.size,
      sample: isHidden ? [] : samplesOf(field),
      same,
    });
  }
  const place: KeyOption & { readonly same: number } = {
    key: { by: 'position' },
    filled: records.size,
    distinct: records.size,
    records: records.size,
    sample: [],
    same: 1,
  };
  // A key could not say which of several it means.
  const options = [...found.values()].filter(({ same }) => same === 1);
  const missing = ({ filled, distinct }: KeyOption) => records.size - filled + (filled - distinct);
  options.sort((a, b) => missing(a) - missing(b));
  return [...options.slice(0, OPTIONS), place].map(({ same: _, ...option }) => option);
}

/**
 * Certificates; fields that hold secrets, and what fits the old box only, each with its first place.
 * @param proven the certificates with their signatures tried; null where that was not done yet.
 */
export function careOf(backup: Backup, reading: Reading, proven: readonly ProvenCertificate[] | null = null): CareView {
  return {
    certificates: (proven ?? reading.certificates).map((one) => certificateView(backup, one)),
    publicKeys: reading.publicKeys.map(({ site, keyType, comment, keyAt }) => ({
      keyType,
      comment,
      keyPlace: keyAt && placeOf(backup, keyAt),
      place: placeOf(backup, site),
    })),
    secrets: secretFields(backup, reading),
    boxBound: boundFields(backup, reading),
    documents: documentViews(backup, reading),
    documentCount: reading.embedded.length,
  };
}

function certificateView(backup: Backup, one: Certificate | ProvenCertificate): CertificateView {
  const tried = 'signature' in one ? one.signature : 'untried';
  return {
    name: shortName(one),
    issuer: shortName({ subject: one.issuer }),
    notAfter: one.notAfter,
    keyHeld: one.keyAt !== null,
    self: one.subject === one.issuer,
    signature: tried !== 'untried' ? tried : one.issuerAt === -1 ? 'not-held' : 'named',
    place: placeOf(backup, one.site),
  };
}

function secretFields(backup: Backup, reading: Reading): SecretFieldView[] {
  const { tree } = backup;
  const kindOf = new Map<string, Secret['kind']>();
  for (const { site, kind } of reading.secrets) kindOf.set(`${site.node} ${site.attr}`, kind);
  const marked = new SiteSet(reading.secrets);
  const views: SecretFieldView[] = [];
  for (const field of reading.values.fields) {
    if (field.tag) continue;
    const kinds = new Set<Secret['kind']>();
    let count = 0;
    let first = -1;
    for (let at = 0; at < field.values.length; at++) {
      const node = field.nodes[at]!;
      const attr = field.attrs[at]!;
      if (!marked.hasValue(field, at)) continue;
      if (first === -1) first = at;
      count++;
      kinds.add(kindOf.get(`${node} ${attr}`)!);
    }
    if (first === -1) continue;
    const site = { node: field.nodes[first]!, attr: field.attrs[first]! };
    views.push({
      template: field.template,
      path: templateOf(tree, site),
      kinds: [...kinds],
      count,
      total: field.values.length,
      place: placeOf(backup, site),
    });
  }
  return views;
}

function boundFields(backup: Backup, reading: Reading): BoundFieldView[] {
  const groups = new Map<
    string,
    { template: string; reason: BoxBoundReason; sign: string; count: number; at: number }
  >();
  for (const [at, one] of reading.boxBound.entries()) {
    const template = templateOf(backup.tree, one);
    const id = JSON.stringify([template, one.reason, one.sign]);
    const group = groups.get(id);
    if (group) group.count++;
    else groups.set(id, { template, reason: one.reason, sign: one.sign, count: 1, at });
  }
  return [...groups.values()].map(({ at, ...group }) => {
    const { node, attr } = reading.boxBound[at]!;
    return { ...group, place: placeOf(backup, { node, attr }) };
  });
}

function samplesOf(field: FieldData): string[] {
  return field.distinct
    .slice(0, SAMPLES)
    .map((value) => (value.length > LONGEST ? `${value.slice(0, LONGEST)}…` : value));
}
