import { byName, type Cord, cordsOf, type Device, type PortRow } from './cords.ts';

/** Units of CSS. A row of the bay; what lies between two plates; a chamfer at 45°; between two strands of a harness. */
export const ROW = 37;
const GAP = 5;
const CUT = 6;
const STRAND = 4.5;

export interface Entry {
  readonly device: Device;
  readonly cord: Cord | null;
  /** Middle of its row. */
  readonly y: number;
}

export interface Plate {
  readonly name: string;
  /** Ports of the old box that it stands for: one, or more where they clash. */
  readonly rows: readonly PortRow[];
  readonly top: number;
  readonly height: number;
  readonly entries: readonly Entry[];
  /** Middle of its socket. */
  readonly y: number;
}

export interface Strand {
  readonly no: number;
  readonly d: string;
}

export interface Bay {
  readonly height: number;
  readonly columns: { readonly old: Column; readonly flag: Column; readonly fresh: Column };
  readonly old: readonly Plate[];
  readonly fresh: readonly Plate[];
  /** In drawing order: later ones cross over earlier ones. */
  readonly bundles: readonly Bundle[];
}

interface Column {
  readonly left: number;
  readonly width: number;
}

export interface Bundle {
  readonly row: PortRow;
  readonly strands: readonly Strand[];
  /** Ways of roles that stay behind: they hang down to a ring. */
  readonly loose: readonly (Strand & { readonly x: number; readonly y: number })[];
  /** A port without any role: its way is drawn as a hairline. */
  readonly hair: string | null;
  /** The way of a harness between its collar and the new socket, and its width; null for a single cord. */
  readonly sheath: { readonly d: string; readonly width: number } | null;
  /** Both collars of a harness. */
  readonly collars: readonly { readonly x: number; readonly y: number; readonly height: number }[];
}

/** The bay for a width; roles stand in the middle in the order of the old box, the new box half a row lower. */
export function layBay(rows: readonly PortRow[], width: number, stays: (cord: Cord) => boolean): Bay {
  const columns = columnsFor(width);
  const old = stack(
    rows.map((row) => [row]),
    (row) => row.name,
    ROW / 2,
  );
  const groups = new Map<string, PortRow[]>();
  for (const row of [...rows].sort((a, b) => byName(a.to, b.to)))
    groups.set(row.to, [...(groups.get(row.to) ?? []), row]);
  const fresh = stack([...groups.values()], (row) => row.to, ROW);
  const ways = rows.map((row) => {
    const from = old.find((plate) => plate.rows[0] === row)!;
    const to = fresh.find((plate) => plate.rows.includes(row))!;
    return { row, from, to };
  });
  const widest = Math.max(...ways.map(({ row }) => cordsOf(row).length), 1);
  const step = Math.min(STRAND, 26 / widest);
  const left = columns.flag.left + columns.flag.width + 22 + widest * step;
  const lanes = lanesFor(ways, left, columns.fresh.left - 14, step);
  const bundles = ways.map((way, at) => bundleOf(way, columns, lanes[at]!, step, left, stays));
  const height = Math.max(...old.map(bottom), ...fresh.map(bottom), 0) + GAP;
  return { height, columns, old, fresh, bundles };
}

const bottom = (plate: Plate) => plate.top + plate.height;

function columnsFor(width: number): Bay['columns'] {
  // A wider bay has room for whole names.
  const spare = Math.max(0, width - 970);
  const plate = 196 + Math.min(40, spare * 0.1);
  const flag = 190 + Math.min(130, spare * 0.25);
  const fresh = 224 + Math.min(150, spare * 0.25);
  const right = width - 12 - fresh;
  const old = { left: 62, width: plate };
  const middle = old.left + plate + Math.max(84, (right - old.left - plate - flag) * 0.3);
  return { old, flag: { left: middle, width: flag }, fresh: { left: right, width: fresh } };
}

function stack(groups: readonly (readonly PortRow[])[], nameOf: (row: PortRow) => string, start: number): Plate[] {
  let y = start;
  return groups.map((rows) => {
    const entries: Entry[] = [];
    const first = y;
    for (const row of rows) {
      for (const device of row.devices) {
        for (const cord of device.roles.length ? device.roles : [null]) {
          entries.push({ device, cord, y });
          y += ROW;
        }
      }
    }
    // What is wrong is said inside the plate.
    if (rows.length > 1) y += ROW;
    const plate = {
      name: nameOf(rows[0]!),
      rows,
      top: first - ROW / 2,
      height: y - first - GAP,
      entries,
      y: first - GAP / 2,
    };
    return { ...plate, entries: entries.map((entry) => ({ ...entry, y: entry.y - GAP / 2 })) };
  });
}

interface Way {
  readonly row: PortRow;
  readonly from: Plate;
  readonly to: Plate;
}

/**
 * One level lane for each way. Of the ways that go up the topmost turns first, of those that go down the lowest, so that
 * ways of one direction never cross.
 */
function lanesFor(ways: readonly Way[], left: number, right: number, step: number): number[] {
  const order = ways.map((_, at) => at);
  const rise = (at: number) => ways[at]!.to.y < ways[at]!.from.y;
  const sorted = [...order.filter(rise), ...order.filter((at) => !rise(at)).reverse()];
  const widths = sorted.map((at) => Math.max(1, cordsOf(ways[at]!.row).length) * step);
  const total = widths.reduce((sum, width) => sum + width, 0);
  const gap = Math.max(2, (right - left - total) / (sorted.length + 1));
  const lanes: number[] = [];
  let x = left;
  sorted.forEach((at, place) => {
    x += gap;
    lanes[at] = Math.min(right, x + widths[place]! / 2);
    x += widths[place]!;
  });
  return lanes;
}

function bundleOf(
  way: Way,
  { old, flag, fresh }: Bay['columns'],
  lane: number,
  step: number,
  gather: number,
  stays: (cord: Cord) => boolean,
): Bundle {
  const { row, from, to } = way;
  const oldX = old.left + old.width;
  const flagEnd = flag.left + flag.width;
  const entries = from.entries.filter((entry) => entry.cord !== null);
  if (entries.length === 0) {
    const hair = route([
      [oldX, from.y],
      [lane, from.y],
      [lane, to.y],
      [fresh.left, to.y],
    ]);
    return { row, strands: [], loose: [], hair, sheath: null, collars: [] };
  }
  const alone = entries.length === 1 && entries[0]!.y === from.y;
  const many = entries.length;
  const down = to.y >= from.y;
  const strands: Strand[] = [];
  const loose: Bundle['loose'][number][] = [];
  entries.forEach(({ cord, y }, at) => {
    const off = (at - (many - 1) / 2) * step;
    const { no } = cord!;
    const fan = flag.left - 26 - at * step;
    strands.push({
      no,
      d: route([
        [oldX, from.y + off],
        [fan, from.y + off],
        [fan, y],
        [flag.left, y],
      ]),
    });
    if (!stays(cord!)) {
      const x = flagEnd + 46;
      loose.push({ no, d: `M${flagEnd} ${y}H${x - CUT}L${x} ${y + CUT}V${y + 12}`, x, y: y + 17 });
      return;
    }
    const rise = flagEnd + 8 + at * step;
    const turn = down ? lane - off : lane + off;
    const points: Point[] = alone
      ? [
          [flagEnd, y],
          [turn, y],
        ]
      : [
          [flagEnd, y],
          [rise, y],
          [rise, from.y + off],
          [turn, from.y + off],
        ];
    strands.push({
      no,
      d: route([...points, [turn, to.y + off + entryShift(to, row)], [fresh.left, to.y + off + entryShift(to, row)]]),
    });
  });
  const height = many * step + 6;
  const collars = alone
    ? []
    : [
        { x: oldX + 14, y: from.y - height / 2, height },
        { x: gather - 8, y: from.y - height / 2, height },
      ];
  const sheath =
    alone || loose.length === many
      ? null
      : {
          d: route([
            [gather + 3, from.y],
            [lane, from.y],
            [lane, to.y + entryShift(to, row)],
            [fresh.left, to.y + entryShift(to, row)],
          ]),
          width: many * step + 5,
        };
  return { row, strands, loose, hair: null, sheath, collars };
}

/** Where several ports clash on one socket, each comes in beside the other. */
function entryShift(plate: Plate, row: PortRow): number {
  return plate.rows.length === 1 ? 0 : (plate.rows.indexOf(row) - (plate.rows.length - 1) / 2) * 9;
}

type Point = readonly [x: number, y: number];

/** A way of level and upright runs, its corners cut at 45°. */
export function route(points: readonly Point[]): string {
  const way = points.filter(([x, y], at) => at === 0 || x !== points[at - 1]![0] || y !== points[at - 1]![1]);
  let d = `M${way[0]![0]} ${way[0]![1]}`;
  for (let at = 1; at < way.length; at++) {
    const [x, y] = way[at]!;
    const next = way[at + 1];
    if (!next) {
      d += `L${x} ${y}`;
      break;
    }
    const [px, py] = way[at - 1]!;
    const before = Math.hypot(x - px, y - py);
    const after = Math.hypot(next[0] - x, next[1] - y);
    const cut = Math.min(CUT, before / 2, after / 2);
    d += `L${x - Math.sign(x - px) * cut} ${y - Math.sign(y - py) * cut}`;
    d += `L${x + Math.sign(next[0] - x) * cut} ${y + Math.sign(next[1] - y) * cut}`;
  }
  return d;
}
