import { type PartSite, TAG, TEXT } from '../../xml/site.ts';
import type { FieldData } from './fields.ts';

type Spans = readonly {
  readonly site: PartSite;
  readonly from?: number;
  readonly to?: number;
  readonly value?: string;
}[];

/** Sites, looked up fast: a mark for each element, tag and attribute. */
export class SiteSet {
  private readonly texts: Uint8Array;
  private readonly tags: Uint8Array;
  private readonly attributes: Uint8Array;
  private readonly lists: readonly Spans[];
  /** By site where spans in it begin and end; made when first asked for. */
  private spans: Map<string, (readonly [from: number, to: number])[]> | null = null;

  constructor(...lists: readonly Spans[]) {
    this.lists = lists;
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

  /** As `has`, for one value of a field: of a text of several only what is said of this one counts. */
  hasValue({ nodes, attrs, begins, values }: FieldData, place: number): boolean {
    const [node, attr] = [nodes[place]!, attrs[place]!];
    if (!begins || !this.has(node, attr)) return this.has(node, attr);
    this.spans ??= spansOf(this.lists);
    const begin = begins[place]!;
    const end = begin + values[place]!.length;
    return this.spans.get(`${node} ${attr}`)!.some(([from, to]) => from < end && begin < to);
  }

  has(node: number, attr: number): boolean {
    if (attr >= 0) return this.attributes[attr] === 1;
    return (attr === TEXT ? this.texts : this.tags)[node] === 1;
  }
}

/** What has no span of its own is about all that stands there; `to` of a reference is a record, and its value tells the end. */
function spansOf(lists: readonly Spans[]): Map<string, (readonly [from: number, to: number])[]> {
  const spans = new Map<string, (readonly [from: number, to: number])[]>();
  for (const list of lists) {
    for (const { site, from = site.part?.[0] ?? 0, to = site.part?.[1], value } of list) {
      const key = `${site.node} ${site.attr}`;
      const span = [from, value === undefined ? (to ?? Number.POSITIVE_INFINITY) : from + value.length] as const;
      const own = spans.get(key);
      if (own) own.push(span);
      else spans.set(key, [span]);
    }
  }
  return spans;
}
