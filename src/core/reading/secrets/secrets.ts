import { decodeBase64 } from '../../values/base64.ts';
import { x25519Public } from '../../values/key-pair.ts';
import { passwordInUrl } from '../../values/names.ts';
import { isPasswordHash, maybeDesHash } from '../../values/password-hash.ts';
import type { HeldMaterial } from '../certificates/material.ts';
import type { FieldData } from '../fields/fields.ts';
import { mapLong } from '../fields/long-lists.ts';
import type { SiteSet } from '../fields/site-set.ts';
import { partSite } from '../fields/spans.ts';
import type { Strand } from '../fields/strands.ts';
import { isOneWord } from '../names/literals.ts';
import type { Secret } from '../reading.ts';
import { passphrases } from './passphrases.ts';
import { ENOUGH, isNamed, type Look, lookAt, outspoken, saysOf } from './secret-look.ts';
import { endsInKey, type NameSays } from './secret-names.ts';
import { isOtherKind, isPlaceholder } from './secret-values.ts';
import { secretInLines } from './secrets-in-lines.ts';

type Kind = Secret['kind'];

/** What other parts of the reading say of values. */
export interface Explained {
  /** Places that certainly name a record: ids of certificates and the like. */
  readonly named: SiteSet;
  /** Places that likely name a record or a port, or should: enough to doubt a text that no name speaks for. */
  readonly taken: SiteSet;
  /** Values by which records are named. */
  readonly called: ReadonlySet<string>;
}

/**
 * The places that hold secrets: private keys, password hashes, shared secrets, passphrases. Evidence in this order: what
 * the value decodes to or is shaped like; the company it keeps in its field and record; its name. A value that names a
 * record is none, whatever it looks like; nor are public keys, empty marks such as `****`, and settings about secrets.
 */
export function readSecrets(
  strands: readonly Strand[],
  fields: readonly FieldData[],
  material: readonly HeldMaterial[],
  { named, taken, called }: Explained,
): readonly Secret[] {
  const found = new Findings(fields, named);
  const open = markMaterial(fields, material, found);
  const bare: Strand[] = [];
  const undecided: Strand[] = [];
  const guarded = new Set(strands.filter(tellsGuard).map(({ company }) => company));
  for (const strand of strands) {
    found.markTexts(strand);
    if (strand.field.aside) continue;
    const look = lookAt(strand, named, taken, called);
    if (look.free === 0) continue;
    if (look.urls > 0) found.mark(strand, 'password', (value) => passwordInUrl(value) !== null);
    if (look.hashes > 0) found.mark(strand, 'hash', isPasswordHash);
    if (holdsOpen(strand, open)) continue;
    const says = saysOf(strand) ?? (endsInKey(strand.name) && guarded.has(strand.company) ? 'shared-secret' : null);
    if (look.keys32 === look.free) bare.push(strand);
    else if (says !== 'public' && says !== 'about-secrets') {
      const kind = judge(strand, says, look);
      if (kind) found.mark(strand, kind);
      else if (
        look.free === look.plain &&
        look.distinct === look.free &&
        look.taken === 0 &&
        look.called === 0 &&
        says === null
      )
        undecided.push(strand);
    }
  }
  for (const strand of secretAmong(bare)) {
    found.mark(strand, saysOf(strand) === 'shared-secret' ? 'shared-secret' : 'private-key');
  }
  for (const strand of passphrases(strands, fields, undecided, (one) => found.has(one), taken))
    found.mark(strand, 'password');
  return found.list();
}

/** Whether a strand says how wireless networks are guarded (IEEE 802.11: SAE, PSK; and the names on the box, from memory): `wpa2-psk`. */
const tellsGuard = ({ field: { distinct } }: Strand) =>
  distinct.length <= FEW_WAYS && distinct.some((value) => value.length <= 24 && guards.test(value));
const guards = /(?:^|[^a-z])(?:wpa[23]?|sae|psk2?)(?![a-z\d])/i;
/** More different values are no choice of ways. */
const FEW_WAYS = 8;

/** What was found so far, by field and place. */
class Findings {
  private readonly kinds = new Map<FieldData, (Kind | null)[]>();
  /** By field, for each of its distinct values. */
  private readonly texts = new Map<FieldData, readonly (Kind | null)[]>();

  constructor(
    private readonly fields: readonly FieldData[],
    private readonly named: SiteSet,
  ) {}

  /** Marks those places of a strand that fit, are not marked yet, are no empty marks and name nothing. */
  mark(
    { field, places }: Pick<Strand, 'field' | 'places'>,
    kind: Kind,
    fits: (value: string) => boolean = () => true,
  ): void {
    const kinds = this.kindsOf(field);
    for (const place of places) {
      const value = field.values[place]!;
      if (kinds[place] !== null || isPlaceholder(value) || !fits(value)) continue;
      if (!isNamed(field, place, kind, this.named)) kinds[place] = kind;
    }
  }

  /** Marks texts of several settings of which one is a secret; what else they name does not matter. */
  markTexts({ field, places }: Strand): void {
    let known = this.texts.get(field);
    if (!known) {
      known = mapLong(field.distinct, (text, at) => (isOneWord(field.kinds[at]!) ? null : secretInLines(text)));
      this.texts.set(field, known);
    }
    if (known.every((kind) => kind === null)) return;
    for (const place of places) {
      const kind = known[field.which[place]!]!;
      if (kind) this.kindsOf(field)[place] = kind;
    }
  }

  private kindsOf(field: FieldData): (Kind | null)[] {
    let kinds = this.kinds.get(field);
    if (!kinds) {
      kinds = new Array<Kind | null>(field.values.length).fill(null);
      this.kinds.set(field, kinds);
    }
    return kinds;
  }

  has({ field, places }: Strand): boolean {
    const kinds = this.kinds.get(field);
    return kinds !== undefined && places.some((place) => kinds[place] !== null);
  }

  list(): readonly Secret[] {
    const secrets: Secret[] = [];
    for (const field of this.fields) {
      for (const [place, kind] of (this.kinds.get(field) ?? []).entries()) {
        if (kind) secrets.push({ site: partSite(field, place), kind });
      }
    }
    return secrets;
  }
}

/** Marks private keys; returns the places that hold public material. */
function markMaterial(
  fields: readonly FieldData[],
  material: readonly HeldMaterial[],
  found: Findings,
): ReadonlyMap<FieldData, ReadonlySet<number>> {
  const open = new Map<FieldData, Set<number>>();
  for (const { kind, field: index, place } of material) {
    const field = fields[index]!;
    if (kind === 'private-key' || kind === 'encrypted-key' || kind === 'key-store')
      found.mark({ field, places: [place] }, 'private-key');
    else if (kind === 'shared-key') found.mark({ field, places: [place] }, 'shared-secret');
    else if (open.has(field)) open.get(field)!.add(place);
    else open.set(field, new Set([place]));
  }
  return open;
}

function holdsOpen({ field, places }: Strand, open: ReadonlyMap<FieldData, ReadonlySet<number>>): boolean {
  const known = open.get(field);
  return known !== undefined && places.some((place) => known.has(place));
}

/** Whether a field holds secrets, by its values and its name; and of which kind. */
function judge({ field, places }: Strand, says: NameSays, look: Look): Kind | null {
  const kind =
    says === 'token' || says === 'private-key' || says === 'shared-secret' || says === 'password' ? says : null;
  if (look.hashes > 0) return look.hashes * 2 > look.free || kind ? 'hash' : null;
  // Others name the record by it: a key.
  if (look.called * 2 >= look.free) return null;
  if (!kind && look.taken * 2 >= look.free) return null;
  // One secret may stand in many places; without a word for it, only draws and phrases side by side are no other mark.
  const isMark = !kind && look.distinct * 2 <= look.free && look.drawn + look.phrases < look.free;
  if (look.draws > 0 && (look.drawn * 4 >= look.free || look.draws * 4 >= look.distinct) && !isMark)
    return kind ?? 'shared-secret';
  // What mostly names records names some that are gone.
  if (!kind || look.named > look.free) return null;
  if (look.digests * 2 >= look.free) return kind === 'password' ? 'hash' : kind;
  // A name alone: believed where no value is of another kind, a method's name, or one of a few words.
  const texts = valuesOf({ field, places }).filter((value) => !isPlaceholder(value));
  const credible = texts.filter((value) => !isOtherKind(value));
  if (credible.length * 2 < texts.length || credible.length === 0) return null;
  if (texts.length >= 8 && new Set(texts).size <= 3 && !texts.some((text) => outspoken(kind, text))) return null;
  if (texts.every(maybeDesHash)) return 'hash';
  return kind;
}

/**
 * Bare 32-byte keys look the same whether private, public or shared. Told by numbers (one is the other's public half,
 * RFC 7748, 6.1), by name, then by place: alone in a record that repeats it is a far end's public key, alone in the file
 * this end's own (common practice, no source). Where that leaves doubt between two they are both taken for secrets, since
 * a public key that is covered does less harm than a secret that is not.
 */
function secretAmong(bare: readonly Strand[]): readonly Strand[] {
  const known = new Map<Strand, boolean>();
  for (const strand of bare) {
    const says = saysOf(strand);
    if (says !== null && says !== 'about-secrets') known.set(strand, says !== 'public');
  }
  const all = new Set(bare.flatMap(valuesOf));
  for (const strand of bare) {
    for (const value of valuesOf(strand).slice(0, 16)) {
      const half = x25519Public(decodeBase64(value) ?? new Uint8Array());
      const text = half && base64Of(half);
      if (!text || !all.has(text)) continue;
      known.set(strand, true);
      for (const other of bare) if (other !== strand && valuesOf(other).includes(text)) known.set(other, false);
    }
  }
  return bare.filter((strand) => {
    const sure = known.get(strand);
    if (sure !== undefined) return sure;
    const beside = bare.filter((other) => other !== strand && other.company === strand.company);
    if (beside.length > 0) return !beside.some((other) => known.get(other));
    return strand.places.length === 1 && bare.length > 1;
  });
}

function valuesOf({ field, places }: Pick<Strand, 'field' | 'places'>): readonly string[] {
  return places.slice(0, ENOUGH).map((place) => field.values[place]!);
}

function base64Of(bytes: Uint8Array): string {
  const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
  let text = '';
  for (let at = 0; at < bytes.length; at += 3) {
    const group = (bytes[at]! << 16) | ((bytes[at + 1] ?? 0) << 8) | (bytes[at + 2] ?? 0);
    const left = bytes.length - at;
    text += letters[group >> 18]! + letters[(group >> 12) & 63]!;
    text += (left > 1 ? letters[(group >> 6) & 63]! : '=') + (left > 2 ? letters[group & 63]! : '=');
  }
  return text;
}
