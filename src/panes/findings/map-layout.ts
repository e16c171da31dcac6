import type { SubnetView } from '../../core/index.ts';

/** Drawn one by one up to this many; the table holds the rest. */
export const MOST = 40;

/** Sizes in units of CSS. */
export const ROW = 42;
export const BAR = 15;
const LABELS = 142;
const RIGHT = 14;
const RULER = 30;
const HEAD = 26;
/** A bar is drawn at least so wide. */
const LEAST = 3;

export interface Bar {
  readonly subnet: SubnetView;
  /** Its number among all networks. */
  readonly at: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  /** Set where it is longer or of another kind than the ruler: what its own length stands for. */
  readonly scale: string | null;
}

export interface MapLayout {
  readonly width: number;
  readonly height: number;
  /** Where the ruler of 256 addresses stands: the top of its line, its left end, its length. Null without version 4. */
  readonly ruler: { readonly x: number; readonly y: number; readonly width: number; readonly bottom: number } | null;
  readonly bars: readonly Bar[];
  /** Where version 6 begins; null without it. */
  readonly sixAt: number | null;
  /** How many are not drawn. */
  readonly rest: number;
}

/** Addresses in a network, in words: 512, or a power of two where nobody counts any more. */
export function sizeWords({ version, length }: Pick<SubnetView, 'version' | 'length'>): string {
  const bits = (version === 4 ? 32 : 128) - length;
  return bits > 24
    ? `2^${bits} addresses`
    : bits === 0
      ? 'one address'
      : `${(2 ** bits).toLocaleString('en')} addresses`;
}

/**
 * Networks as bars under one another, in the order of their addresses. Those of version 4 with up to 256 addresses lie on a
 * common ruler of one /24; each other one has its own length, said beside it.
 */
export function layMap(subnets: readonly SubnetView[], width: number): MapLayout {
  const shown = subnets.slice(0, MOST);
  const x = LABELS;
  const length = Math.max(120, width - LABELS - RIGHT);
  const hasFour = shown.some(({ version }) => version === 4);
  let y = hasFour ? RULER + 12 : 0;
  let sixAt: number | null = null;
  let bottom = y;
  const bars: Bar[] = [];
  for (const [at, subnet] of shown.entries()) {
    if (subnet.version === 6 && sixAt === null) {
      sixAt = y + 6;
      y += HEAD;
    }
    const onRuler = subnet.version === 4 && subnet.length >= 24;
    const size = onRuler ? 2 ** (32 - subnet.length) : 256;
    bars.push({
      subnet,
      at,
      x: onRuler ? x + (subnet.start / 256) * length : x,
      y,
      width: Math.max(LEAST, (size / 256) * length),
      scale: onRuler ? null : sizeWords(subnet),
    });
    y += ROW;
    if (subnet.version === 4) bottom = y;
  }
  const ruler = hasFour ? { x, y: RULER, width: length, bottom: bottom - 8 } : null;
  return { width, height: y, ruler, bars, sixAt, rest: subnets.length - shown.length };
}
