import { isData, type SchemaModel, type SchemaNode } from './model.ts';
import type { Expression, Step } from './xpath.ts';

/** Elements whose conditions rest on others: all of one schema node, or those around which an element of `within` stands. */
export interface Looker {
  readonly schema: SchemaNode;
  readonly within: SchemaNode | null;
}

/** What a path has come to: a schema node, and how far up from the element that asks it went; null for the top. */
interface Reached {
  readonly schema: SchemaNode;
  readonly within: SchemaNode | null;
}

const known = new WeakMap<SchemaModel, ReadonlyMap<number, readonly Looker[]>>();

/** For each schema node who looks at elements of it, or through them at something inside. Made once for a format. */
export function lookersOf(model: SchemaModel): ReadonlyMap<number, readonly Looker[]> {
  let found = known.get(model);
  if (!found) {
    found = gathered(model);
    known.set(model, found);
  }
  return found;
}

function gathered(model: SchemaModel): Map<number, Looker[]> {
  const all = new Map<number, Looker[]>();
  const told = new Set<string>();
  for (const schema of model.nodes) {
    if (!isData(schema) || !schema.parent) continue;
    const look = (at: SchemaNode, within: SchemaNode | null) => {
      // What is looked up from inside the element is inside it.
      const around = within && isAbove(schema, within) ? schema : within;
      const key = `${at.id} ${schema.id} ${around?.id}`;
      if (told.has(key)) return;
      told.add(key);
      const list = all.get(at.id);
      const looker = { schema, within: around };
      if (list) list.push(looker);
      else all.set(at.id, [looker]);
    };
    for (const { ask, from } of conditionsAt(schema)) new Looks(model, look).value(ask, [from], [from]);
  }
  return all;
}

/** Conditions that are asked where an element is judged: its own, and those of what it lacks; with where they start. */
function* conditionsAt(schema: SchemaNode): Generator<{ readonly ask: Expression; readonly from: Reached }> {
  for (const { ask } of schema.musts) yield { ask, from: { schema, within: schema } };
  yield* whensOf(schema);
  if (schema.demands) yield* conditionsInside(schema);
}

function* conditionsInside(part: SchemaNode): Generator<{ readonly ask: Expression; readonly from: Reached }> {
  for (const child of part.children) {
    yield* whensOf(child);
    if (!isData(child) || (child.row.is === 'container' && !child.row.presence)) yield* conditionsInside(child);
  }
}

function* whensOf(schema: SchemaNode): Generator<{ readonly ask: Expression; readonly from: Reached }> {
  for (const { ask, at } of schema.whens) {
    const start = at === 'self' && isData(schema) ? schema : schema.parent;
    if (start) yield { ask, from: { schema: start, within: start } };
  }
}

const isAbove = (above: SchemaNode, schema: SchemaNode): boolean => {
  for (let at = schema.parent; at; at = at.parent) if (at === above) return true;
  return false;
};

/** Follows expressions through the schema, and tells each schema node that they come through. */
class Looks {
  constructor(
    private readonly model: SchemaModel,
    private readonly look: (at: SchemaNode, within: SchemaNode | null) => void,
  ) {}

  value(expression: Expression, here: readonly Reached[], current: readonly Reached[]): readonly Reached[] {
    switch (expression.is) {
      case 'unknown':
      case 'text':
      case 'number':
        return [];
      case 'call':
        for (const one of expression.with) this.value(one, here, current);
        return expression.name === 'current' ? current : [];
      case 'path': {
        const { from, steps } = expression;
        const start =
          from === 'top'
            ? [{ schema: this.model.nodes[0]!, within: null }]
            : from === 'here'
              ? here
              : this.value(from, here, current);
        return steps.reduce((now, step) => this.step(now, step, current), start);
      }
      default:
        this.value(expression.a, here, current);
        this.value(expression.b, here, current);
        return [];
    }
  }

  private step(from: readonly Reached[], step: Step, current: readonly Reached[]): readonly Reached[] {
    if (step.axis === 'parent')
      return from.flatMap(({ schema, within }) => {
        const up = schema.parent;
        return up ? [{ schema: up, within: within && isAbove(up, within) ? up : within }] : [];
      });
    const found =
      step.axis === 'self'
        ? from
        : from.flatMap(({ schema, within }) => {
            const wanted = schema.members.get(step.name);
            return wanted ? [{ schema: wanted, within }] : [];
          });
    for (const { schema, within } of found) {
      this.look(schema, within);
      // Whether a default applies, the other cases of its choice decide.
      for (const own of schema.cases.slice(0, 1)) for (const other of dataIn(own)) this.look(other, within);
    }
    for (const test of step.where) this.value(test, found, current);
    return found;
  }
}

function* dataIn(part: SchemaNode): Generator<SchemaNode> {
  for (const child of part.children)
    if (isData(child)) yield child;
    else yield* dataIn(child);
}
