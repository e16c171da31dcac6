import { fieldsByShape } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { Reader } from '../names/tokens.ts';
import type { Shape, Structure } from '../shapes/structure.ts';
import { isAddressField } from './role-signs.ts';

/** Fields at most of a record that only is an address of the one around it: a prefix length beside it, a switch. */
const OWN = 3;
/** So far out the record is that an address is of. */
const LEVELS = 3;

/**
 * Shapes whose records have an address: in a field of their own, in a part of them that stands once
 * (`<wan><ipv4><address>…`), or in records inside that are nothing but addresses (`<net><ip a="…" len="24"/>…`).
 * @param records by shape whether its nodes are records.
 */
export function addressedShapes(
  fields: readonly FieldData[],
  readers: readonly Reader[],
  { shapes }: Structure,
  records: readonly boolean[],
): ReadonlySet<number> {
  const byShape = fieldsByShape(fields);
  const isLiteral = ({ index, tag }: FieldData) =>
    !tag && readers[index]!.counts.kinds.slice(0, 20).every((kind) => kind === 'address' || kind === 'integer');
  const isPart = ({ index, repeated, keyedByTag }: Shape) => {
    if (!repeated && !keyedByTag) return true;
    const list = byShape.get(index) ?? [];
    return list.length <= OWN && list.every(isLiteral);
  };
  const addressed = new Set<number>();
  for (const field of fields) {
    if (field.rowShape === -1 || !isAddressField(field, readers)) continue;
    addressed.add(field.rowShape);
    let at = field.rowShape;
    for (let level = 0; level < LEVELS && isPart(shapes[at]!); level++) {
      do at = shapes[at]!.above;
      while (at !== -1 && !records[at]);
      if (at === -1) break;
      addressed.add(at);
    }
  }
  return addressed;
}
