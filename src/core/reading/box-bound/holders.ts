import { isIpv4, isIpv6 } from '../../values/ip.ts';
import { wordsOf } from '../../values/name-words.ts';
import { isDomainName, isMailAddress } from '../../values/names.ts';
import { parseTunable } from '../../values/tunable.ts';
import { attributeValue, type Site, TEXT, textOf, valueAt } from '../../xml/site.ts';
import { elementsOf, isLeaf, type Tree } from '../../xml/tree.ts';
import type { SiteSet } from '../fields/site-set.ts';
import { settingsIn } from '../outline/settings-in-text.ts';
import type { BoxBoundReason } from '../reading.ts';
import { isMachineWord } from './machine-words.ts';

/** Records of a setting hold no more values than this; a larger element is about more than one thing. */
export const SMALL = 8;
/** A setting of the machine itself is written once, or a few times where it has several consoles or disks. */
export const FEW = 3;

/** Takes what is bound to the box: an element, or one of its attributes; why; and the words that gave it away. */
export type Add = (node: number, attr: number, reason: BoxBoundReason, sign: string) => void;

/** Which element holds a value together with its kin. */
export class Holders {
  /** Attribute names that tell the type of a value and are none themselves. */
  private markers: Set<number> | null = null;

  /** @param labels names of settings that stand in values: `<set name="line.speed">`. */
  constructor(
    private readonly tree: Tree,
    private readonly labels: ReadonlySet<string> = new Set(),
  ) {}

  /** How many values are inside an element, counted no further than `most` + 1. */
  values(node: number, most: number): number {
    let count = 0;
    for (let at = node; at < this.tree.after[node]! && count <= most; at++) count += this.own(at);
    return count;
  }

  /** The innermost element around a value that holds another one too. */
  holder(node: number): number {
    let at = node;
    while (this.values(at, 1) < 2 && this.tree.parent[at]! !== -1 && this.tree.parent[at] !== this.tree.root)
      at = this.tree.parent[at]!;
    return this.values(at, 1) < 2 ? node : at;
  }

  /** True where nothing lies more than `depth` elements below. */
  isFlat(node: number, depth = 3): boolean {
    for (const child of elementsOf(this.tree, node)) if (depth === 0 || !this.isFlat(child, depth - 1)) return false;
    return true;
  }

  texts(node: number): readonly string[] {
    return this.sites(node).map((site) => valueAt(this.tree, site).trim());
  }

  /** The places with a value inside an element. */
  sites(node: number): readonly Site[] {
    const sites: Site[] = [];
    for (let at = node; at < this.tree.after[node]!; at++) {
      if (this.tree.kind[at] !== 0) continue;
      for (let attr = this.tree.attrFirst[at]!; attr < this.tree.attrFirst[at + 1]!; attr++)
        sites.push({ node: at, attr });
      if (isLeaf(this.tree, at)) sites.push({ node: at, attr: TEXT });
    }
    return sites;
  }

  /**
   * The record around a value where it is one of the machine's own settings; null where it is about other things too.
   * @param name what the setting is called: with a dot it looks like a name of the network.
   */
  smallRecord(node: number, attr: number, most: number, explained: SiteSet, name?: string): number | null {
    const { tree } = this;
    let at = attr >= 0 ? node : tree.parent[node]!;
    // Out of the element that is wrapped around this one value.
    if (at !== -1 && this.values(at, 1) < 2 && this.isWrapped(at)) at = tree.parent[at]!;
    return at !== -1 && this.isOfTheMachine(at, most, explained, name) ? at : null;
  }

  /** The row around the name of a setting, with what stands beside it; null where things lie below, as in a table called so. */
  settingRow(node: number, attr: number, explained: SiteSet): number | null {
    const name = valueAt(this.tree, { node, attr }).trim();
    const row = this.smallRecord(node, attr, SMALL, explained, name);
    return row !== null && this.isFlat(row, attr >= 0 ? 0 : 1) ? row : null;
  }

  /** Whether an element is small, flat, below the root and holds nothing of the network: no address, name or port. */
  isOfTheMachine(node: number, most: number, explained: SiteSet, name?: string): boolean {
    const { tree } = this;
    if (node === tree.root || this.values(node, most) > most || !this.isFlat(node)) return false;
    return this.sites(node).every((site) => {
      if (explained.has(site.node, site.attr)) return false;
      const value = valueAt(tree, site).trim();
      if (value === name || this.labels.has(value)) return true;
      // `serial.line` is no host's name.
      return (!isOfTheNetwork(value) || wordsOf(value).some(isMachineWord)) && parseTunable(value) === null;
    });
  }

  /** Whether an element with one value stands among others that are built so. */
  private isWrapped(node: number): boolean {
    const parent = this.tree.parent[node]!;
    if (parent === -1) return false;
    const kin = [...elementsOf(this.tree, parent)].slice(0, 12);
    const leaf = isLeaf(this.tree, node);
    return kin.length > 1 && kin.every((child) => this.values(child, 1) === 1 && isLeaf(this.tree, child) === leaf);
  }

  private own(node: number): number {
    const { tree } = this;
    if (tree.kind[node] !== 0) return 0;
    const several = settingsIn(tree);
    let count = several?.ofText.get(node)?.settings.length ?? 0;
    if (count === 0 && isLeaf(tree, node) && textOf(tree, node).trim() !== '') count = 1;
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++) {
      if (count > 0 && this.isMarker(attr) && parseTunable(attributeValue(tree, attr)) === null) continue;
      const settings = several?.ofAttribute.get(attr)?.settings.length;
      if (tree.valueEnd[attr]! > tree.valueStart[attr]!) count += settings ?? 1;
    }
    return count;
  }

  private isMarker(attr: number): boolean {
    this.markers ??= markerNames(this.tree);
    return this.markers.has(this.tree.attrName[attr]!);
  }
}

/** Addresses and host names, which belong to the network and not to the machine. */
export function isOfTheNetwork(value: string): boolean {
  return isIpv4(value) || isIpv6(value) || isMailAddress(value) || isDomainName(value);
}

/** Attributes of leaves with text that take few short values in many places: `<v t="s">`. */
function markerNames(tree: Tree): Set<number> {
  const seen = new Map<number, { count: number; values: Set<string> }>();
  for (let node = 0; node < tree.size; node++) {
    const first = tree.attrFirst[node]!;
    if (
      first === tree.attrFirst[node + 1] ||
      tree.closeStart[node]! <= tree.openEnd[node]! ||
      tree.after[node] !== node + 1
    )
      continue;
    for (let attr = first; attr < tree.attrFirst[node + 1]!; attr++) {
      const name = tree.attrName[attr]!;
      let one = seen.get(name);
      if (!one) {
        one = { count: 0, values: new Set() };
        seen.set(name, one);
      }
      one.count++;
      if (one.values.size <= 8)
        one.values.add(
          tree.text.slice(tree.valueStart[attr]!, Math.min(tree.valueEnd[attr]!, tree.valueStart[attr]! + 40)),
        );
    }
  }
  return new Set([...seen].filter(([, { count, values }]) => count >= 12 && values.size <= 8).map(([name]) => name));
}
