/** A chamfer at 45°, in units of CSS. */
export const CUT = 6;

export type Point = readonly [x: number, y: number];

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
