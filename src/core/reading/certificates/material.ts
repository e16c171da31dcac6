import { type Material, materialIn } from '../../values/key-material.ts';
import type { Site } from '../../xml/site.ts';
import type { FieldData } from '../fields/fields.ts';

/** A certificate or key and where it is written; a value that holds several gives one entry for each. */
export interface HeldMaterial extends Material {
  readonly site: Site;
  /** Index of the field. */
  readonly field: number;
  /** Which of the field's places. */
  readonly place: number;
}

/** All certificates and keys of the document, in its order. */
export function readMaterial(fields: readonly FieldData[]): readonly HeldMaterial[] {
  const held: HeldMaterial[] = [];
  for (const field of fields) {
    const known = new Map<number, readonly Material[]>();
    for (const [at, value] of field.distinct.entries()) {
      const found = materialIn(value);
      if (found.length > 0) known.set(at, found);
    }
    if (known.size === 0) continue;
    for (const [place, at] of field.which.entries()) {
      for (const material of known.get(at) ?? []) {
        const site = { node: field.nodes[place]!, attr: field.attrs[place]! };
        held.push({ ...material, site, field: field.index, place });
      }
    }
  }
  return held.sort((a, b) => a.site.node - b.site.node || a.site.attr - b.site.attr);
}
