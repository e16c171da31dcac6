import type { Graft } from '../../carry/graft.ts';
import { type Need, type Needs, needsOf } from '../../carry/needs.ts';
import { compile } from '../../compile/compile.ts';
import { closeness, placeFinder } from '../../compile/leave-out.ts';
import { ledgerOf } from '../../compile/ledger.ts';
import type { Plan } from '../../plan/plan.ts';
import { sectionIndex } from '../../reading/keys/sections.ts';
import type { Reading } from '../../reading/reading.ts';
import type {
  CarryFate,
  CarryFilter,
  CarryRow,
  CarryRows,
  CarrySummary,
  NeedView,
  NeedViews,
  RecordMark,
} from '../../views.ts';
import { pathOf } from '../../xml/path.ts';
import { nameOf } from '../../xml/tree.ts';
import { type Backup, placeOf } from '../backup/open.ts';
import { RowNames } from './carry-names.ts';
import { type Outcome, outcomeOfGraft, outcomeOfPlan } from './carry-outcome.ts';
import { rowsWith } from './carry-search.ts';
import { type CarryTree, carryTree, idOf, Row } from './carry-tree.ts';

const kindNames = ['section', 'collection', 'record', 'setting'] as const;

/** Counts of one kind for each row, those inside it included. */
type Counts = Int32Array;

/**
 * What goes over and what stays behind under one plan, as a tree that is asked for by range: sections, collections,
 * records. Making it costs one pass over the ledger; asking for rows costs what is asked for.
 */
export class CarryView {
  readonly summary: CarrySummary;
  readonly tree: CarryTree;
  readonly needs: Needs;
  /** Whether a node stays behind. */
  readonly gone: (node: number) => boolean;
  private readonly outcome: Outcome;
  private readonly entries: Counts;
  private readonly changed: Counts;
  /** By the ticks, and as it comes out, which differs where a graft is asked for. */
  private readonly unticked: Counts;
  private readonly leftOut: Counts;
  private readonly along: Counts;
  private readonly secrets: Counts;
  private readonly boxBound: Counts;
  private readonly wanting: Counts;
  private readonly dangling: Counts;
  readonly find: (path: string) => readonly number[];
  private readonly sectionOf: (node: number) => number;
  private readonly names: RowNames;
  private search: { readonly words: string; readonly rows: readonly number[] } | null = null;

  constructor(
    readonly backup: Backup,
    readonly reading: Reading,
    readonly plan: Plan,
    /** The graft that the plan asks for, where there is one: then rows tell what it makes of them. */
    graft: Graft | null = null,
  ) {
    const { tree } = backup;
    const { edits } = compile(tree, reading, plan, backup.fits);
    this.tree = carryTree(tree, reading);
    this.needs = needsOf(tree, reading);
    this.find = placeFinder(tree, reading);
    this.sectionOf = sectionIndex(tree, reading.sections);
    this.names = new RowNames(tree, reading, this.tree);
    const { units, rowOf } = this.tree;
    const ledger = ledgerOf(tree, units, edits);
    const outcome = graft ? outcomeOfGraft(tree, units, graft) : outcomeOfPlan(tree, edits, ledger);
    this.outcome = outcome;
    this.gone = outcome.gone;
    const changed = [...outcome.changed];
    const along = [...ledger.leftOut.keys()].filter((node) => !outcome.leftOut.has(node));
    this.entries = this.sums(units.nodes, (node) => rowOf[node]!);
    this.changed = this.sums(changed, (node) => rowOf[node]!);
    this.unticked = this.sums(ledger.leftOut.keys(), (node) => rowOf[node]!);
    this.leftOut = this.sums(outcome.leftOut.keys(), (node) => rowOf[node]!);
    this.along = this.sums(along, (node) => rowOf[node]!);
    const ownRow = (node: number) => (units.of[node] === -1 ? -1 : rowOf[units.of[node]!]!);
    this.secrets = this.sums(reading.secrets, ({ site }) => ownRow(site.node));
    this.boxBound = this.sums(reading.boxBound, ({ node }) => ownRow(node));
    const wanting = new Set<number>();
    let byPlan = 0;
    outcome.unmet(this.needs, (need) => {
      wanting.add(ownRow(need.from));
      if (need.kind === 'names') byPlan++;
    });
    this.wanting = this.sums(wanting, (row) => row);
    const before = reading.dangling.filter(({ site, tier }) => tier !== 'possible' && !this.gone(site.node));
    this.dangling = this.sums(before, ({ site }) => ownRow(site.node));
    this.summary = {
      entries: ledger.units,
      carried: outcome.carried,
      changed: changed.length,
      leftOut: outcome.leftOut.size,
      dangling: { before: before.length, byPlan },
      filters: {
        all: ledger.units,
        changed: changed.length,
        'left-out': outcome.leftOut.size,
        attention: this.ofTops(this.wanting) + this.ofTops(this.dangling),
        secret: this.ofTops(this.secrets),
        'box-bound': this.ofTops(this.boxBound),
      },
    };
  }

  /** The rows inside a row, those in [from, from + limit); the sections for null. Nothing for an id that is not there. */
  children(id: string | null, from: number, limit: number): CarryRows {
    const row = id === null ? -1 : this.rowAt(id);
    if (id !== null && row === -1) return { total: 0, rows: [] };
    const { first, children } = this.tree;
    const start = first[row + 1]!;
    const total = first[row + 2]! - start;
    return { total, rows: this.views(children.subarray(start + from, Math.min(start + total, start + from + limit))) };
  }

  /** Whether a row, or one in it, is what a filter is about. */
  fits(row: number, filter: CarryFilter): boolean {
    switch (filter) {
      case 'all':
        return true;
      case 'changed':
        return this.changed[row]! > 0;
      case 'left-out':
        return this.leftOut[row]! > 0;
      case 'attention':
        return this.wanting[row]! + this.dangling[row]! > 0;
      case 'secret':
        return this.secrets[row]! > 0;
      case 'box-bound':
        return this.boxBound[row]! > 0;
      default:
        return filter satisfies never;
    }
  }

  /** One row; null for an id that is not there. */
  row(id: string): CarryRow | null {
    const row = this.rowAt(id);
    return row === -1 ? null : this.views([row])[0]!;
  }

  /** Sections, records and settings whose name, key, values or remarks hold the words; secrets are not looked into. */
  found(words: string, from: number, limit: number): CarryRows {
    const rows = this.rowsFound(words);
    return { total: rows.length, rows: this.views(rows.slice(from, from + limit)) };
  }

  /** Indices of the rows that hold the words, in the order of the file. */
  rowsFound(words: string): readonly number[] {
    if (this.search?.words !== words)
      this.search = { words, rows: rowsWith(this.backup.tree, this.tree, this.reading, words) };
    return this.search.rows;
  }

  /** What in a row goes over and needs something that stays behind. */
  wants(id: string, from: number, limit: number): NeedViews {
    const inside = this.entriesOf(id);
    const needs: Need[] = [];
    this.outcome.unmet(this.needs, (need) => {
      if (inside[this.needs.of[need.from]!]) needs.push(need);
    });
    return this.needViews(needs, from, limit);
  }

  /** Who would lose its target if a row that goes over were left out: asked before it is. */
  losers(id: string, from: number, limit: number): NeedViews {
    const inside = this.entriesOf(id);
    const needs: Need[] = [];
    this.needs.losses(inside, (need) => {
      if (need.kind !== 'inside' && !this.gone(need.from) && !this.gone(need.to)) needs.push(need);
    });
    return this.needViews(needs, from, limit);
  }

  /** Everything that a row needs in the end and that stays behind, as a whole or in part: what to take along. */
  missing(id: string): RecordMark[] {
    return this.needs
      .toTakeAlong(this.entriesOf(id))
      .filter((node) => this.holdsGone(node))
      .map((node) => this.mark(node));
  }

  /** The record, setting or element of structure around a node, for people. */
  mark(node: number): RecordMark {
    const { backup, tree, needs } = this;
    const own = needs.of[node] === -1 ? node : needs.nodes[needs.of[node]!]!;
    const row = tree.rowOf[own]!;
    return {
      path: pathOf(backup.tree, own),
      name: row === -1 ? nameOf(backup.tree, own) : this.names.of(row)[0],
      section: this.reading.sections[this.sectionOf(own)]?.name ?? '',
      line: backup.lines.at(backup.tree.start[own]!).line,
    };
  }

  /** Flags for the entries of the needs that a row stands for. */
  entriesOf(id: string): Uint8Array {
    const flags = new Uint8Array(this.needs.nodes.length);
    for (const node of this.find(id)) for (const entry of this.needs.entriesAt(node)) flags[entry] = 1;
    return flags;
  }

  /** Whether a node or an entry inside it stays behind. */
  private holdsGone(node: number): boolean {
    return this.needs.entriesAt(node).some((entry) => this.gone(this.needs.nodes[entry]!));
  }

  rowAt(id: string): number {
    const nodes = this.find(id);
    if (nodes.length > 1 && closeness(id) === 0) return this.tree.rowOfSection[this.sectionOf(nodes[0]!)]!;
    const row = nodes.length === 0 ? -1 : this.tree.rowOf[nodes[0]!]!;
    if (!id.endsWith('[*]') || row === -1) return row;
    return this.tree.rowOfCollection[this.tree.collection[row]!] ?? -1;
  }

  /** Adds up what lies in each row. */
  private sums<T>(items: Iterable<T>, rowOf: (item: T) => number): Counts {
    const { size, parent } = this.tree;
    const counts = new Int32Array(size);
    for (const item of items) {
      const row = rowOf(item);
      if (row !== -1) counts[row]!++;
    }
    for (let row = size - 1; row >= 0; row--) if (parent[row] !== -1) counts[parent[row]!]! += counts[row]!;
    return counts;
  }

  views(rows: Iterable<number>): CarryRow[] {
    return Array.from(rows, (row) => {
      const { tree, backup } = this;
      const [name, key] = this.names.of(row);
      const entries = this.entries[row]!;
      const changed = this.changed[row]!;
      const leftOut = this.leftOut[row]!;
      const node = tree.kind[row] === Row.collection ? this.recordsOf(row)[0]! : tree.node[row]!;
      return {
        id: idOf(backup.tree, tree, this.reading, row),
        kind: kindNames[tree.kind[row]!]!,
        name,
        key,
        tag: nameOf(backup.tree, node),
        section: this.reading.sections[this.sectionOf(node)]?.name ?? '',
        line: backup.lines.at(backup.tree.start[node]!).line,
        fate: fateOf(entries, changed, this.unticked[row]!),
        entries,
        carried: entries - changed - leftOut,
        changed,
        leftOut,
        along: this.along[row]!,
        children: tree.first[row + 2]! - tree.first[row + 1]!,
        secrets: this.secrets[row]!,
        boxBound: this.boxBound[row]!,
        wanting: this.wanting[row]!,
        dangling: this.dangling[row]!,
      };
    });
  }

  private ofTops(counts: Counts): number {
    const { children, first } = this.tree;
    return children.subarray(first[0]!, first[1]!).reduce((sum, row) => sum + counts[row]!, 0);
  }

  private recordsOf(row: number): readonly number[] {
    return this.reading.collections[this.tree.collection[row]!]!.records;
  }

  /** What a line of a flat list is called; null for other elements, and where that would be a secret. */
  lineName(node: number): string | null {
    return this.names.lineName(node);
  }

  private needViews(needs: readonly Need[], from: number, limit: number): NeedViews {
    return {
      total: needs.length,
      needs: needs.slice(from, from + limit).map(
        (need): NeedView => ({
          from: this.mark(need.from),
          to: this.mark(need.to),
          kind: need.kind,
          field: need.field,
          value: need.value,
          tier: need.tier,
          place: need.site && placeOf(this.backup, need.site),
        }),
      ),
    };
  }
}

function fateOf(entries: number, changed: number, unticked: number): CarryFate {
  if (unticked === entries && entries > 0) return 'left-out';
  if (unticked > 0) return 'mixed';
  return changed > 0 ? 'changed' : 'carried';
}
