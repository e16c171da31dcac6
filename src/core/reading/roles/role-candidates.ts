import type { FieldData } from '../fields/fields.ts';
import type { KeyField } from '../keys/key-table.ts';

/** Where it may be written which role sits on which device. */
export interface Candidate {
  shape: number;
  /** Fields that hold the device, or its key; a record may have any of them. */
  places: readonly FieldData[];
  via: FieldData | null;
  /** The key by which `via` names the role. */
  by: KeyField | null;
  /** Whether the role is the record around the one that holds the device. */
  around: boolean;
  /** Whether the joining record has an address, or the role: one of several tables that say so. */
  told: boolean;
  weight: number;
}

/** Of networks that are followed to their devices one by one. */
export const NOWHERE = { places: [], via: null, by: null, around: false, told: false };

/** More kinds of record are not followed. */
const MOST = 6;

/** The shapes that pass, those first whose records are named most often: some of them. */
export function mostNamed(named: ReadonlyMap<number, number>, test: (shape: number) => boolean) {
  return [...named]
    .filter(([shape]) => test(shape))
    .map(([shape, times]) => ({ shape, times }))
    .sort((a, b) => b.times - a.times)
    .slice(0, MOST);
}
