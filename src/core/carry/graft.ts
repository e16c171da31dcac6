import { compile } from '../compile/compile.ts';
import type { Edits, ValueEdit } from '../compile/edits.ts';
import { siteKey } from '../compile/edits.ts';
import { placeFinder } from '../compile/leave-out.ts';
import { portClashes } from '../compile/rename-ports.ts';
import { unitsOf } from '../compile/units.ts';
import { type Patch, PatchSet } from '../patch/patch-set.ts';
import { type Decision, type Plan, planOf, renamesOf } from '../plan/plan.ts';
import type { Key, Reading } from '../reading/reading.ts';
import { keyValue } from '../reading/record-name.ts';
import { bad, good, type Result, type Trouble } from '../trouble.ts';
import { type Fits, writeValue } from '../xml/edit.ts';
import { pathOf, sitePath } from '../xml/path.ts';
import { readXml } from '../xml/read.ts';
import { removePatches } from '../xml/remove.ts';
import { TEXT } from '../xml/site.ts';
import { attribute, childNamed, type Tree } from '../xml/tree.ts';
import { chosen, topsOf } from './chosen.ts';
import { freshName } from './fresh-name.ts';
import { type GraftAccount, graftAccounts } from './graft-ledger.ts';
import { Matcher } from './match.ts';
import { type Answer, type Meeting, Merge, type Mode } from './merge.ts';
import { kinship } from './names.ts';
import { lowerBound, needsOf } from './needs.ts';
import { originsOf } from './origins.ts';
import { Placing } from './place.ts';
import { styleOf } from './style.ts';

/** A document with its meaning: the one that settings come from, or the one that they go to. */
export interface Side {
  readonly tree: Tree;
  readonly reading: Reading;
  readonly fits: Fits;
}

/** One thing to take: a path, or the path of a collection, and how it meets what the receiver has. */
export interface Pick {
  readonly id: string;
  readonly mode: Exclude<Mode, 'holder'>;
}

export interface GraftRequest {
  readonly picks: readonly Pick[];
  /** Whether what the picked records need comes along; of that only what the receiver does not have. */
  readonly withNeeds: boolean;
  /** By the donor's path: what to do where both have a thing and it differs. */
  readonly answers: ReadonlyMap<string, Answer>;
}

/** Both have it, under one key, with other content. */
export interface Clash {
  /** Paths in the donor and in the receiver. */
  readonly from: string;
  readonly to: string;
  /** Empty for a single setting. */
  readonly key: string;
  readonly answer: Answer;
  /** The key that it gets, where it is carried under a new one. */
  readonly newKey: string | null;
  readonly choices: readonly Answer[];
}

/** A reference that goes over and names something that is neither taken nor on the receiver. */
export interface Loose {
  readonly path: string;
  readonly value: string;
  readonly target: string;
}

export interface Graft {
  /** On the receiver's text. */
  readonly patches: PatchSet;
  /** On the receiver's tree. */
  readonly edits: Edits;
  readonly clashes: readonly Clash[];
  readonly loose: readonly Loose[];
  readonly account: GraftAccount;
  /** The donor's plan with what follows from new keys: what was read to make the result. */
  readonly plan: Plan;
}

/** Below this the two documents are of other forms, and only whole sections make sense. */
export const KIN = 0.5;
/** How often keys are chosen anew before giving up; each round settles every clash that is left. */
const ROUNDS = 50;

/**
 * Takes sections and records out of one backup into another, as patches on the other's text: in its indentation, line
 * ends, escapes and encoding, each record behind the last of its kind. The donor's plan applies to what is taken: renamed
 * ports, set values, and what is left out inside of what is picked. What fits the receiver's box only stays as it is there.
 */
export function graft(donor: Side, plan: Plan, receiver: Side, request: GraftRequest): Result<Graft> {
  const picks = placed(donor, request.picks);
  const trouble = obstacle(donor, receiver, picks);
  if (trouble) return bad(trouble);
  const chosenPlan = chosen(
    donor.tree,
    donor.reading,
    plan,
    picks.map(({ id }) => id),
    request.withNeeds,
  );
  const keys = new Map<number, { tries: number; key: string }>();
  for (let round = 0; round < ROUNDS; round++) {
    const attempt = new Attempt(donor, receiver, picks, request, chosenPlan, keys);
    const made = attempt.run();
    if (!made.ok) return made;
    const open = attempt.unsettled();
    if (open.length === 0) return made;
    for (const node of open) keys.set(node, attempt.nextKey(node));
  }
  return bad({ code: 'graft-no-key', params: { rounds: ROUNDS } });
}

interface PlacedPick extends Pick {
  readonly nodes: readonly number[];
}

function placed({ tree, reading }: Side, picks: readonly Pick[]): PlacedPick[] {
  const find = placeFinder(tree, reading);
  return picks.map((pick) => ({ ...pick, nodes: find(pick.id) })).filter(({ nodes }) => nodes.length > 0);
}

/** What stands in the way of a graft as a whole; null for nothing. */
function obstacle(donor: Side, receiver: Side, picks: readonly PlacedPick[]): Trouble | null {
  if (picks.length === 0) return { code: 'graft-nothing-picked' };
  const kin = kinship(donor.tree, receiver.tree);
  const roots = {
    donor: donor.tree.names[donor.tree.name[donor.tree.root]!]!,
    receiver: receiver.tree.names[receiver.tree.name[receiver.tree.root]!]!,
  };
  if (kin === 0) return { code: 'graft-other-root', params: roots };
  const tops = new Set(topsOf(donor.tree, donor.reading));
  if (kin < KIN) {
    const part = picks.find(({ nodes }) => nodes.some((node) => !tops.has(node)));
    if (part) return { code: 'graft-other-form', params: { path: part.id, percent: Math.floor(kin * 100) } };
  }
  const spread = spreadRecords(donor);
  const lone = picks.find(({ nodes }) => nodes.some((node) => spread.has(node)));
  if (lone) return { code: 'graft-spread-record', params: { path: lone.id } };
  return null;
}

/** Records that are written as several elements side by side, so that no one element is the record. */
function spreadRecords({ tree, reading }: Side): Set<number> {
  const spread = new Set<number>();
  const { fields, element } = reading.values;
  for (const { nodes, rows } of fields) {
    for (let place = 0; place < nodes.length; place++) {
      const row = rows[place]!;
      if (row === -1) continue;
      const top = element[row]!;
      const node = nodes[place]!;
      // A row that folds wrappers or opens keys may have its values beside the element that stands for it.
      if (node < top || node >= tree.after[top]!) spread.add(top).add(node);
    }
  }
  return spread;
}

/** One go with the keys that are chosen so far. */
class Attempt {
  private readonly plan: Plan;
  private readonly collectionOf = new Map<number, Reading['collections'][number]>();
  private readonly units: ReturnType<typeof unitsOf>;
  private merge: Merge | null = null;
  private origins: ReturnType<typeof originsOf> | null = null;

  constructor(
    private readonly donor: Side,
    private readonly receiver: Side,
    private readonly picks: readonly PlacedPick[],
    private readonly request: GraftRequest,
    chosenPlan: Plan,
    private readonly keys: ReadonlyMap<number, { readonly tries: number; readonly key: string }>,
  ) {
    for (const collection of donor.reading.collections)
      for (const node of collection.records) this.collectionOf.set(node, collection);
    this.units = unitsOf(donor.tree, donor.reading);
    this.plan = { ...chosenPlan, ...planOf([...chosenPlan.decisions, ...this.keyDecisions()], chosenPlan.file) };
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
    const isRecord = (node: number) => this.collectionOf.has(origins.of[node]!);
    const matcher = new Matcher(
      result,
      receiver.tree,
      (node) => this.keyOf(node),
      (node) => modes[origins.of[node]!] === HOLDER,
    );
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
    }).run();
    this.merge = merge;
    const { patches, edits, troubles } = this.ordered(result, merge);
    if (troubles.length > 0) return bad(troubles[0]!);
    const account = graftAccounts(donor, receiver, compiled.edits, edits, merge, origins);
    return good({
      patches: PatchSet.of(receiver.tree.text, patches),
      edits,
      clashes: merge.meetings.map((meeting) => this.clash(meeting)),
      loose: this.loose(compiled.edits, account),
      account,
      plan: this.plan,
    });
  }

  /** Donor's records that are to get a new key and have none that is free. */
  unsettled(): number[] {
    return this.merge!.meetings.filter(({ answer }) => answer === 'new-key').map(({ from }) => this.origins!.of[from]!);
  }

  nextKey(node: number): { tries: number; key: string } {
    const collection = this.collectionOf.get(node)!;
    const tries = (this.keys.get(node)?.tries ?? 0) + 1;
    const key = keyValue(this.donor.tree, collection.key, node);
    const taken = new Set(collection.records.map((record) => keyValue(this.donor.tree, collection.key, record)));
    for (const other of this.keys.values()) taken.add(other.key);
    return { tries, key: freshName(key, taken, tries) };
  }

  private keyOf(node: number): Key | null {
    return this.collectionOf.get(this.origins!.of[node]!)?.key ?? null;
  }

  /** The new keys as decisions: the key itself, and every reference that calls the record by it. */
  private keyDecisions(): Decision[] {
    const { tree, reading } = this.donor;
    const decisions: Decision[] = [];
    if (this.keys.size === 0) return decisions;
    for (const [node, { key }] of this.keys) {
      const path = keyPath(tree, this.collectionOf.get(node)!.key, node);
      if (path !== null) decisions.push({ kind: 'set-value', path, value: key });
    }
    for (const { site, value, to } of reading.references) {
      const fresh = this.keys.get(to);
      if (!fresh || value !== keyValue(tree, this.collectionOf.get(to)!.key, to)) continue;
      decisions.push({ kind: 'set-value', path: sitePath(tree, site), was: value, value: fresh.key });
    }
    return decisions;
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

  private answer({ from, mode }: Meeting): Answer {
    const node = this.origins!.of[from]!;
    const asked = this.request.answers.get(pathOf(this.donor.tree, node)) ?? (mode === 'merge' ? 'replace' : 'keep');
    return asked === 'new-key' && !this.choices(node).includes('new-key') ? 'keep' : asked;
  }

  private choices(node: number): Answer[] {
    const collection = this.collectionOf.get(node);
    const keyed = collection && keyPath(this.donor.tree, collection.key, node) !== null;
    return keyed ? ['keep', 'replace', 'new-key'] : ['keep', 'replace'];
  }

  private clash({ from, to, answer }: Meeting & { readonly answer: Answer }): Clash {
    const node = this.origins!.of[from]!;
    const collection = this.collectionOf.get(node);
    return {
      from: pathOf(this.donor.tree, node),
      to: pathOf(this.receiver.tree, to),
      key: collection ? keyValue(this.donor.tree, collection.key, node) : '',
      answer,
      newKey: this.keys.get(node)?.key ?? null,
      choices: this.choices(node),
    };
  }

  /** Orders as patches and as facts. */
  private ordered(result: Tree, { orders }: Merge): { patches: Patch[]; edits: Edits; troubles: Trouble[] } {
    const { tree, fits } = this.receiver;
    const troubles: Trouble[] = [];
    const values = new Map<string, ValueEdit>();
    const patches: Patch[] = [];
    const { lineEnd } = styleOf(tree);
    for (const { site, value } of orders.values) {
      const made = writeValue(tree, site, value, fits, 'graft');
      if (!made.ok) {
        troubles.push(made.trouble);
        continue;
      }
      const written = made.value.map((patch) =>
        site.attr === TEXT ? { ...patch, text: patch.text.replaceAll('\n', lineEnd) } : patch,
      );
      patches.push(...written);
      values.set(siteKey(site), { site, value, owners: ['graft'] });
    }
    const removed = [...orders.removed].sort((a, b) => a - b);
    const removal = removePatches(
      tree,
      removed.map((node) => ({ node, owner: 'graft' })),
    );
    patches.push(...removal.patches);
    const placing = new Placing(result, tree, fits);
    for (const swap of orders.swaps) placing.swap(swap);
    placing.insert(orders.inserts);
    patches.push(...placing.patches);
    const out = [...removed, ...orders.swaps.map(({ to }) => to)].sort((a, b) => a - b);
    return {
      patches,
      troubles,
      edits: {
        leftOut: new Map(out.map((node) => [node, 'graft'])),
        goneComments: removal.comments,
        values,
        tags: new Map(),
        added: [],
        attributes: new Map(),
        foreign: placing.foreign,
      },
    };
  }

  /** References that go over, whose target does not, and whose target the receiver does not have under that key. */
  private loose(edits: Edits, account: GraftAccount): Loose[] {
    const { tree, reading } = this.donor;
    const finder = new Matcher(tree, this.receiver.tree, (node) => this.collectionOf.get(node)?.key ?? null);
    const found = new Map<number, number>([[tree.root, this.receiver.tree.root]]);
    const counterpart = (node: number): number => {
      const known = found.get(node);
      if (known !== undefined) return known;
      const above = counterpart(tree.parent[node]!);
      if (above !== -1)
        for (const { from, to } of finder.pair(tree.parent[node]!, above, false).pairs) found.set(from, to);
      if (!found.has(node)) found.set(node, -1);
      return found.get(node)!;
    };
    const goes = (node: number) => !account.donor.leftOut.has(this.units.of[node]!) && account.goes(node);
    const list: Loose[] = [];
    for (const { site, value, to, tier } of reading.references) {
      if (tier === 'possible' || !goes(site.node) || goes(to) || counterpart(to) !== -1) continue;
      const edit = edits.values.get(siteKey(site));
      if (edit?.owners.some((owner) => owner.startsWith('set-value'))) continue;
      list.push({ path: sitePath(tree, site), value, target: pathOf(tree, to) });
    }
    return list;
  }
}

const names: readonly Mode[] = ['holder', 'replace', 'merge', 'add'];
const HOLDER = 0;

/** The site of a record's key, for `set-value`; null where it has none that can be set. */
function keyPath(tree: Tree, key: Key, node: number): string | null {
  switch (key.by) {
    case 'tag':
      return `${pathOf(tree, node)}/name()`;
    case 'attribute':
      return attribute(tree, node, key.name) === -1 ? null : `${pathOf(tree, node)}/@${key.name}`;
    case 'leaf': {
      let at = node;
      for (const step of key.path) at = at === -1 ? -1 : childNamed(tree, at, step);
      return at === -1 ? null : pathOf(tree, at);
    }
    case 'position':
      return null;
    default:
      return key satisfies never;
  }
}

/** What of a receiver stays as it is, since it fits its box only. */
function protection({ tree, reading }: Side) {
  const units = unitsOf(tree, reading);
  const whole = new Set(reading.boxBound.filter(({ attr }) => attr < 0).map(({ node }) => node));
  const sorted = Int32Array.from(whole).sort();
  const fixtures = sorted.filter((node) => units.of[node] === node);
  const attributes = new Set(reading.boxBound.filter(({ attr }) => attr >= 0).map(({ attr }) => attr));
  const holds = (list: Int32Array, node: number) => {
    const at = lowerBound(list, node);
    return at < list.length && list[at]! < tree.after[node]!;
  };
  return {
    isProtected: (node: number) => whole.has(node),
    holdsProtected: (node: number) => holds(sorted, node),
    holdsFixture: (node: number) => holds(fixtures, node),
    isProtectedAttribute: (attr: number) => attributes.has(attr),
  };
}
