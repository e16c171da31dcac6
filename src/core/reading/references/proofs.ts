import type { KindMarks } from '../names/kind-marks.ts';
import type { KindsBeside } from '../names/kinds-beside.ts';
import type { SeatLinks } from '../numbers/seat-numbers.ts';
import type { Proof } from './score.ts';

/** By field the keys that it surely names records by, and what proves that. */
export type Proofs = ReadonlyMap<number, ReadonlyMap<number, Proof>>;

/** What is proven of fields, each kind of proof being by field the key. */
export function proofsOf(
  issuers: ReadonlyMap<number, number>,
  tags: ReadonlyMap<number, number>,
  seats: SeatLinks,
  kinds: ReadonlyMap<number, KindMarks>,
  beside: ReadonlyMap<number, KindsBeside>,
): Proofs {
  const proofs = new Map<number, Map<number, Proof>>();
  const add = (field: number, key: number, proof: Proof) => {
    const known = proofs.get(field);
    if (known) known.set(key, proof);
    else proofs.set(field, new Map([[key, proof]]));
  };
  for (const [field, key] of tags) add(field, key, 'vlan');
  for (const [field, key] of [...seats.ports, ...seats.parts]) add(field, key, 'seat');
  for (const [field, { marks }] of kinds) for (const { key } of marks) add(field, key, 'kind');
  for (const [field, { keys }] of beside) for (const key of new Set(keys)) if (key !== -1) add(field, key, 'kind');
  for (const [field, key] of issuers) add(field, key, 'issuer');
  return proofs;
}
