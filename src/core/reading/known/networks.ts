import { extentOf, type IpAddress, type IpPrefix, parseAddress, parsePrefix } from '../../values/ip.ts';

const WIDTH = { 4: 32, 6: 128 } as const;

/** An address counts as the prefix that holds it alone. A zone after `%` is left out (RFC 4007, 11). */
export function prefixOf(value: string): IpPrefix | null {
  const cut = value.indexOf('%');
  const bare = cut === -1 ? value : value.slice(0, cut);
  const address = parseAddress(bare);
  return address ? { address, length: WIDTH[address.version], hostBits: false } : parsePrefix(bare);
}

const id = (address: IpAddress, length: number) =>
  `${address.version}/${length}/${extentOf({ address, length, hostBits: false }).first.bits}`;

/** Networks, each with what it stands for; asks cost as much as there are lengths, whatever the number of networks. */
export class Networks<T> {
  private readonly held = new Map<string, T>();
  private readonly lengths = { 4: new Set<number>(), 6: new Set<number>() };
  private readonly firsts = { 4: [] as bigint[], 6: [] as bigint[] };
  private sorted = true;

  /** The first of several equal networks stays. The network of all addresses (length 0) tells nothing and is left out. */
  add(prefix: IpPrefix, of: T): void {
    if (prefix.length === 0) return;
    const { version } = prefix.address;
    const key = id(prefix.address, prefix.length);
    if (this.held.has(key)) return;
    this.held.set(key, of);
    this.lengths[version].add(prefix.length);
    this.firsts[version].push(extentOf(prefix).first.bits);
    this.sorted = false;
  }

  /** The smallest network that holds the whole prefix. */
  around(prefix: IpPrefix): T | null {
    const { version } = prefix.address;
    const lengths = [...this.lengths[version]].filter((length) => length <= prefix.length).sort((a, b) => b - a);
    for (const length of lengths) {
      const found = this.held.get(id(prefix.address, length));
      if (found !== undefined) return found;
    }
    return null;
  }

  /** True where a network lies inside the prefix. */
  hasInside(prefix: IpPrefix): boolean {
    const { first, last } = extentOf(prefix);
    const firsts = this.sort()[prefix.address.version];
    let low = 0;
    let high = firsts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (firsts[middle]! < first.bits) low = middle + 1;
      else high = middle;
    }
    return low < firsts.length && firsts[low]! <= last.bits;
  }

  private sort() {
    if (!this.sorted) {
      for (const version of [4, 6] as const) this.firsts[version].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
      this.sorted = true;
    }
    return this.firsts;
  }
}
