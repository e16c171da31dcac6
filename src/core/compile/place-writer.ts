import { type PartSite, type Site, valueAt } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';
import { siteKey } from './edits.ts';
import type { SpanChange } from './set-values.ts';

/** Gathers new values of places, each of which is a whole value or a part of a text of several. */
export class PlaceWriter {
  readonly parts: SpanChange[] = [];
  /** Whole values, by `siteKey`. */
  readonly whole = new Map<string, { readonly site: Site; readonly value: string; readonly owner: string }>();

  constructor(private readonly tree: Tree) {}

  /** The whole value, but for white space around it, or its part of a text. */
  write(place: PartSite, text: string, owner: string): void {
    const { part, ...site } = place;
    const value = valueAt(this.tree, site);
    const from = part?.[0] ?? value.length - value.trimStart().length;
    if (from === value.length) this.whole.set(siteKey(site), { site, value: text, owner });
    else this.parts.push({ site, from, to: part?.[1] ?? value.trimEnd().length, text, owner });
  }

  /** Leaves nothing of a value. Not for parts of a text: nothing shows how the text is written without one. */
  empty(site: Site, owner: string): void {
    if (valueAt(this.tree, site) !== '') this.whole.set(siteKey(site), { site, value: '', owner });
  }
}
