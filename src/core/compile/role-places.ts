import type { Binding, Reading, Role } from '../reading/reading.ts';
import { likeSite } from '../xml/like-site.ts';
import { type PartSite, type Site, valueAt } from '../xml/site.ts';
import { isWithin, type Tree } from '../xml/tree.ts';
import { siteKey } from './edits.ts';

/** Where a role names its device: by its name, or by the key of its record. */
export interface Place {
  readonly site: PartSite;
  readonly tag: PartSite | null;
  readonly linked: boolean;
}

const partKey = (site: PartSite) => siteKey(site) + (site.part ? ` ${site.part[0]}` : '');

/** Where roles of the donor name their devices, and where those without one would. */
export class RolePlaces {
  /** By place the record that it names. */
  private named: Map<string, number> | null = null;

  constructor(
    private readonly tree: Tree,
    private readonly reading: Reading,
  ) {}

  /** The record that a place names; -1 for none. */
  linkedTo(site: PartSite): number {
    if (!this.named) {
      this.named = new Map();
      for (const { site: at, from, to } of this.reading.references)
        this.named.set(siteKey(at), to).set(partKey({ ...at, part: [from, from] }), to);
    }
    return this.named.get(partKey(site)) ?? -1;
  }

  /** What holds the record that a place names; -1 where it names none. */
  linkedHolder(site: PartSite): number {
    const to = this.linkedTo(site);
    return to === -1 ? -1 : this.tree.parent[to]!;
  }

  /**
   * Where a role without a device would name one: the place that other roles have, empty in this one.
   * @param holder what holds the records that it has to name, -1 for any.
   */
  emptyPlace(role: Role, holder: number): Place | null {
    for (const other of this.reading.bindings) {
      if (
        other.node === role.node ||
        other.node === -1 ||
        other.site.part ||
        !isWithin(this.tree, other.site.node, other.node)
      )
        continue;
      if (holder !== -1 && this.isLinked(other) && this.linkedHolder(other.site) !== holder) continue;
      const site = likeSite(this.tree, other.site, other.node, role.node);
      if (site && valueAt(this.tree, site).trim() === '') return { site, tag: null, linked: this.isLinked(other) };
    }
    return null;
  }

  /** Where a role would write its VLAN ID: the place that other roles have, empty in this one. */
  emptyTag(role: Role): Site | null {
    for (const { tag, node } of this.reading.bindings) {
      if (!tag || tag.part || node === role.node || node === -1 || !isWithin(this.tree, tag.node, node)) continue;
      const site = likeSite(this.tree, tag, node, role.node);
      if (site && valueAt(this.tree, site).trim() === '') return site;
    }
    return null;
  }

  /** Whether a role names its device by the key of a record. */
  isLinked({ site, port }: Binding): boolean {
    return valueAt(this.tree, site).trim() !== port;
  }
}
