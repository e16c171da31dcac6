import type { Span } from './reading.ts';

/** Sites, looked up fast. */
export class SiteSet {
  private readonly sites = new Set<number>();

  constructor(spans: readonly Pick<Span, 'site'>[]) {
    for (const { site } of spans) this.sites.add(keyOf(site.node, site.attr));
  }

  has(node: number, attr: number): boolean {
    return this.sites.has(keyOf(node, attr));
  }
}

function keyOf(node: number, attr: number): number {
  return node * 0x1000000 + attr + 2;
}
