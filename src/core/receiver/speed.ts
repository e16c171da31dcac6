/** `1000baseT`, `2500Base-T`, `2.5GBASE-T`, `10Gbase-SR`: names of media (IEEE 802.3, 1.2.3; from memory). */
const media = /(?<![\w.])(\d{1,4}(?:\.\d{1,2})?)(G?)[ -]?base/gi;
/** `1Gbps`, `1000 Mbps`, `1000Mb/s`, `25 Gbit/s`, `10GbE`; not the transfers of a bus, `5.0Gb/s:Width x1`. */
const rate = /(?<![\w.])(\d{1,6}(?:\.\d{1,3})?)[ -]?([MG])(?:b\/s|bps|bit\/s|bit|be|b)\b(?!:Width|\/s)/gi;
/** `Gigabit`, `10 Gigabit`, `10-Gigabit`. */
const gigabit = /(?:(?<![\w.])(\d{1,4}(?:\.\d{1,2})?)[ -]?)?\bgigabit/gi;
/** `10/100`, `10/100/1000`. */
const series = /\b10\/100(\/1000)?\b/g;

const MOST = 10_000_000;

/** The fastest network speed that a text speaks of, in Mbit/s; null for none. */
export function speedIn(text: string): number | null {
  let best: number | null = null;
  const add = (speed: number) => {
    if (speed >= 1 && speed <= MOST) best = Math.max(best ?? 0, Math.round(speed));
  };
  for (const [, amount, giga] of text.matchAll(media)) add(Number(amount) * (giga ? 1000 : 1));
  for (const [, amount, unit] of text.matchAll(rate)) add(Number(amount) * (unit!.toUpperCase() === 'G' ? 1000 : 1));
  for (const [, amount] of text.matchAll(gigabit)) add(Number(amount ?? 1) * 1000);
  for (const [, thousand] of text.matchAll(series)) add(thousand ? 1000 : 100);
  if (/\bfast ethernet/i.test(text)) add(100);
  return best;
}

/** The faster of two speeds of which either may be unknown. */
export function faster(a: number | null, b: number | null): number | null {
  return a === null ? b : b === null ? a : Math.max(a, b);
}
