import { familyOfPrivate, type PublicHalf, publicHalfOf, publicHalfOfPrivate } from '../../values/key-pair.ts';
import type { Site } from '../../xml/site.ts';
import type { PublicKey } from '../reading.ts';
import type { HeldMaterial } from './material.ts';

/** The private keys of a document by their public halves; a half is computed only once a certificate of its family asks. */
export class KeyRing {
  private readonly halves = new Map<string, Site>();
  private readonly waiting = new Map<string, HeldMaterial[]>();

  constructor(material: readonly HeldMaterial[]) {
    for (const key of material) {
      if (key.half && (key.kind === 'private-key' || key.kind === 'encrypted-key')) {
        if (!this.halves.has(key.half.mark)) this.halves.set(key.half.mark, key.site);
        continue;
      }
      const family = key.kind === 'private-key' && key.der ? familyOfPrivate(key.der) : null;
      if (!family) continue;
      const keys = this.waiting.get(family);
      if (keys) keys.push(key);
      else this.waiting.set(family, [key]);
    }
  }

  /** Where the private key to a public half is; null where the file does not hold it. */
  fitting({ mark }: PublicHalf): Site | null {
    const family = mark.slice(0, mark.indexOf(':'));
    for (const { der, site } of this.waiting.get(family) ?? []) {
      const own = publicHalfOfPrivate(der!);
      if (own && !this.halves.has(own.mark)) this.halves.set(own.mark, site);
    }
    this.waiting.delete(family);
    return this.halves.get(mark) ?? null;
  }
}

/** The public keys that stand by themselves, each with the private key that it belongs to. */
export function readPublicKeys(material: readonly HeldMaterial[]): readonly PublicKey[] {
  const open = material.filter(({ kind }) => kind === 'public-key');
  if (open.length === 0) return [];
  const keys = new KeyRing(material);
  return open.flatMap(({ site, der, half: shown, comment = '' }) => {
    const half = shown ?? (der && publicHalfOf(der));
    return half ? [{ site, keyType: half.keyType, comment, keyAt: keys.fitting(half) }] : [];
  });
}
