import { type Cabling, type Cord, cordsOf } from './cords.ts';
import {
  bottom,
  type Columns,
  columnsFor,
  type Flag,
  flagsOf,
  GAP,
  type NewPlate,
  newPlates,
  type OldPlate,
  oldPlates,
  ROW,
} from './plates.ts';
import type { Socket } from './sockets.ts';
import { type Bundle, bundleOf, fans, lanesFor, shiftsFor, waysOf } from './ways.ts';

/** Between two strands of a harness, and the widest that all of one may be, in units of CSS. */
const STRAND = 4.5;
const WIDEST = 26;

export interface Bay {
  readonly height: number;
  readonly columns: Columns;
  readonly old: readonly OldPlate[];
  readonly flags: readonly Flag[];
  readonly fresh: readonly NewPlate[];
  /** Where a harness leaves its port: its middle, how many cords it has, and whether they end together. */
  readonly harnesses: readonly { readonly y: number; readonly size: number; readonly whole: boolean }[];
  /** In drawing order: later ones cross over earlier ones. */
  readonly bundles: readonly Bundle[];
}

/**
 * The bay for a width; roles stand in the middle in the order of the old box.
 * @param ends whether a cord ends somewhere: its role goes along and sits on a port.
 */
export function layBay(
  { rows, portless }: Cabling,
  sockets: readonly Socket[],
  width: number,
  ends: (cord: Cord) => boolean,
): Bay {
  const columns = columnsFor(width);
  const old = oldPlates(rows);
  const fresh = newPlates(sockets);
  const flags = flagsOf(old, portless);
  const ways = waysOf(old, fresh, flags, ends);
  const most = Math.max(1, ...rows.map((row) => cordsOf(row).length));
  const step = Math.min(STRAND, WIDEST / most);
  const gather = columns.flag.left + columns.flag.width + 22 + most * step;
  const lanes = lanesFor(ways, gather, columns.fresh.left - 14, step);
  const shifts = shiftsFor(ways, lanes, step);
  const bundles = ways.map((way, at) => bundleOf(way, columns, lanes[at]!, shifts[at]!, step, gather));
  const height = Math.max(0, ...[...old, ...fresh].map(bottom), ...flags.map(({ y }) => y + ROW / 2)) + GAP;
  return {
    height,
    columns,
    old,
    flags,
    fresh,
    harnesses: harnessesOf(old, ends),
    bundles: [...fans(old, columns, step), ...bundles],
  };
}

const harnessesOf = (old: readonly OldPlate[], ends: (cord: Cord) => boolean): Bay['harnesses'] =>
  old.flatMap(({ row, entries, y }) => {
    const cords = cordsOf(row);
    if (cords.length < 2 || entries[0]!.cord !== null) return [];
    const places = new Set(cords.map((cord) => (ends(cord) ? cord.end!.socket : null)));
    return [{ y, size: cords.length, whole: places.size === 1 }];
  });
