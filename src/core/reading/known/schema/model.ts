import type { KnownFormat } from '../format.ts';
import type { KnownSchema, SchemaRow, TypeRow } from './format.ts';
import { type Expression, parseXPath } from './xpath.ts';

/** A node of a format's schema, ready to be walked. */
export interface SchemaNode {
  /** Index into `nodes`; 0 is the top. */
  readonly id: number;
  readonly row: SchemaRow;
  readonly module: string;
  /** The data node around it; null for the top. */
  readonly parent: SchemaNode | null;
  /** Choices and cases between the data node around it and itself, outermost first. */
  readonly cases: readonly SchemaNode[];
  /** As the schema has them: choices and cases stand between. */
  readonly children: SchemaNode[];
  /** Data nodes inside, by `module:name`, whatever choices stand between. */
  readonly members: Map<string, SchemaNode>;
  readonly type: TypeRow | null;
  readonly musts: readonly Condition[];
  readonly whens: readonly (Condition & { readonly at: 'self' | 'parent' })[];
  /** Whether something inside has to be there. */
  readonly demands: boolean;
}

export interface Condition {
  readonly test: string;
  readonly ask: Expression;
}

export interface SchemaModel {
  readonly nodes: readonly SchemaNode[];
  readonly types: readonly TypeRow[];
  /** Every identity with all that it is derived from, itself left out. */
  readonly identities: ReadonlyMap<string, ReadonlySet<string>>;
}

export const isData = ({ row }: SchemaNode) => row.is !== 'choice' && row.is !== 'case';

const models = new WeakMap<KnownFormat, SchemaModel>();

/** Made once for a format; null where nothing is known of its types. */
export function modelOf(format: KnownFormat): SchemaModel | null {
  if (!format.schema) return null;
  const known = models.get(format);
  if (known) return known;
  const made = makeModel(format.schema);
  models.set(format, made);
  return made;
}

const top: SchemaRow = { name: '', is: 'container', presence: true };

function makeModel({ identities, types, nodes: rows }: KnownSchema): SchemaModel {
  const expressions = new Map<string, Expression>();
  const asked = (test: string): Condition => {
    const ask = expressions.get(test) ?? parseXPath(test);
    expressions.set(test, ask);
    return { test, ask };
  };
  const nodes: SchemaNode[] = [];
  const add = (row: SchemaRow, around: SchemaNode | null, parent: SchemaNode | null, cases: readonly SchemaNode[]) => {
    const node: SchemaNode = {
      id: nodes.length,
      row,
      module: row.module ?? around?.module ?? '',
      parent,
      cases,
      children: [],
      members: new Map(),
      type: row.type === undefined ? null : types[row.type]!,
      musts: (row.must ?? []).map(asked),
      whens: (row.when ?? []).map(({ test, at }) => ({ ...asked(test), at })),
      demands: demands(row),
    };
    nodes.push(node);
    around?.children.push(node);
    if (isData(node)) parent?.members.set(`${node.module}:${row.name}`, node);
    const inner = isData(node) ? { parent: node, cases: [] } : { parent, cases: [...cases, node] };
    for (const child of row.in ?? []) add(child, node, inner.parent, inner.cases);
    return node;
  };
  add({ ...top, in: rows }, null, null, []);
  return { nodes, types, identities: ancestors(identities) };
}

function demands(row: SchemaRow): boolean {
  return (
    (row.keys ?? []).length > 0 ||
    (row.in ?? []).some(
      (child) =>
        child.mandatory === true ||
        (child.least ?? 0) > 0 ||
        child.most !== undefined ||
        child.is === 'choice' ||
        (child.is === 'container' && !child.presence && demands(child)),
    )
  );
}

function ancestors(identities: KnownSchema['identities']): Map<string, ReadonlySet<string>> {
  const all = new Map<string, Set<string>>();
  const of = (name: string): Set<string> => {
    const known = all.get(name);
    if (known) return known;
    const found = new Set<string>();
    all.set(name, found);
    for (const base of identities[name] ?? []) {
      found.add(base);
      for (const above of of(base)) found.add(above);
    }
    return found;
  };
  for (const name of Object.keys(identities)) of(name);
  return all;
}
