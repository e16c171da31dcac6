import { type Cord, cordsOf } from './cords.ts';
import { type Columns, type Flag, type NewPlate, type OldPlate, ROW } from './plates.ts';
import { CUT, type Point, route } from './route.ts';

/** Between two harnesses that come in at one socket, in units of CSS. */
const BESIDE = 6;

export interface Strand {
  readonly no: number;
  readonly d: string;
}

/** Cords that come from one port and end on one port. */
export interface Bundle {
  readonly key: string;
  readonly strands: readonly Strand[];
  /** Ways that end nowhere: they hang down to a ring. */
  readonly loose: readonly (Strand & { readonly cord: Cord; readonly x: number; readonly y: number })[];
  /** A port without any role: its way is drawn as a hairline. */
  readonly hair: string | null;
  /** The way of a harness between its collar and the new socket, and its width; null for a single cord. */
  readonly sheath: { readonly d: string; readonly width: number } | null;
  /** Collars of a harness. */
  readonly collars: readonly { readonly x: number; readonly y: number; readonly height: number }[];
}

export interface Way {
  readonly key: string;
  /** Where its cords are gathered. */
  readonly y: number;
  /** None for a port without any role. */
  readonly cords: readonly Flag[];
  /** Null for ways that end nowhere. */
  readonly to: NewPlate | null;
}

/** One way for all cords between two ports, and for each port without roles. */
export function waysOf(
  old: readonly OldPlate[],
  fresh: readonly NewPlate[],
  flags: readonly Flag[],
  ends: (cord: Cord) => boolean,
): Way[] {
  const from = new Map(old.flatMap((plate) => cordsOf(plate.row).map((cord) => [cord, plate] as const)));
  const plates = new Map(fresh.map((plate) => [plate.socket.name, plate]));
  const groups = new Map<string, { plate: OldPlate | null; to: NewPlate | null; cords: Flag[] }>();
  for (const flag of flags) {
    const { cord } = flag;
    const plate = from.get(cord) ?? null;
    const to = ends(cord) ? (plates.get(cord.end!.socket) ?? null) : null;
    const key = `${plate?.row.name ?? `role ${cord.no}`} > ${to?.socket.name ?? ''}`;
    const group = groups.get(key);
    if (group) group.cords.push(flag);
    else groups.set(key, { plate, to, cords: [flag] });
  }
  // The row of a trunk's own head is free for the largest of its harnesses.
  const heads = new Map<OldPlate, Way['cords']>();
  for (const { plate, to, cords } of groups.values()) {
    if (plate && to && cords.length > (heads.get(plate)?.length ?? 1)) heads.set(plate, cords);
  }
  const empty = old.flatMap((plate): Way[] => {
    const to = plates.get(plate.row.to);
    if (!to || cordsOf(plate.row).length > 0) return [];
    return [{ key: `${plate.row.name} > ${plate.row.to}`, to, cords: [], y: plate.y }];
  });
  const full = [...groups].map(([key, { plate, to, cords }]): Way => {
    const y =
      cords.length === 1
        ? cords[0]!.y
        : plate && heads.get(plate) === cords
          ? plate.y
          : cords[0]!.y - (plate && cords[0]!.y === plate.y ? 0 : ROW / 2);
    return { key, to, cords, y };
  });
  return [...empty, ...full];
}

const thickness = ({ cords }: Way, step: number) => Math.max(1, cords.length) * step;

/**
 * One level lane for each way. Of the ways that go up the topmost turns first, of those that go down the lowest, so that
 * ways of one direction never cross.
 */
export function lanesFor(ways: readonly Way[], left: number, right: number, step: number): number[] {
  const order = ways.flatMap(({ to }, at) => (to ? [at] : [])).sort((a, b) => ways[a]!.y - ways[b]!.y);
  const rise = (at: number) => ways[at]!.to!.y < ways[at]!.y;
  const sorted = [...order.filter(rise), ...order.filter((at) => !rise(at)).reverse()];
  const widths = sorted.map((at) => thickness(ways[at]!, step));
  const total = widths.reduce((sum, width) => sum + width, 0);
  const gap = Math.max(2, (right - left - total) / (sorted.length + 1));
  const lanes: number[] = ways.map(() => left);
  let x = left;
  sorted.forEach((at, place) => {
    x += gap;
    lanes[at] = Math.min(right, x + widths[place]! / 2);
    x += widths[place]!;
  });
  return lanes;
}

/** Where several ways come in at one socket, each lies beside the other; those from above lie above. */
export function shiftsFor(ways: readonly Way[], lanes: readonly number[], step: number): number[] {
  const shifts = ways.map(() => 0);
  const byPlate = new Map<NewPlate, number[]>();
  ways.forEach(({ to }, at) => {
    if (to) byPlate.set(to, [...(byPlate.get(to) ?? []), at]);
  });
  for (const [plate, list] of byPlate) {
    if (list.length === 1) continue;
    const above = (at: number) => ways[at]!.y <= plate.y;
    // From above the lane that is furthest right comes in on top, from below it comes in lowest.
    list.sort(
      (a, b) => Number(above(b)) - Number(above(a)) || (above(a) ? lanes[b]! - lanes[a]! : lanes[a]! - lanes[b]!),
    );
    const widths = list.map((at) => thickness(ways[at]!, step));
    const total = widths.reduce((sum, width) => sum + width, 0) + BESIDE * (list.length - 1);
    let y = -total / 2;
    list.forEach((at, place) => {
      shifts[at] = y + widths[place]! / 2;
      y += widths[place]! + BESIDE;
    });
  }
  return shifts;
}

/** From each port of the old box to the flags of its roles. */
export function fans(old: readonly OldPlate[], { old: column, flag }: Columns, step: number): Bundle[] {
  const oldX = column.left + column.width;
  return old.flatMap((plate): Bundle[] => {
    const entries = plate.entries.filter((entry) => entry.cord !== null);
    if (entries.length === 0) return [];
    const many = entries.length;
    const alone = many === 1 && entries[0]!.y === plate.y;
    const strands = entries.map(({ cord, y }, at) => {
      const off = (at - (many - 1) / 2) * step;
      const fan = flag.left - 26 - at * step;
      return {
        no: cord!.no,
        d: route([
          [oldX, plate.y + off],
          [fan, plate.y + off],
          [fan, y],
          [flag.left, y],
        ]),
      };
    });
    const height = many * step + 6;
    const collars = alone ? [] : [{ x: oldX + 14, y: plate.y - height / 2, height }];
    return [{ key: `${plate.row.name} fan`, strands, loose: [], hair: null, sheath: null, collars }];
  });
}

/** From the flags to the new box. */
export function bundleOf(
  { key, cords, to, y: from }: Way,
  { old, flag, fresh }: Columns,
  lane: number,
  shift: number,
  step: number,
  gather: number,
): Bundle {
  const flagEnd = flag.left + flag.width;
  if (!to) {
    const x = flagEnd + 46;
    const loose = cords.map(({ cord, y }) => ({
      no: cord.no,
      cord,
      d: `M${flagEnd} ${y}H${x - CUT}L${x} ${y + CUT}V${y + 12}`,
      x,
      y: y + 17,
    }));
    return { key, strands: [], loose, hair: null, sheath: null, collars: [] };
  }
  const many = cords.length;
  const end = to.y + shift;
  if (many === 0) {
    const hair = route([
      [old.left + old.width, from],
      [lane, from],
      [lane, end],
      [fresh.left, end],
    ]);
    return { key, strands: [], loose: [], hair, sheath: null, collars: [] };
  }
  const down = end >= from;
  const strands = cords.map(({ cord, y }, at) => {
    const off = (at - (many - 1) / 2) * step;
    const rise = flagEnd + 8 + at * step;
    const turn = down ? lane - off : lane + off;
    const start: Point[] =
      many === 1
        ? [[flagEnd, y]]
        : [
            [flagEnd, y],
            [rise, y],
            [rise, from + off],
          ];
    return { no: cord.no, d: route([...start, [turn, from + off], [turn, end + off], [fresh.left, end + off]]) };
  });
  if (many === 1) return { key, strands, loose: [], hair: null, sheath: null, collars: [] };
  const height = many * step + 6;
  const sheath = {
    d: route([
      [gather + 3, from],
      [lane, from],
      [lane, end],
      [fresh.left, end],
    ]),
    width: many * step + 5,
  };
  return {
    key,
    strands,
    loose: [],
    hair: null,
    sheath,
    collars: [{ x: gather - 8, y: from - height / 2, height }],
  };
}
