import { TAG, TEXT } from '../xml/site.ts';
import type { Span } from './reading.ts';

type Spans = readonly Pick<Span, 'site'>[];

/** Sites, looked up fast: a mark for each element, tag and attribute. */
export class SiteSet {
  private readonly texts: Uint8Array;
  private readonly tags: Uint8Array;
  private readonly attributes: Uint8Array;

  constructor(...lists: readonly Spans[]) {
    let nodes = 0;
    let attributes = 0;
    for (const spans of lists) {
      for (const { site } of spans) {
        if (site.node >= nodes) nodes = site.node + 1;
        if (site.attr >= attributes) attributes = site.attr + 1;
      }
    }
    this.texts = new Uint8Array(nodes);
    this.tags = new Uint8Array(nodes);
    this.attributes = new Uint8Array(attributes);
    for (const spans of lists) {
      for (const { site } of spans) {
        if (site.attr >= 0) this.attributes[site.attr] = 1;
        else if (site.attr === TAG) this.tags[site.node] = 1;
        else this.texts[site.node] = 1;
      }
    }
  }

  has(node: number, attr: number): boolean {
    if (attr >= 0) return this.attributes[attr] === 1;
    return (attr === TEXT ? this.texts : this.tags)[node] === 1;
  }
}
