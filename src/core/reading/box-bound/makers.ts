import { isGroupMac, maybeMac, parseMac } from '../../values/mac.ts';

/** What the MAC addresses of one maker begin with (RFC 9542, 2.1): twelve digits without marks that share it are no ids. */
export class Makers {
  private readonly values = new Map<string, Set<string>>();

  /** @param texts of the document, each once or more. */
  constructor(texts: Iterable<string>) {
    for (const text of texts) {
      if (!maybeMac(text)) continue;
      const value = text.toLowerCase();
      const maker = value.slice(0, 6);
      const known = this.values.get(maker);
      if (known) known.add(value);
      else this.values.set(maker, new Set([value]));
    }
  }

  /** Whether values are addresses of stations without marks. */
  areMacs(values: readonly string[]): boolean {
    if (values.length === 0 || !values.every(maybeMac)) return false;
    if (values.some((value) => isGroupMac(parseMac(value)!))) return false;
    const shared = values.filter((value) => (this.values.get(value.slice(0, 6).toLowerCase())?.size ?? 0) > 1);
    return shared.length * 2 > values.length;
  }
}
