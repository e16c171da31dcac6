import type { Expression } from './xpath.ts';

/** What a condition asks for, where it is one of the plain forms that nearly all have; names and values without modules. */
export type Asked =
  /** A leaf is one of some values, or an identity that is derived from one. */
  | { readonly ask: 'is'; readonly leaf: string; readonly wants: string; readonly of: string }
  | { readonly ask: 'there' | 'absent'; readonly leaf: string; readonly of: string }
  /** The value at hand beside another one, or a number. */
  | { readonly ask: '<=' | '>='; readonly leaf: string; readonly wants: string; readonly of: string };

const bare = (name: string) => name.replace(/^[\w.-]*:/, '');

/** A condition in its plain form; null where it has none. */
export function askedBy(expression: Expression): Asked | null {
  switch (expression.is) {
    case 'path': {
      const leaf = leafOf(expression);
      const last = expression.steps[expression.steps.length - 1];
      const values = last?.axis === 'child' && last.where.length === 1 ? ownValues(last.where[0]!) : null;
      if (leaf && values) return { ask: 'is', ...leaf, wants: values.join(', ') };
      return leaf && last?.axis === 'child' && last.where.length === 0 ? { ask: 'there', ...leaf } : null;
    }
    case '=': {
      const leaf = leafOf(expression.a);
      return leaf && expression.b.is === 'text' ? { ask: 'is', ...leaf, wants: bare(expression.b.value) } : null;
    }
    case 'or': {
      const [a, b] = [askedBy(expression.a), askedBy(expression.b)];
      if (a?.ask !== 'is' || b?.ask !== 'is' || a.leaf !== b.leaf || a.of !== b.of) return null;
      return { ...a, wants: `${a.wants}, ${b.wants}` };
    }
    case '<=':
    case '>=': {
      if (!isSelf(expression.a)) return null;
      if (expression.b.is === 'number')
        return { ask: expression.is, leaf: '', of: '', wants: String(expression.b.value) };
      const leaf = leafOf(expression.b);
      return leaf && { ask: expression.is, ...leaf, wants: '' };
    }
    case 'call': {
      const [first, second] = expression.with;
      const leaf = first ? leafOf(first) : null;
      if (!leaf) return null;
      if (expression.name === 'not' && expression.with.length === 1) return { ask: 'absent', ...leaf };
      return /^derived-from(?:-or-self)?$/.test(expression.name) && second?.is === 'text'
        ? { ask: 'is', ...leaf, wants: bare(second.value) }
        : null;
    }
    default:
      return null;
  }
}

/** The name at the end of a path, and the kind of record that is looked up on the way by what stands at hand. */
function leafOf(expression: Expression): { readonly leaf: string; readonly of: string } | null {
  if (expression.is !== 'path') return null;
  const { steps } = expression;
  const last = steps[steps.length - 1];
  if (last?.axis !== 'child') return null;
  const looked = steps.slice(0, -1).find((step) => step.axis === 'child' && step.where.some(({ on }) => on.current));
  return { leaf: bare(last.name), of: looked?.axis === 'child' ? bare(looked.name) : '' };
}

const isSelf = (expression: Expression) =>
  expression.is === 'path' && expression.steps.length === 1 && expression.steps[0]!.axis === 'self';

/** The values of `[. = … or . = …]`; null for any other predicate. */
function ownValues(test: Expression): string[] | null {
  if (test.is === '=' && isSelf(test.a) && test.b.is === 'text') return [bare(test.b.value)];
  if (test.is !== 'or') return null;
  const [a, b] = [ownValues(test.a), ownValues(test.b)];
  return a && b && [...a, ...b];
}

/** The first path of an expression that goes anywhere. */
export function pathIn(expression: Expression): (Expression & { readonly is: 'path' }) | null {
  switch (expression.is) {
    case 'path':
      return isSelf(expression) ? null : expression;
    case 'call':
      for (const one of expression.with) {
        const found = pathIn(one);
        if (found) return found;
      }
      return null;
    case 'text':
    case 'number':
    case 'unknown':
      return null;
    default:
      return pathIn(expression.a) ?? pathIn(expression.b);
  }
}
