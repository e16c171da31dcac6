import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import {
  type Backup,
  type Decision,
  openBackup,
  type Plan,
  type Reading,
  readMeaning,
  type Seat,
} from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { attributeValue, runsOf, type Site, TEXT, valueAt } from '../../src/core/xml/site.ts';
import { attributesOf, firstChild, isElement, Kind, nameOf, nextSibling, type Tree } from '../../src/core/xml/tree.ts';
import { corpus, corpusBytes, fixtures, opened } from '../corpus/files.ts';
import { generateDialect, isHeldBack } from '../dialects/generate.ts';

export interface File {
  readonly name: string;
  readonly backup: Backup;
  readonly reading: Reading;
}

const file = (name: string, bytes: Uint8Array): File => ({ name, ...opened(bytes, name) });

/** Generated dialects that are open to look at. */
export const seeds = Array.from({ length: 46 }, (_, at) => at + 1).filter((seed) => !isHeldBack(seed));

export const corpusFiles = corpus.map((name) => file(name, corpusBytes(name)));
export const schoolFiles = ['casket', 'harbourd', 'limani', 'onelet', 'pierbase', 'station'].map((name) =>
  file(name, readFileSync(`${fixtures}schools/${name}.xml`)),
);
/** Files of other layouts that are open to look at; without those whose contexts have roles of one name. */
export const layoutFiles = [
  'almanac',
  'anchorage',
  'bearings',
  'brasswork',
  'breakwater',
  'charthouse',
  'deckbook',
  'dictum',
  'ensign',
  'gazette',
  'lodge',
  'logbook',
  'moorage',
  'bulkhead',
  'crossings',
  'storebook',
  'pegelbuch',
  'sextant',
  'starboard',
  'tallybook',
  'tripwire',
  'typebox',
  'wharf',
  'windrose',
].map((name) => file(name, readFileSync(`${fixtures}layouts/${name}.xml`)));
export const dialectFiles = seeds.map((seed) => file(`dialect ${seed}`, generateDialect(seed).bytes));
/** Dialects whose networks meet their ports in further ways. */
export const meetingFiles = seeds.map((seed) =>
  file(`meeting ${seed}`, generateDialect(seed, { meeting: true }).bytes),
);

/** The tree of a result; reading what it means takes longer. */
export function treeOf(bytes: Uint8Array): Tree {
  const backup = openBackup(bytes, 'again.xml');
  if (!backup.ok) throw new Error(JSON.stringify(backup.trouble));
  return backup.value.tree;
}

export function again(bytes: Uint8Array): File {
  const backup = openBackup(bytes, 'again.xml');
  if (!backup.ok) throw new Error(JSON.stringify(backup.trouble));
  return { name: 'again', backup: backup.value, reading: readMeaning(backup.value.tree) };
}

/** Ports that a role can be told to sit on: those that stand alone and are in no aggregate. */
export function portsOf({ reading }: File): string[] {
  const members = new Set(reading.aggregates.flatMap((one) => one.members.map(({ port }) => port)));
  return reading.ports
    .filter(({ kind, name, parent }) => kind === 'physical' && parent === null && !members.has(name))
    .map(({ name }) => name);
}

export const pathOfRole = ({ backup, reading }: File, at: number) => pathOf(backup.tree, reading.roles[at]!.node);

/** A port of the donor, with the VLAN ID on it where there is one. */
export type Sits = { readonly port: string; readonly tag: number | null } | null;

/** Where the donor has each role, told by names and records and not by the code that moves them. */
export function sitsOf({ backup: { tree }, reading }: File): Map<string, Sits> {
  const tagged = new Map<string, { port: string; tag: number | null }>();
  for (const { name, parent, tag } of reading.ports) if (parent !== null) tagged.set(name, { port: parent, tag });
  for (const { records } of reading.tagging)
    for (const { device, parent, tag } of records) if (parent !== null) tagged.set(device, { port: parent, tag });
  return new Map(
    reading.roles.map(({ node, name }) => {
      const binding = reading.bindings.find((one) => one.node === node);
      if (!binding) return [name, null];
      if (binding.tag) return [name, { port: binding.port, tag: Number(valueAt(tree, binding.tag)) }];
      return [name, tagged.get(binding.port) ?? { port: binding.port, tag: null }];
    }),
  );
}

/** What a plan says of each role, by the words of its decisions alone. */
export function wanted(file: File, plan: Plan): Map<string, Sits> {
  const renames = new Map(
    plan.decisions.flatMap((one) => (one.kind === 'rename-port' ? [[one.from, one.to] as const] : [])),
  );
  const sits = sitsOf(file);
  for (const decision of plan.decisions) {
    if (decision.kind !== 'move-role') continue;
    const role = file.reading.roles.find(({ node }) => pathOf(file.backup.tree, node) === decision.role)!;
    sits.set(role.name, seatSits(decision.to));
  }
  for (const [name, seat] of sits) if (seat) sits.set(name, { ...seat, port: renames.get(seat.port) ?? seat.port });
  return sits;
}

const seatSits = (seat: Seat): Sits =>
  seat.on === 'none' ? null : { port: seat.port, tag: seat.on === 'tag' ? seat.tag : null };

/** Some ports among each other's places, and some roles on other devices. */
export function plansFor(file: File): fc.Arbitrary<Decision[]> {
  const ports = portsOf(file);
  const known = [...new Set(file.reading.mentions.map(({ port }) => port))];
  const renames = fc
    .subarray(known)
    .chain((from) =>
      fc
        .shuffledSubarray(from, { minLength: from.length })
        .map((to) => from.map((port, at): Decision => ({ kind: 'rename-port', from: port, to: to[at]! }))),
    );
  const tags = file.reading.tagging.flatMap(({ records }) => records.flatMap(({ tag }) => (tag === null ? [] : [tag])));
  const tag = fc.oneof(fc.integer({ min: 1, max: 4094 }), ...(tags.length ? [fc.constantFrom(...tags)] : []));
  const port = fc.constantFrom(...ports);
  const seat: fc.Arbitrary<Seat> = fc.oneof(
    port.map((one): Seat => ({ on: 'port', port: one })),
    fc.tuple(port, tag).map(([one, id]): Seat => ({ on: 'tag', port: one, tag: id })),
    fc.constant<Seat>({ on: 'none' }),
  );
  const moves = fc
    .uniqueArray(fc.nat(file.reading.roles.length - 1), { minLength: 1, maxLength: 3 })
    .chain((roles) =>
      fc.tuple(
        ...roles.map((at) => seat.map((to): Decision => ({ kind: 'move-role', role: pathOfRole(file, at), to }))),
      ),
    );
  return fc.tuple(renames, moves).map(([one, other]) => [...one, ...other]);
}

/** What the plan asks for and the file has no place or no form for; told to the technician, never made up. */
export const refusals = [
  'plan-role-no-place',
  'plan-role-is-port',
  'plan-role-on-vlan',
  'plan-role-in-text',
  'plan-role-many-ports',
  'plan-port-no-record',
  'plan-tag-no-record',
  'plan-tag-taken',
] as const;

export interface Difference {
  /** Sites of the donor whose value is another one. */
  readonly changed: Site[];
  /** Elements of the result that the donor does not have. */
  readonly added: number[];
}

/** What a result is to have beside the donor's: new elements behind an element, as many as it says; new attributes. */
export interface More {
  readonly behind: ReadonlyMap<number, number>;
  readonly attributes: ReadonlyMap<number, string>;
}

/** Compares two trees element by element; anything that is neither a value nor told of in `more` throws. */
export function differences(a: Tree, b: Tree, more: More = { behind: new Map(), attributes: new Map() }): Difference {
  const changed: Site[] = [];
  const added: number[] = [];
  const walk = (one: number, other: number) => {
    const wrong = (what: string) => new Error(`${pathOf(a, one)}: ${what}`);
    if (nameOf(a, one) !== nameOf(b, other)) throw wrong('another name');
    const [first, end] = attributesOf(a, one);
    const fresh = more.attributes.get(one);
    const [otherFirst, otherEnd] = attributesOf(b, other);
    const own = Array.from({ length: otherEnd - otherFirst }, (_, at) => otherFirst + at).filter(
      (attr) => b.names[b.attrName[attr]!] !== fresh,
    );
    if (own.length !== end - first || (fresh !== undefined && own.length === otherEnd - otherFirst))
      throw wrong('other attributes');
    for (const [at, attr] of own.entries()) {
      if (a.names[a.attrName[first + at]!] !== b.names[b.attrName[attr]!]) throw wrong('other attributes');
      if (attributeValue(a, first + at) !== attributeValue(b, attr)) changed.push({ node: one, attr: first + at });
    }
    if (text(a, one) !== text(b, other)) changed.push({ node: one, attr: TEXT });
    const right = children(b, other);
    let next = 0;
    for (const child of children(a, one)) {
      const twin = right[next++];
      if (twin === undefined) throw wrong('something is gone');
      if (isElement(a, child) && isElement(b, twin)) walk(child, twin);
      else if (source(a, child) !== source(b, twin)) throw wrong('another remark');
      for (let count = more.behind.get(child) ?? 0; count > 0; count--) added.push(right[next++]!);
    }
    if (next !== right.length) throw wrong('something is new');
  };
  walk(a.root, b.root);
  return { changed, added };
}

/** Names of elements and attributes below a node, in order: the form in which something is written. */
export function form(tree: Tree, node: number): string {
  const [first, end] = attributesOf(tree, node);
  const attributes = Array.from({ length: end - first }, (_, at) => `@${tree.names[tree.attrName[first + at]!]}`);
  const inner = children(tree, node).filter((child) => isElement(tree, child));
  return `${nameOf(tree, node)}(${[...attributes, ...inner.map((child) => form(tree, child))].join(' ')})`;
}

const children = (tree: Tree, node: number): number[] => {
  const all: number[] = [];
  for (let child = firstChild(tree, node); child !== -1; child = nextSibling(tree, child))
    if (tree.kind[child] !== Kind.cdata) all.push(child);
  return all;
};
const source = (tree: Tree, node: number) => tree.text.slice(tree.start[node], tree.end[node]);
const text = (tree: Tree, node: number) => {
  const whole = runsOf(tree, node)
    .map(({ start, end }) => tree.text.slice(start, end))
    .join('');
  return whole.trim() === '' ? '' : whole;
};
