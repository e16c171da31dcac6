import { closeness, placeFinder } from '../compile/leave-out.ts';
import type { Decision } from '../plan/plan.ts';
import type { Collection, Correction, Reading } from '../reading/reading.ts';
import { pathFinder, siteAt } from '../xml/path.ts';
import { valueAt } from '../xml/site.ts';
import { elementsOf, type Tree } from '../xml/tree.ts';

/** Why a decision does not fit, or may mean something else now. */
export type FitReason =
  | 'place-missing'
  | 'record-gone'
  | 'port-missing'
  | 'role-missing'
  | 'value-other'
  | 'field-missing'
  | 'collection-missing'
  /** The records that it counts are more or fewer than they were, so it may point at another one. */
  | 'records-moved';

/** Says what stands against decisions in one backup. */
export class Judge {
  private readonly find: (path: string) => readonly number[];
  private readonly node: (path: string) => number;
  private readonly ports: ReadonlySet<string>;
  private readonly roles: ReadonlySet<number>;
  private readonly templates: ReadonlySet<string>;
  private readonly tagged = new Set<number>();

  /** Whether the elements of one name in one parent may be others than they were, by the first of them. */
  private readonly shaky = new Map<number, boolean>();
  private readonly records = new Set<number>();
  private sure: boolean | null = null;

  /** @param steady records that a path counts as it did; null where every path does. */
  constructor(
    private readonly tree: Tree,
    private readonly reading: Reading,
    private readonly steady: ReadonlySet<number> | null,
  ) {
    for (const collection of reading.collections) for (const node of collection.records) this.records.add(node);
    this.find = placeFinder(tree, reading);
    this.node = pathFinder(tree);
    this.ports = new Set(reading.mentions.flatMap(({ port, value }) => [port, value]));
    this.roles = new Set(reading.roles.map(({ node }) => node));
    this.templates = new Set([...reading.values.fields, ...reading.fields].map(({ template }) => template));
    for (const { item, records } of reading.collections)
      if (item === null) for (const node of records) this.tagged.add(node);
  }

  /**
   * What stands against a decision; null for nothing.
   * @param sure whether its place is surely the one that was meant; null where nothing tells but the number of records.
   */
  reason(decision: Decision, sure: boolean | null): FitReason | null {
    this.sure = sure;
    switch (decision.kind) {
      case 'rename-port':
        return this.ports.has(decision.from) ? null : 'port-missing';
      case 'leave-out':
      case 'keep': {
        const nodes = this.find(decision.path);
        if (nodes.length === 0) return 'place-missing';
        return closeness(decision.path) < 2 ? this.movedAt(this.tree.parent[nodes[0]!]!) : this.movedAt(nodes[0]!);
      }
      case 'set-value':
        return this.valueReason(decision.path, decision.was);
      case 'move-role': {
        const [node] = this.find(decision.role);
        if (node === undefined || !this.roles.has(node)) return 'role-missing';
        if (decision.to.on !== 'none' && !this.ports.has(decision.to.port)) return 'port-missing';
        return this.movedAt(node);
      }
      case 'correct':
        return this.correctionReason(decision.correction);
      // The findings of the new backup say which of them no longer stand.
      case 'set-aside':
        return null;
      default:
        return decision satisfies never;
    }
  }

  private valueReason(path: string, was: string | undefined): FitReason | null {
    const site = siteAt(this.tree, path, this.node);
    if (!site) return 'place-missing';
    // A part that is still written there is told by itself, wherever its record has moved.
    if (was !== undefined) return valueAt(this.tree, site).includes(was) ? null : 'value-other';
    return this.movedAt(site.node);
  }

  private correctionReason(correction: Correction): FitReason | null {
    switch (correction.correct) {
      case 'field-names':
        if (!this.templates.has(correction.template)) return 'field-missing';
        return this.hasCollection(correction.collection) ? null : 'collection-missing';
      case 'key':
        return this.hasCollection(correction.collection) ? null : 'collection-missing';
      case 'secret':
      case 'box-bound':
        return this.templates.has(correction.template) ? null : 'field-missing';
      case 'port':
      case 'not-a-port':
        return null;
      default:
        return correction satisfies never;
    }
  }

  private hasCollection(path: string): boolean {
    const cut = path.lastIndexOf('/');
    const parent = this.node(path.slice(0, cut));
    const item = path.slice(cut + 1);
    const same = (one: Collection) => one.parent === parent && (one.item ?? '*') === item;
    return parent !== -1 && this.reading.collections.some(same);
  }

  /**
   * A path counts elements of one name, so one that comes or goes before it moves it. Only where all of them are records
   * whose number is the same, or where there is one, does it point where it did; a tag that is a key tells by itself.
   */
  private movedAt(node: number): FitReason | null {
    if (this.sure !== null) return this.sure ? null : 'records-moved';
    if (!this.steady) return null;
    for (let at = node; at !== -1; at = this.tree.parent[at]!) if (this.isShaky(at)) return 'records-moved';
    return null;
  }

  private isShaky(node: number): boolean {
    const { tree } = this;
    const parent = tree.parent[node]!;
    if (parent === -1) return false;
    if (this.shaky.has(node)) return this.shaky.get(node)!;
    const kin = [...elementsOf(tree, parent)].filter((one) => tree.name[one] === tree.name[node]);
    const steady = kin.every((one) => this.steady!.has(one));
    const shaky = !steady && (kin.length > 1 || (this.records.has(node) && !this.tagged.has(node)));
    for (const one of kin) this.shaky.set(one, shaky);
    return shaky;
  }
}
