import { pathIn } from './condition.ts';
import type { Data, Item } from './data.ts';
import type { Expression, Step } from './xpath.ts';

type Value = boolean | number | string | readonly Item[];

export interface Cause {
  readonly node: number;
  readonly name: string;
  readonly value: string | null;
}

/** Thrown where an expression rests on what is not known. */
class CouldNotTell extends Error {}

/** Asks expressions about nodes of one data tree. What rests on the document alone is worked out once. */
export class Evaluator {
  private readonly fixed = new Map<Expression, Value>();
  private readonly prefixes = new Map<Expression, readonly Item[]>();
  private readonly indices = new Map<Expression, Map<string, Item[]>>();

  constructor(
    private readonly data: Data,
    private readonly scope: number,
  ) {}

  /** Whether a condition holds at a node; null where that could not be told. */
  holds(expression: Expression, item: Item): boolean | null {
    try {
      return truth(this.value(expression, item, item));
    } catch (error) {
      if (error instanceof CouldNotTell) return null;
      throw error;
    }
  }

  /**
   * What a condition that does not hold looks at: the name at the end of its first path, the element that has it, or would
   * have it, and the value there, null where it is not written.
   */
  causeOf(expression: Expression, item: Item): Cause | null {
    const path = pathIn(expression);
    const last = path?.steps[path.steps.length - 1];
    if (!path || last?.axis !== 'child') return null;
    try {
      for (let length = path.steps.length; length >= 0; length--) {
        const [found] = length === 0 ? [item] : this.path({ ...path, steps: path.steps.slice(0, length) }, item, item);
        if (!found) continue;
        const whole = length === path.steps.length;
        let at: Item | null = whole ? found.up : found;
        while (at && at.node === -1) at = at.up;
        const step = path.steps[Math.min(length, path.steps.length - 1)]!;
        const name = (step.axis === 'child' ? step.name : last.name).replace(/^.*:/, '');
        return at && { node: at.node, name, value: whole ? this.data.value(found) : null };
      }
    } catch (error) {
      if (!(error instanceof CouldNotTell)) throw error;
    }
    return null;
  }

  private value(expression: Expression, here: Item, current: Item): Value {
    if (expression.on.here || expression.on.current || expression.is === 'text' || expression.is === 'number')
      return this.worked(expression, here, current);
    const known = this.fixed.get(expression);
    if (known !== undefined) return known;
    const value = this.worked(expression, here, current);
    this.fixed.set(expression, value);
    return value;
  }

  private worked(expression: Expression, here: Item, current: Item): Value {
    switch (expression.is) {
      case 'unknown':
        throw new CouldNotTell();
      case 'text':
      case 'number':
        return expression.value;
      case 'path':
        return this.path(expression, here, current);
      case 'call':
        return this.call(expression, here, current);
    }
    const a = this.value(expression.a, here, current);
    if (expression.is === 'or' && truth(a)) return true;
    if (expression.is === 'and' && !truth(a)) return false;
    const b = this.value(expression.b, here, current);
    switch (expression.is) {
      case 'or':
      case 'and':
        return truth(b);
      case '=':
      case '!=':
      case '<':
      case '<=':
      case '>':
      case '>=':
        return this.compared(expression.is, a, b);
    }
    const [left, right] = [this.number(a), this.number(b)];
    switch (expression.is) {
      case '+':
        return left + right;
      case '-':
        return left - right;
      case '*':
        return left * right;
      case 'div':
        return left / right;
      case 'mod':
        return left % right;
    }
  }

  private path(expression: Expression & { readonly is: 'path' }, here: Item, current: Item): readonly Item[] {
    const { from, steps } = expression;
    if (from !== 'top') {
      const start = from === 'here' ? [here] : this.value(from, here, current);
      if (!Array.isArray(start)) throw new CouldNotTell();
      return steps.reduce<readonly Item[]>((items, step) => this.step(items, step, current), start as readonly Item[]);
    }
    // What comes before the first predicate that asks about the current node is the same for all.
    const asks = steps.findIndex((step) => 'where' in step && step.where.some(({ on }) => on.current));
    const cut = asks === -1 ? steps.length : asks;
    let items = this.prefixes.get(expression);
    if (!items) {
      items = this.fromTop(steps.slice(0, cut), current);
      this.prefixes.set(expression, items);
    }
    if (asks === -1) return items;
    const step = steps[cut]!;
    const keyed = keyIn(step);
    if (!keyed || step.axis !== 'child')
      return this.rest(
        cut === 0 ? this.fromTop([step], current) : this.step(items, step, current),
        steps,
        cut + 1,
        current,
      );
    let index = this.indices.get(expression);
    if (!index) {
      const bare: Step = { ...step, where: [] };
      index = new Map();
      for (const item of cut === 0 ? this.fromTop([bare], current) : this.step(items, bare, current))
        for (const key of this.step([item], keyed.key, current)) {
          const text = this.text(key);
          const list = index.get(text);
          if (list) list.push(item);
          else index.set(text, [item]);
        }
      this.indices.set(expression, index);
    }
    const wanted = this.value(keyed.equals, here, current);
    const texts = Array.isArray(wanted) ? (wanted as readonly Item[]).map((item) => this.text(item)) : [string(wanted)];
    const found = texts.flatMap((text) => index.get(text) ?? []);
    return this.rest(found, steps, cut + 1, current);
  }

  private rest(items: readonly Item[], steps: readonly Step[], from: number, current: Item): readonly Item[] {
    return steps.slice(from).reduce<readonly Item[]>((now, step) => this.step(now, step, current), items);
  }

  private fromTop(steps: readonly Step[], current: Item): readonly Item[] {
    const [first, ...others] = steps;
    if (!first) return [];
    if (first.axis !== 'child') throw new CouldNotTell();
    const items = this.filtered(this.data.atTop(this.scope, first.name), first.where, current);
    return this.rest(items, others, 0, current);
  }

  private step(items: readonly Item[], step: Step, current: Item): readonly Item[] {
    if (step.axis === 'self') return this.filtered(items, step.where, current);
    if (step.axis === 'parent') {
      return [...new Set(items.flatMap(({ up }) => up ?? []))];
    }
    const found = items.flatMap((item) => {
      const wanted = item.schema.members.get(step.name);
      // A maker's own augment may have it.
      if (!wanted) throw new CouldNotTell();
      return this.data.children(item, wanted);
    });
    return this.filtered(found, step.where, current);
  }

  private filtered(items: readonly Item[], where: readonly Expression[], current: Item): readonly Item[] {
    return where.reduce(
      (now, test) =>
        now.filter((item) => {
          const value = this.value(test, item, current);
          // A number asks for a place in the order.
          if (typeof value === 'number') throw new CouldNotTell();
          return truth(value);
        }),
      items,
    );
  }

  private call(expression: Expression & { readonly is: 'call' }, here: Item, current: Item): Value {
    const [first, second] = expression.with;
    const given = expression.with.length;
    if (expression.name === 'current' && given === 0) return [current];
    if (expression.name === 'true' && given === 0) return true;
    if (expression.name === 'false' && given === 0) return false;
    if (!first) throw new CouldNotTell();
    const value = this.value(first, here, current);
    if (given === 1) {
      switch (expression.name) {
        case 'not':
          return !truth(value);
        case 'boolean':
          return truth(value);
        case 'number':
          return this.number(value);
        case 'count':
          if (typeof value !== 'object') throw new CouldNotTell();
          return value.length;
        case 'string-length':
          return [...this.string(value)].length;
      }
    }
    if (given !== 2) throw new CouldNotTell();
    const other = this.value(second!, here, current);
    switch (expression.name) {
      case 'starts-with':
        return this.string(value).startsWith(this.string(other));
      case 'contains':
        return this.string(value).includes(this.string(other));
      case 'derived-from':
      case 'derived-from-or-self': {
        if (typeof value !== 'object') throw new CouldNotTell();
        return this.derived(value, this.string(other), expression.name === 'derived-from-or-self');
      }
    }
    throw new CouldNotTell();
  }

  /** RFC 7950, 10.4. One that fits is enough; without one, an identity of a module not known leaves the answer open. */
  private derived(items: readonly Item[], base: string, orSelf: boolean): boolean {
    let open = false;
    for (const item of items) {
      const value = this.text(item);
      const above = this.data.model.identities.get(value);
      if ((orSelf && value === base) || above?.has(base)) return true;
      if (!above) open = true;
    }
    if (open) throw new CouldNotTell();
    return false;
  }

  private compared(is: '=' | '!=' | '<' | '<=' | '>' | '>=', a: Value, b: Value): boolean {
    if (typeof a === 'boolean' || typeof b === 'boolean') {
      const [left, right] = [truth(a), truth(b)];
      return is === '=' ? left === right : is === '!=' ? left !== right : ordered(is, Number(left), Number(right));
    }
    // A set of nodes compares as any of them (XPath 1.0, 3.4).
    const sides = (value: Value) => (typeof value === 'object' ? value.map((item) => this.text(item)) : [value]);
    const numbers = typeof a === 'number' || typeof b === 'number' || !['=', '!='].includes(is);
    const right = sides(b as Value);
    return sides(a as Value).some((left) =>
      right.some((other) => {
        if (!numbers) return is === '=' ? left === other : left !== other;
        const [x, y] = [Number(left), Number(other)];
        return is === '=' ? x === y : is === '!=' ? x !== y : ordered(is, x, y);
      }),
    );
  }

  private text(item: Item): string {
    const value = this.data.value(item);
    // The text of all that is inside: no condition asks for it.
    if (value === null) throw new CouldNotTell();
    return value;
  }

  private string(value: Value): string {
    if (typeof value !== 'object') return string(value);
    return value.length === 0 ? '' : this.text(value[0]!);
  }

  private number(value: Value): number {
    if (typeof value === 'number') return value;
    if (typeof value === 'boolean') return Number(value);
    const text = this.string(value).trim();
    return text === '' ? Number.NaN : Number(text);
  }
}

const string = (value: boolean | number | string | readonly Item[]) => String(value);

function truth(value: Value): boolean {
  if (typeof value === 'object') return value.length > 0;
  return typeof value === 'number' ? value !== 0 && !Number.isNaN(value) : Boolean(value);
}

function ordered(is: '<' | '<=' | '>' | '>=', a: number, b: number): boolean {
  return is === '<' ? a < b : is === '<=' ? a <= b : is === '>' ? a > b : a >= b;
}

/** `[name = …]` where the other side is the same for every node of the step. */
function keyIn(step: Step): { readonly key: Step; readonly equals: Expression } | null {
  if (step.axis !== 'child' || step.where.length !== 1) return null;
  const [test] = step.where;
  if (test!.is !== '=' || test.b.on.here) return null;
  const { a } = test;
  if (a.is !== 'path' || a.from !== 'here' || a.steps.length !== 1) return null;
  return { key: a.steps[0]!, equals: test.b };
}
