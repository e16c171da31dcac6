/**
 * The part of XPath 1.0 that conditions of YANG modules use (RFC 7950, 6.4): paths with predicates, comparisons, `and`,
 * `or`, arithmetic and calls. What is not in this part becomes `unknown`, which nothing is said about.
 */
export type Expression = (
  | {
      readonly is: 'or' | 'and' | '=' | '!=' | '<' | '<=' | '>' | '>=' | '+' | '-' | '*' | 'div' | 'mod';
      readonly a: Expression;
      readonly b: Expression;
    }
  | { readonly is: 'text'; readonly value: string }
  | { readonly is: 'number'; readonly value: number }
  | { readonly is: 'call'; readonly name: string; readonly with: readonly Expression[] }
  | { readonly is: 'path'; readonly from: 'top' | 'here' | Expression; readonly steps: readonly Step[] }
  | { readonly is: 'unknown' }
) & {
  /** What its value rests on beside the document. */
  readonly on: Rests;
};

/** The node at hand, and the one that the whole expression is asked about. */
export interface Rests {
  readonly here: boolean;
  readonly current: boolean;
}

export type Step =
  | { readonly axis: 'parent' }
  | { readonly axis: 'self'; readonly where: readonly Expression[] }
  | { readonly axis: 'child'; readonly name: string; readonly where: readonly Expression[] };

const nothing: Rests = { here: false, current: false };
const all = (...rests: readonly Rests[]): Rests => ({
  here: rests.some(({ here }) => here),
  current: rests.some(({ current }) => current),
});

const token =
  /\s*(?:('[^']*'|"[^"]*")|(\d+(?:\.\d+)?|\.\d+)|([A-Za-z_][\w.-]*(?::[A-Za-z_][\w.-]*)?)|(\.\.|\/\/|!=|<=|>=|[/.[\]()=<>+*,|@-]))/y;

/** Names carry their module: `module:name`. */
export function parseXPath(text: string): Expression {
  try {
    const parser = new Parser(text);
    const made = parser.or();
    parser.end();
    return made;
  } catch (error) {
    if (error instanceof NotUnderstood) return { is: 'unknown', on: nothing };
    throw error;
  }
}

class NotUnderstood extends Error {}

const levels = [['or'], ['and'], ['=', '!='], ['<', '<=', '>', '>='], ['+', '-'], ['*', 'div', 'mod']] as const;
type Operator = (typeof levels)[number][number];

class Parser {
  private readonly tokens: string[] = [];
  private at = 0;

  constructor(text: string) {
    token.lastIndex = 0;
    while (token.lastIndex < text.length) {
      const match = token.exec(text);
      if (!match) throw new NotUnderstood();
      this.tokens.push(match[0].trim());
    }
  }

  or(): Expression {
    return this.level(0);
  }

  end(): void {
    if (this.at < this.tokens.length) throw new NotUnderstood();
  }

  private level(depth: number): Expression {
    const operators: readonly string[] | undefined = levels[depth];
    if (!operators) return this.path();
    let a = this.level(depth + 1);
    while (operators.includes(this.tokens[this.at] ?? '')) {
      const is = this.tokens[this.at++] as Operator;
      const b = this.level(depth + 1);
      a = { is, a, b, on: all(a.on, b.on) };
    }
    return a;
  }

  private path(): Expression {
    const first = this.tokens[this.at] ?? '';
    if (/^['"]/.test(first)) {
      this.at++;
      return { is: 'text', value: first.slice(1, -1), on: nothing };
    }
    if (/^\.?\d/.test(first)) {
      this.at++;
      return { is: 'number', value: Number(first), on: nothing };
    }
    let from: 'top' | 'here' | Expression = 'here';
    const steps: Step[] = [];
    if (first === '(') {
      this.at++;
      from = this.or();
      this.take(')');
      if (this.tokens[this.at] !== '/') return from;
      this.at++;
    } else if (/^[A-Za-z_]/.test(first) && this.tokens[this.at + 1] === '(') {
      from = this.call();
      if (this.tokens[this.at] !== '/') return from;
      this.at++;
    } else if (first === '/') {
      from = 'top';
      this.at++;
    }
    do steps.push(this.step());
    while (this.taken('/'));
    const inside = steps.flatMap((step) => ('where' in step ? step.where : []));
    const start = from === 'top' ? nothing : from === 'here' ? { here: true, current: false } : from.on;
    // In a predicate the node at hand is one of the path's own.
    return { is: 'path', from, steps, on: all(start, ...inside.map(({ on }) => ({ ...on, here: false }))) };
  }

  private call(): Expression {
    const name = this.tokens[this.at]!;
    this.at += 2;
    const inside: Expression[] = [];
    if (!this.taken(')')) {
      do inside.push(this.or());
      while (this.taken(','));
      this.take(')');
    }
    const current = name === 'current';
    const own = { here: inside.length === 0 && !current, current };
    return { is: 'call', name, with: inside, on: all(own, ...inside.map(({ on }) => on)) };
  }

  private step(): Step {
    const name = this.tokens[this.at++] ?? '';
    if (name === '..') return { axis: 'parent' };
    if (name !== '.' && !/^[A-Za-z_][\w.-]*:[\w.-]+$/.test(name)) throw new NotUnderstood();
    const where: Expression[] = [];
    while (this.taken('[')) {
      where.push(this.or());
      this.take(']');
    }
    return name === '.' ? { axis: 'self', where } : { axis: 'child', name, where };
  }

  private taken(mark: string): boolean {
    if (this.tokens[this.at] !== mark) return false;
    this.at++;
    return true;
  }

  private take(mark: string): void {
    if (!this.taken(mark)) throw new NotUnderstood();
  }
}
