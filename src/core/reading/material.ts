import { type Material, materialIn } from '../values/key-material.ts';
import type { Site } from '../xml/site.ts';
import type { Field } from './fields.ts';

/** A certificate or key and where it is written; a value that holds several gives one entry for each. */
export interface HeldMaterial extends Material {
  readonly site: Site;
  /** Index of the field. */
  readonly field: number;
  /** Which of the field's places. */
  readonly place: number;
}

/** All certificates and keys of the document, in its order. */
export function readMaterial(fields: readonly Field[]): readonly HeldMaterial[] {
  const held: HeldMaterial[] = [];
  for (const field of fields) {
    for (let place = 0; place < field.values.length; place++) {
      const value = field.values[place]!;
      if (value.length < 40) continue;
      for (const material of materialIn(value)) {
        held.push({
          ...material,
          site: { node: field.nodes[place]!, attr: field.attrs[place]! },
          field: field.index,
          place,
        });
      }
    }
  }
  return held.sort((a, b) => a.site.node - b.site.node || a.site.attr - b.site.attr);
}
