import type { Table } from '../facts/tables.ts';
import type { Part } from './intervals.ts';
import type { RuleParts } from './rule-cover.ts';
import { partName } from './rule-uses.ts';

/** What can be said of a rule: a part, or something that is not understood, which may turn what stands beside it round. */
export type Word =
  | { readonly name: string; readonly part: Part }
  | {
      readonly text: string;
      /** What holds the columns that it may turn round. */
      readonly turning: string | null;
      /** A yes or no that most rules of the list say alike. */
      readonly usual: boolean;
    };

/**
 * What rules say, as a tree of words: rules that say the same words in the same order end at the same node, so each such
 * sentence is made into a match once. A sentence is told by its last node; 0 is the empty one.
 */
export class Sentences {
  /** Nodes after the root: the word that leads there with its number, and the node before it. */
  private readonly words: Word[] = [];
  private readonly ids: number[] = [];
  private readonly before: number[] = [];
  /** Nodes by the one before and the number of the word: open addressing, 0 for a free slot. */
  private slots = new Int32Array(1 << 10);
  private readonly made: RuleParts[] = [];

  constructor(
    private readonly table: Table,
    private readonly either: readonly (readonly string[])[],
    private readonly scoped: readonly string[],
  ) {}

  /** The node that the word of this number leads to; 0 where nobody said it there yet. */
  after(node: number, id: number): number {
    return this.slots[this.slot(node, id)]!;
  }

  /** Says a word that was not said there yet. */
  add(node: number, id: number, word: Word): number {
    const next = this.words.push(word);
    this.ids.push(id);
    this.before.push(node);
    this.slots[this.slot(node, id)] = next;
    if (next * 2 > this.slots.length) this.grow();
    return next;
  }

  private slot(node: number, id: number): number {
    const { slots, before, ids } = this;
    const mask = slots.length - 1;
    let slot = mixed(node, id) & mask;
    for (let held = slots[slot]!; held !== 0; held = slots[slot]!) {
      if (before[held - 1] === node && ids[held - 1] === id) break;
      slot = (slot + 1) & mask;
    }
    return slot;
  }

  private grow(): void {
    this.slots = new Int32Array(this.slots.length * 4);
    for (let node = 1; node <= this.words.length; node++)
      this.slots[this.slot(this.before[node - 1]!, this.ids[node - 1]!)] = node;
  }

  /** What a sentence lets match. */
  match(node: number): RuleParts {
    this.made[node] ??= this.make(node);
    return this.made[node]!;
  }

  private make(node: number): RuleParts {
    const said: Word[] = [];
    for (let at = node; at !== 0; at = this.before[at - 1]!) said.push(this.words[at - 1]!);
    const parts = new Map<string, Part>();
    const unknown: Exclude<Word, { name: string }>[] = [];
    for (const word of said.reverse()) {
      if ('part' in word) parts.set(word.name, word.part);
      else unknown.push(word);
    }
    const { either, scoped } = this;
    const odd = unknown.filter(({ usual }) => !usual);
    return { parts, either, scoped, ...this.effectOf(unknown), odd: this.effectOf(odd) };
  }

  private effectOf(unknown: readonly Exclude<Word, { name: string }>[]): Pick<RuleParts, 'turned' | 'unknown'> {
    const turning = new Set(unknown.map(({ turning }) => turning));
    const turned = [...turning].some((container) => container !== null)
      ? new Set(this.table.columns.filter(({ container }) => turning.has(container)).map(partName))
      : nothingTurned;
    return {
      turned,
      unknown: unknown
        .map(({ text }) => text)
        .sort()
        .join('\n'),
    };
  }
}

function mixed(node: number, id: number): number {
  const hash = Math.imul(node, 0x9e3779b1) ^ Math.imul(id + 1, 0x85ebca6b);
  return hash ^ (hash >>> 15);
}

const nothingTurned: ReadonlySet<string> = new Set();
