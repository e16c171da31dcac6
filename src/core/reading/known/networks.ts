import { extentOf, type IpPrefix, parseAddress, parsePrefix } from '../../values/ip.ts';

const WIDTH = { 4: 32, 6: 128 } as const;

/** An address counts as the prefix that holds it alone. A zone after `%` is left out (RFC 4007, 11). */
export function prefixOf(value: string): IpPrefix | null {
  const cut = value.indexOf('%');
  const bare = cut === -1 ? value : value.slice(0, cut);
  const address = parseAddress(bare);
  return address ? { address, length: WIDTH[address.version], hostBits: false } : parsePrefix(bare);
}

/** Networks of one version: for each length those of that length, by the bits that they fix. */
class Version<T> {
  readonly byLength = new Map<number, Map<bigint, T>>();
  readonly firsts: bigint[] = [];
  /** Longest first. */
  lengths: readonly number[] = [];
  sorted = true;
}

/** Networks, each with what it stands for; asks cost as much as there are lengths, whatever the number of networks. */
export class Networks<T> {
  private readonly versions = { 4: new Version<T>(), 6: new Version<T>() };

  /** The first of several equal networks stays. The network of all addresses (length 0) tells nothing and is left out. */
  add({ address, length }: IpPrefix, of: T): void {
    if (length === 0) return;
    const version = this.versions[address.version];
    let held = version.byLength.get(length);
    if (!held) {
      held = new Map();
      version.byLength.set(length, held);
      version.lengths = [...version.byLength.keys()].sort((a, b) => b - a);
    }
    const host = BigInt(WIDTH[address.version] - length);
    const fixed = address.bits >> host;
    if (held.has(fixed)) return;
    held.set(fixed, of);
    version.firsts.push(fixed << host);
    version.sorted = false;
  }

  /** The smallest network that holds the whole prefix. */
  around({ address, length: own }: IpPrefix): T | null {
    const { byLength, lengths } = this.versions[address.version];
    for (const length of lengths) {
      if (length > own) continue;
      const found = byLength.get(length)!.get(address.bits >> BigInt(WIDTH[address.version] - length));
      if (found !== undefined) return found;
    }
    return null;
  }

  /** True where a network lies inside the prefix. */
  hasInside(prefix: IpPrefix): boolean {
    const { first, last } = extentOf(prefix);
    const version = this.versions[prefix.address.version];
    const { firsts } = version;
    if (!version.sorted) {
      firsts.sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
      version.sorted = true;
    }
    let low = 0;
    let high = firsts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (firsts[middle]! < first.bits) low = middle + 1;
      else high = middle;
    }
    return low < firsts.length && firsts[low]! <= last.bits;
  }
}
