import { compile } from '../compile/compile.ts';
import type { Edits } from '../compile/edits.ts';
import { portClashes } from '../compile/rename-ports.ts';
import { unitsOf } from '../compile/units.ts';
import { type Plan, planOf, renamesOf } from '../plan/plan.ts';
import { type RecordLists, recordLists } from '../reading/keys/record-lists.ts';
import { keyValue } from '../reading/keys/record-name.ts';
import type { PropertyLists } from '../reading/outline/properties.ts';
import type { Key } from '../reading/reading.ts';
import { lowerBound } from '../text/lower-bound.ts';
import { bad, good, type Result, type Trouble } from '../trouble.ts';
import { nodeAt, pathOf } from '../xml/path.ts';
import { readXml } from '../xml/read.ts';
import type { Clash, Graft, GraftRequest, Placed, Side } from './graft.ts';
import { graftAccounts } from './graft-ledger.ts';
import { type PlacedPick, protection } from './graft-limits.ts';
import { looseEnds } from './graft-loose.ts';
import { writeOrders } from './graft-patches.ts';
import { Matcher } from './match.ts';
import { type Answer, type Meeting, Merge, type Mode } from './merge.ts';
import { needsOf } from './needs.ts';
import { keyDecisions, keyPath, type NewKey, nextKey } from './new-keys.ts';
import { originsOf } from './origins.ts';
import { Standings } from './standing.ts';

/** One go with the keys that are chosen so far. */
export class Attempt {
  private readonly plan: Plan;
  private readonly recordLists: RecordLists;
  private readonly units: ReturnType<typeof unitsOf>;
  /** Finds elements of the donor, as it is, in the receiver. */
  private readonly finder: Matcher;
  private merge: Merge | null = null;
  private origins: ReturnType<typeof originsOf> | null = null;

  constructor(
    private readonly donor: Side,
    private readonly receiver: Side,
    private readonly picks: readonly PlacedPick[],
    private readonly request: GraftRequest,
    chosenPlan: Plan,
    private readonly keys: ReadonlyMap<number, NewKey>,
    private readonly lists: PropertyLists | null,
  ) {
    this.recordLists = recordLists(donor.reading);
    this.units = unitsOf(donor.tree, donor.reading);
    this.finder = new Matcher(
      donor.tree,
      receiver.tree,
      (node) => this.recordLists.of(node)?.key ?? null,
      (node) => this.entryKey(node),
    );
    this.plan = {
      ...chosenPlan,
      ...planOf([...chosenPlan.decisions, ...keyDecisions(donor, this.recordLists, keys)], chosenPlan.file),
    };
  }

  run(): Result<Graft> {
    const { donor, receiver } = this;
    const compiled = compile(donor.tree, donor.reading, this.plan, () => true);
    const blocking = compiled.troubles.find(({ code }) => code !== 'plan-port-missing' && code !== 'plan-port-doubled');
    if (blocking) return bad(blocking);
    const doubled = this.doubledPort(compiled.edits);
    if (doubled) return bad(doubled);
    const read = readXml(compiled.patches.apply());
    if (!read.ok) return read;
    const result = read.value;
    const origins = originsOf(donor.tree, compiled.edits, result);
    this.origins = origins;
    const modes = this.modes();
    const isRecord = (node: number) => this.recordLists.of(origins.of[node]!) !== null;
    const matcher = new Matcher(
      result,
      receiver.tree,
      (node) => this.keyOf(node),
      (node) => this.entryKey(origins.of[node]!),
      (node) => modes[origins.of[node]!] === HOLDER,
    );
    const standings = this.standings();
    const guard = protection(receiver);
    const merge = new Merge({
      from: result,
      to: receiver.tree,
      matcher,
      modeOf: (node) => (origins.added[node] ? 'add' : names[modes[origins.of[node]!]!]!),
      isEntry: (node) => this.units.of[origins.of[node]!] === origins.of[node],
      isRecord,
      ...guard,
      answer: (meeting) => this.answer(meeting),
      standingOf: (node, inside, kin) => standings.of(origins.of[node]!, inside, kin),
    }).run();
    this.merge = merge;
    const ordered = writeOrders(result, receiver, merge.orders);
    if (!ordered.ok) return ordered;
    const { patches, edits } = ordered.value;
    const account = graftAccounts(donor, receiver, compiled.edits, edits, merge, origins);
    return good({
      patches,
      edits,
      clashes: merge.meetings.map((meeting) => this.clash(meeting)),
      loose: looseEnds(donor, receiver, this.finder, compiled.edits, account),
      placed: this.placed(merge),
      account,
      plan: this.plan,
    });
  }

  /** Donor's records that are to get a new key and have none that is free. */
  unsettled(): number[] {
    return this.merge!.meetings.filter(({ answer }) => answer === 'new-key').map(({ from }) => this.origins!.of[from]!);
  }

  nextKey(node: number): NewKey {
    const taken = [...this.keys.values()].map(({ key }) => key);
    return nextKey(this.donor.tree, this.recordLists.of(node)!, node, this.keys.get(node)?.tries ?? 0, taken);
  }

  private keyOf(node: number): Key | null {
    return this.recordLists.of(this.origins!.of[node]!)?.key ?? null;
  }

  private entryKey(node: number): Key | null {
    return this.lists?.members.has(node) ? this.lists.keys.get(this.donor.tree.parent[node]!)! : null;
  }

  /** Two ports of what is taken under one name. */
  private doubledPort(edits: Edits): Trouble | null {
    const renames = renamesOf(this.plan);
    const tops = Int32Array.from(edits.leftOut.keys());
    const { tree, reading } = this.donor;
    const stays = (node: number) => {
      const top = tops[lowerBound(tops, node + 1) - 1];
      return top === undefined || node >= tree.after[top]!;
    };
    const ports = new Set(reading.mentions.filter(({ site }) => stays(site.node)).map(({ port }) => port));
    const [clash] = portClashes(ports, renames);
    return clash ? { code: 'plan-port-doubled', params: { port: clash.to, from: clash.from.join(', ') } } : null;
  }

  /** How each node of the donor goes over: as it was picked, or as something that is needed, or to hold what is. */
  private modes(): Uint8Array {
    const { tree, reading } = this.donor;
    const modes = new Uint8Array(tree.size);
    const said = new Map<number, number>();
    const needs = needsOf(tree, reading);
    if (this.request.withNeeds) {
      const own = new Uint8Array(needs.nodes.length);
      for (const { nodes } of this.picks)
        for (const node of nodes) for (const entry of needs.entriesAt(node)) own[entry] = 1;
      for (const node of needs.toTakeAlong(own)) said.set(node, names.indexOf('add'));
    }
    for (const { nodes, mode } of this.picks) for (const node of nodes) said.set(node, names.indexOf(mode));
    for (let node = 0; node < tree.size; node++) {
      const parent = tree.parent[node]!;
      modes[node] = said.get(node) ?? (parent === -1 ? HOLDER : modes[parent]!);
    }
    return modes;
  }

  private standings(): Standings {
    const { donor, receiver, request } = this;
    const told = new Map<number, number>();
    for (const [path, behind] of request.standings ?? []) {
      const [node, other] = [nodeAt(donor.tree, path), nodeAt(receiver.tree, behind)];
      if (node !== -1 && other !== -1) told.set(node, other);
    }
    return new Standings({
      donor: donor.tree,
      receiver: receiver.tree,
      matcher: this.finder,
      isNamedAlone: (node) => this.recordLists.of(node)?.key.by === 'tag',
      isClosing: receiver.isClosing ?? (() => false),
      told,
    });
  }

  private placed({ orders }: Merge): Placed[] {
    const { parent } = this.receiver.tree;
    return orders.inserts.flatMap(({ place, at, nodes, standing }): Placed[] => {
      const from = this.origins!.of[nodes[nodes.length - 1]!]!;
      return standing ? [{ from, inside: place === 'first' ? at : parent[at]!, ...standing }] : [];
    });
  }

  private answer({ from, mode }: Meeting): Answer {
    const node = this.origins!.of[from]!;
    const asked = this.request.answers.get(pathOf(this.donor.tree, node)) ?? (mode === 'merge' ? 'replace' : 'keep');
    return asked === 'new-key' && !this.choices(node).includes('new-key') ? 'keep' : asked;
  }

  private choices(node: number): Answer[] {
    const collection = this.recordLists.of(node);
    const keyed = collection && !this.entryKey(node) && keyPath(this.donor, collection.key, node) !== null;
    return keyed ? ['keep', 'replace', 'new-key'] : ['keep', 'replace'];
  }

  private clash({ from, to, answer }: Meeting & { readonly answer: Answer }): Clash {
    const node = this.origins!.of[from]!;
    const collection = this.recordLists.of(node);
    return {
      from: pathOf(this.donor.tree, node),
      to: pathOf(this.receiver.tree, to),
      key: collection ? keyValue(this.donor.tree, collection.key, node) : '',
      answer,
      newKey: this.keys.get(node)?.key ?? null,
      choices: this.choices(node),
    };
  }
}

const names: readonly Mode[] = ['holder', 'replace', 'merge', 'add'];
const HOLDER = 0;
