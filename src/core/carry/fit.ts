import { placeFinder } from '../compile/leave-out.ts';
import { unitsOf } from '../compile/units.ts';
import type { Decision, OutlinePart, Plan, PlanOutline } from '../plan/plan.ts';
import type { Collection, Correction, Reading } from '../reading/reading.ts';
import { sectionIndex } from '../reading/sections.ts';
import { pathFinder, siteAt } from '../xml/path.ts';
import { valueAt } from '../xml/site.ts';
import { elementsOf, nameOf, type Tree } from '../xml/tree.ts';

/** Why a decision does not fit, or may mean something else now. */
export type FitReason =
  | 'place-missing'
  | 'port-missing'
  | 'role-missing'
  | 'value-other'
  | 'field-missing'
  | 'collection-missing'
  /** The records that it counts are more or fewer than they were, so it may point at another one. */
  | 'records-moved';

export interface FitEntry {
  readonly decision: Decision;
  readonly reason: FitReason;
}

/** A part of a file, with the number of its entries then and now; null for one that was or is not there. */
export interface FitPart {
  readonly name: string;
  readonly before: number | null;
  readonly now: number | null;
}

/** How a saved plan meets a backup. */
export interface Fit {
  /** True for the very file that it was made for. */
  readonly sameFile: boolean;
  readonly fits: readonly Decision[];
  /** Their places are there, and may be others than was meant. */
  readonly check: readonly FitEntry[];
  readonly gone: readonly FitEntry[];
  /** Parts that are new, gone, larger or smaller; none where the plan does not say what its file had. */
  readonly sections: readonly FitPart[];
  readonly collections: readonly FitPart[];
}

/**
 * What a backup is made of: names of sections and collections, with the number of their entries. Names of elements only:
 * where the tag of a record is its key, `*` stands for it, so no value is told.
 */
export function outlineOf(tree: Tree, reading: Reading): PlanOutline {
  const chain = chainNames(tree, reading);
  const collections = new Map<string, number>();
  for (const { parent, item, records } of reading.collections)
    count(collections, `${chain(parent)}/${item ?? '*'}`, records.length);
  const sections = new Map<string, number>();
  for (const { node } of reading.sections) count(sections, chain(node), 0);
  const sectionOf = sectionIndex(tree, reading.sections);
  for (const entry of unitsOf(tree, reading).nodes) {
    const section = reading.sections[sectionOf(entry)];
    if (section) count(sections, chain(section.node), 1);
  }
  return { sections: parts(sections), collections: parts(collections) };
}

function count(counts: Map<string, number>, name: string, by: number): void {
  counts.set(name, (counts.get(name) ?? 0) + by);
}

const parts = (counts: ReadonlyMap<string, number>): OutlinePart[] =>
  [...counts].map(([name, number]) => ({ name, count: number }));

/** A function from a node to the names from the root to it. */
function chainNames(tree: Tree, reading: Reading): (node: number) => string {
  const tagged = new Set<number>();
  for (const { item, records } of reading.collections) if (item === null) for (const node of records) tagged.add(node);
  const known = new Map<number, string>();
  const chain = (node: number): string => {
    if (node === -1) return '';
    let name = known.get(node);
    if (name === undefined) {
      name = `${chain(tree.parent[node]!)}/${tagged.has(node) ? '*' : nameOf(tree, node)}`;
      known.set(node, name);
    }
    return name;
  };
  return chain;
}

/** Tries a saved plan on a backup: what still fits, what may mean something else, what is gone, what is new since. */
export function fit(plan: Plan, { tree, hash }: { readonly tree: Tree; readonly hash: string }, reading: Reading): Fit {
  const sameFile = plan.file?.hash === hash;
  const now = outlineOf(tree, reading);
  const judge = new Judge(tree, reading, sameFile ? null : steadyRecords(plan.outline, now, tree, reading));
  const fits: Decision[] = [];
  const check: FitEntry[] = [];
  const gone: FitEntry[] = [];
  for (const decision of plan.decisions) {
    const reason = judge.reason(decision);
    if (reason === null) fits.push(decision);
    else (reason === 'records-moved' ? check : gone).push({ decision, reason });
  }
  const compared = (before: readonly OutlinePart[] | undefined, after: readonly OutlinePart[]) =>
    before ? differences(before, after) : [];
  return {
    sameFile,
    fits,
    check,
    gone,
    sections: compared(plan.outline?.sections, now.sections),
    collections: compared(plan.outline?.collections, now.collections),
  };
}

function differences(before: readonly OutlinePart[], now: readonly OutlinePart[]): FitPart[] {
  const then = new Map(before.map(({ name, count: number }) => [name, number]));
  const today = new Map(now.map(({ name, count: number }) => [name, number]));
  return [...new Set([...then.keys(), ...today.keys()])]
    .filter((name) => then.get(name) !== today.get(name))
    .map((name) => ({ name, before: then.get(name) ?? null, now: today.get(name) ?? null }));
}

/** Records of collections whose number is the same as it was; none where the plan does not say. */
function steadyRecords(before: PlanOutline | undefined, now: PlanOutline, tree: Tree, reading: Reading): Set<number> {
  const nodes = new Set<number>();
  if (!before) return nodes;
  const changed = new Set(differences(before.collections, now.collections).map(({ name }) => name));
  const chain = chainNames(tree, reading);
  for (const { parent, item, records } of reading.collections)
    if (!changed.has(`${chain(parent)}/${item ?? '*'}`)) for (const node of records) nodes.add(node);
  return nodes;
}

class Judge {
  private readonly find: (path: string) => readonly number[];
  private readonly node: (path: string) => number;
  private readonly ports: ReadonlySet<string>;
  private readonly roles: ReadonlySet<number>;
  private readonly templates: ReadonlySet<string>;
  private readonly tagged = new Set<number>();

  /** Whether the elements of one name in one parent may be others than they were, by the first of them. */
  private readonly shaky = new Map<number, boolean>();
  private readonly records = new Set<number>();

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

  /** What stands against a decision; null for nothing. */
  reason(decision: Decision): FitReason | null {
    switch (decision.kind) {
      case 'rename-port':
        return this.ports.has(decision.from) ? null : 'port-missing';
      case 'leave-out':
      case 'keep': {
        const nodes = this.find(decision.path);
        if (nodes.length === 0) return 'place-missing';
        return decision.path.endsWith('[*]') ? this.movedAt(this.tree.parent[nodes[0]!]!) : this.movedAt(nodes[0]!);
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
