import type { Decision, Plan } from '../plan/plan.ts';
import type { Reading } from '../reading/reading.ts';
import { ordinalsOf, pathFinder, pathOf } from '../xml/path.ts';
import { elementsOf, nameOf, type Tree } from '../xml/tree.ts';
import { type KeySpec, RecordMarks } from './record-marks.ts';

/**
 * By path, for every element on the way of a plan's paths that others of its name stand beside or may: what tells it from
 * them, and the mark of that, as `name=Ab3_x`. So a record is found again wherever it has moved.
 */
export type Landmarks = Readonly<Record<string, string>>;

/** The paths that a plan's decisions call things by. */
export function pathsOf({ decisions, part }: Plan): string[] {
  const paths = [...decisions, ...(part?.ticks ?? [])].flatMap(pathIn);
  const said = part ? [part.modes, part.answers, part.standings] : [];
  return [...paths, ...said.flatMap((one) => Object.keys(one))];
}

export function pathIn(decision: Decision): string[] {
  switch (decision.kind) {
    case 'leave-out':
    case 'keep':
    case 'set-value':
      return [decision.path];
    case 'move-role':
      return [decision.role];
    case 'set-aside':
      return decision.finding.path === null ? [] : [decision.finding.path];
    default:
      return [];
  }
}

/** The decision about what now stands at another path. */
export function atPath(decision: Decision, path: string): Decision {
  switch (decision.kind) {
    case 'leave-out':
    case 'keep':
    case 'set-value':
      return { ...decision, path };
    case 'move-role':
      return { ...decision, role: path };
    case 'set-aside':
      return { ...decision, finding: { ...decision.finding, path } };
    default:
      return decision;
  }
}

/** A path as its element and what follows it: an attribute, a name, or all of a kind. */
function parted(path: string): [element: string, tail: string] {
  const cut = path.search(/\/@[^/]*$|\/(?:name|record)\(\)$|\/[^/]*\[\*\]$|\/section\([^/]*\)$/);
  return cut === -1 ? [path, ''] : [path.slice(0, cut), path.slice(cut)];
}

/** Landmarks of all paths that are in the file. */
export function landmarksOf(tree: Tree, reading: Reading, paths: readonly string[]): Landmarks {
  const marks = new RecordMarks(tree, reading);
  const find = pathFinder(tree);
  const specs = recordSpecs(marks);
  const kin = kinCounter(tree);
  const landmarks: Record<string, string> = {};
  for (const path of paths) {
    for (let node = find(parted(path)[0]); node !== -1 && node !== tree.root; node = tree.parent[node]!) {
      const spec = specs.get(node) ?? '';
      if (spec === '!' || (spec === '' && kin(node) === 1)) continue;
      const at = pathOf(tree, node);
      if (landmarks[at] !== undefined) break;
      landmarks[at] = `${spec}=${marks.mark(node, spec)}`;
    }
  }
  return landmarks;
}

/** How each record is told apart, by its node. */
export function recordSpecs(marks: RecordMarks): Map<number, KeySpec> {
  const specs = new Map<number, KeySpec>();
  for (const collection of marks.reading.collections) {
    const spec = marks.specFor(collection);
    for (const node of collection.records) specs.set(node, spec);
  }
  return specs;
}

/** How many elements of its name stand where a node does, itself included. */
function kinCounter(tree: Tree): (node: number) => number {
  const counts = new Map<number, Map<number, number>>();
  const ordinals = ordinalsOf(tree);
  return (node) => {
    const parent = tree.parent[node]!;
    let byName = counts.get(parent);
    if (!byName) {
      byName = new Map();
      for (const child of elementsOf(tree, parent)) byName.set(tree.name[child]!, ordinals[child]!);
      counts.set(parent, byName);
    }
    return byName.get(tree.name[node]!)!;
  };
}

/** Where a path of another backup leads in this one. */
export interface Found {
  /** The path in this backup. */
  readonly path: string;
  /** Each element on the way is surely the one that was meant. */
  readonly sure: boolean;
}

/** Finds the things of another backup in this one by its landmarks, wherever they have moved. */
export class Pathfinder {
  private readonly marks: RecordMarks;
  private readonly byName = new Map<number, Map<string, number[]>>();

  constructor(
    private readonly tree: Tree,
    reading: Reading,
    private readonly landmarks: Landmarks,
  ) {
    this.marks = new RecordMarks(tree, reading);
  }

  /** `none` where nothing stands there now, `other` where another record does. */
  find(path: string): Found | 'none' | 'other' {
    const { tree } = this;
    const [element, tail] = parted(path);
    const steps = element.split('/').slice(1);
    if (steps.length === 0 || steps[0]!.replace(/\[1\]$/, '') !== nameOf(tree, tree.root)) return 'none';
    let node = tree.root;
    let sure = true;
    let old = `/${steps[0]}`;
    for (const step of steps.slice(1)) {
      old += `/${step}`;
      const next = this.step(node, step, this.landmarks[old]);
      if (typeof next === 'string') return next;
      node = next.node;
      sure &&= next.sure;
    }
    return { path: pathOf(tree, node) + tail, sure };
  }

  private step(
    parent: number,
    step: string,
    landmark: string | undefined,
  ): { node: number; sure: boolean } | 'none' | 'other' {
    const parts = /^([^[\]]+)(?:\[(\d+)\])?$/.exec(step);
    if (!parts) return 'none';
    const name = parts[1]!;
    const kin = this.kin(parent, name);
    const there = kin[Number(parts[2] ?? 1) - 1];
    if (landmark === undefined) return there === undefined ? 'none' : { node: there, sure: kin.length === 1 };
    const cut = landmark.lastIndexOf('=');
    const spec = landmark.slice(0, cut);
    const same = this.marks.among(parent, name, spec, landmark.slice(cut + 1));
    if (same.length === 1) return { node: same[0]!, sure: true };
    if (same.length > 1) return { node: there !== undefined && same.includes(there) ? there : same[0]!, sure: false };
    if (kin.length === 0) return 'none';
    if (spec !== '') return 'other';
    // Told by all that it held, and that has changed: where it is alone it is still the one.
    return there === undefined ? 'none' : { node: there, sure: kin.length === 1 };
  }

  private kin(parent: number, name: string): readonly number[] {
    let byName = this.byName.get(parent);
    if (!byName) {
      byName = new Map();
      for (const child of elementsOf(this.tree, parent)) {
        const kin = byName.get(nameOf(this.tree, child));
        if (kin) kin.push(child);
        else byName.set(nameOf(this.tree, child), [child]);
      }
      this.byName.set(parent, byName);
    }
    return byName.get(name) ?? [];
  }
}
