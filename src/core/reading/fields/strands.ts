import { classify } from '../../values/classify.ts';
import { attributeValue } from '../../xml/site.ts';
import { nameOf, type Tree } from '../../xml/tree.ts';
import type { Outline } from '../outline/outline.ts';
import { type FieldData, localName } from './fields.ts';

/**
 * A part of a field whose places have one name. Most fields are one strand; a field of records keyed by their tags, of
 * values wrapped in an element of their own (`<secret><text>…</text></secret>`), or of settings that are pairs of name
 * and value falls into one for each name, since the name says what the value is about.
 */
export interface Strand {
  readonly field: FieldData;
  /** Indices of places in the field. */
  readonly places: readonly number[];
  /** The name that tells, prefix left out: the leaf's own, that of the element around the value, or the setting's. */
  readonly name: string;
  /** The same for all strands that stand side by side in records of one kind. */
  readonly company: string;
  /** What the name may have to be read together with: of the element that holds nothing else, or of the part of a key before. */
  readonly around: string;
  /** True where the values of one record stand in elements of their own: lines of a property list, pairs. */
  readonly scattered: boolean;
}

/** More names than this and the names are keys. */
const MANY = 60;
const MANY_PAIRS = 2000;

export function strandsOf(outline: Outline, fields: readonly FieldData[]): readonly Strand[] {
  const { tree } = outline;
  const wrappers = wrapperNames(outline, fields);
  const strands: Strand[] = [];
  // Most fields have as many places as their neighbours.
  const known = new Map<number, readonly number[]>();
  const allOf = ({ length }: readonly number[]): readonly number[] => {
    const places = known.get(length) ?? Array.from({ length }, (_, place) => place);
    known.set(length, places);
    return places;
  };
  for (const field of fields) {
    if (field.tag) continue;
    const { steps, at } = field;
    const last = steps[steps.length - 1]!;
    // The attribute that is a cell's value says as little as a wrapper: its column does. Beside a text it marks the type.
    const isCell = last.startsWith('@') && outline.value[outline.parent[at[0]!]!] === -1;
    const wrapped = steps.length > 1 && (wrappers.has(last) || (isCell && steps[steps.length - 2]!.endsWith(']')));
    const told = steps.length - (wrapped ? 2 : 1);
    const company = steps.slice(0, told).join('/');
    const scattered = outline.part[at[0]!] === 1;
    const holder = bareName(steps[told - 1] ?? '');
    const around = scattered || standsAlone(tree, field, holder) ? holder : '';
    if (steps[told] !== '*') {
      strands.push({
        field,
        places: allOf(at),
        name: bareName(steps[told]!),
        company,
        around,
        scattered,
      });
      continue;
    }
    const byName = new Map<number, number[]>();
    for (let place = 0; place < at.length && byName.size <= MANY; place++) {
      const node = wrapped ? outline.parent[at[place]!]! : at[place]!;
      const group = byName.get(outline.label[node]!);
      if (group) group.push(place);
      else byName.set(outline.label[node]!, [place]);
    }
    if (byName.size > MANY) strands.push({ field, places: allOf(at), name: '*', company, around, scattered });
    else
      for (const [label, places] of byName)
        strands.push({ field, places, name: bareName(outline.labels[label]!), company, around, scattered });
  }
  return withPairs(strands);
}

/** `secret` of `@secret`, of `cell[secret]` and of `site:secret`. */
function bareName(step: string): string {
  const name = /\[(.+)\]$/.exec(step)?.[1] ?? step;
  return localName(name.startsWith('@') ? name.slice(1) : name);
}

const settingName = /^[\p{L}_][\p{L}\p{M}\p{N}_-]*(?:[.:/][\p{L}\p{N}_-]+)*$/u;

/** Cuts the values of settings up by the settings' names, where records are pairs of the two. */
function withPairs(strands: readonly Strand[]): readonly Strand[] {
  const companies = new Map<string, Strand[]>();
  for (const strand of strands) {
    const list = companies.get(strand.company);
    if (list) list.push(strand);
    else companies.set(strand.company, [strand]);
  }
  const instead = new Map<Strand, readonly Strand[]>();
  for (const list of companies.values()) {
    if (list.length !== 2) continue;
    const [names, values] = list as [Strand, Strand];
    if (values.places.length < 3 || values.places.length > MANY_PAIRS || names.places.length < values.places.length)
      continue;
    if (arePairs(names, values)) instead.set(values, cutByName(names, values));
  }
  return instead.size === 0 ? strands : strands.flatMap((strand) => instead.get(strand) ?? [strand]);
}

/**
 * Names look like names of settings, and values are of several kinds. Where a name comes once in the whole list it has to
 * be a path or a compound, or hardly any value be like another, since a list of records has plain names too.
 */
function arePairs({ field, places }: Strand, values: Strand): boolean {
  if (field.rowShape !== values.field.rowShape || field.several || values.field.several) return false;
  const texts = places.map((place) => field.values[place]!);
  if (texts.filter((text) => text.length < 120 && settingName.test(text)).length < texts.length * 0.9) return false;
  const distinct = new Set(texts).size;
  const compound = texts.filter((text) => /[.:/_-]/.test(text)).length;
  const kinds = new Set<string>();
  for (const place of values.places.slice(0, 200)) kinds.add(classify(values.field.values[place]!)[0]!);
  const unlike = kinds.size >= Math.max(3, values.places.length * 0.6);
  if (distinct === texts.length ? compound < distinct * 0.6 && !unlike : distinct * 1.5 > texts.length) return false;
  return kinds.size >= (texts.length < 8 ? 2 : 3);
}

function cutByName(names: Strand, values: Strand): readonly Strand[] {
  const nameOfRow = new Map<number, string>();
  for (const place of names.places) nameOfRow.set(names.field.rows[place]!, names.field.values[place]!);
  const cut = new Map<string, number[]>();
  for (const place of values.places) {
    const path = nameOfRow.get(values.field.rows[place]!) ?? '';
    const group = cut.get(path);
    if (group) group.push(place);
    else cut.set(path, [place]);
  }
  const once = cut.size === values.places.length;
  return [...cut].map(([path, places]) => {
    const last = Math.max(path.lastIndexOf('.'), path.lastIndexOf(':'), path.lastIndexOf('/'));
    // A name without a path that comes once stands for itself; one that comes again is a field of a bag.
    const around = last >= 0 ? path.slice(0, last).replace(/[.:]/g, '/') : places.length === 1 && once ? path : '';
    const company = around === '' ? values.company : `${values.company}/${around}`;
    return {
      field: values.field,
      places,
      name: path.slice(last + 1),
      company,
      around: lastStep(company),
      scattered: true,
    };
  });
}

/** Last steps of values that stand alone in an element, under elements of several names. */
function wrapperNames({ tree, node, attr }: Outline, fields: readonly FieldData[]): ReadonlySet<string> {
  const counts = new Map<string, { alone: number; all: number; above: Set<number> }>();
  for (const field of fields) {
    const last = field.steps[field.steps.length - 1]!;
    if (last === 'name()' || last === '*' || last.endsWith(']') || field.begins) continue;
    let count = counts.get(last);
    if (!count) {
      count = { alone: 0, all: 0, above: new Set() };
      counts.set(last, count);
    }
    for (let place = 0; place < field.at.length; place += Math.max(1, field.at.length >> 4)) {
      const [at, own] = [node[field.at[place]!]!, attr[field.at[place]!]!];
      const holder = own >= 0 ? at : tree.parent[at]!;
      count.all++;
      if (holder === -1 || !isAlone(tree, at, own)) continue;
      count.alone++;
      count.above.add(tree.name[holder]!);
    }
  }
  const names = new Set<string>();
  for (const [name, { alone, all, above }] of counts) if (above.size >= 3 && alone >= all * 0.8) names.add(name);
  return names;
}

const lastStep = (path: string): string => path.slice(path.lastIndexOf('/') + 1);

/** Whether a value is all that the element of that name around it holds. */
function standsAlone(tree: Tree, { nodes, attrs, begins }: FieldData, holder: string): boolean {
  const [node, attr] = [nodes[0]!, attrs[0]!];
  const around = attr >= 0 ? node : tree.parent[node]!;
  return begins === null && isAlone(tree, node, attr) && localName(nameOf(tree, around)) === holder;
}

/** What a mark of a value's type, or of its name, looks like. */
const isMark = (text: string) => /^[\p{L}_][\p{L}\p{M}\p{N}_.:-]{0,40}$/u.test(text);

/** Whether a value is all that its element holds, a mark of its type left aside. */
function isAlone(tree: Tree, node: number, attr: number): boolean {
  if (attr >= 0) {
    if (tree.after[node] !== node + 1 || tree.openEnd[node]! < tree.closeStart[node]!) return false;
    return isBesideMark(tree, node, attr);
  }
  const parent = tree.parent[node]!;
  if (parent === -1 || !isBesideMark(tree, parent, -1)) return false;
  return node === parent + 1 && tree.after[parent] === tree.after[node] && nameOf(tree, parent) !== nameOf(tree, node);
}

/** Whether an element has no other attribute than that one and a mark. */
function isBesideMark(tree: Tree, node: number, attr: number): boolean {
  let others = 0;
  for (let at = tree.attrFirst[node]!; at < tree.attrFirst[node + 1]!; at++)
    if (at !== attr && (++others > 1 || !isMark(attributeValue(tree, at)))) return false;
  return true;
}
