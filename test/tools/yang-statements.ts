/** One YANG statement (RFC 7950, 6.3): keyword, argument, what is inside its braces. */
export interface Statement {
  readonly keyword: string;
  readonly argument: string;
  readonly inside: readonly Statement[];
}

/** Blank or comment | "…" | '…' | { } ; | + between strings | word (RFC 7950, 6.1). */
const token =
  /\s+|\/\/[^\n]*|\/\*[\s\S]*?\*\/|"((?:[^"\\]|\\[\s\S])*)"|'([^']*)'|([{};])|(\+)(?=[\s"'])|((?:(?!\/\/|\/\*)[^\s;{}"'])+)/y;

interface Token {
  readonly kind: 'text' | 'mark';
  readonly text: string;
}

function tokensOf(source: string): Token[] {
  const tokens: Token[] = [];
  token.lastIndex = 0;
  while (token.lastIndex < source.length) {
    const at = token.lastIndex;
    const match = token.exec(source);
    if (!match) throw new Error(`YANG text not understood: ${source.slice(at, at + 40)}`);
    const [, double, single, mark, plus, word] = match;
    const text = double?.replace(/\\(.)/g, (_, char: string) => ({ n: '\n', t: '\t' })[char] ?? char) ?? single ?? word;
    if (text !== undefined) tokens.push({ kind: 'text', text });
    else if (mark ?? plus) tokens.push({ kind: 'mark', text: (mark ?? plus)! });
  }
  return tokens;
}

/** Reads a module or submodule. */
export function parseYang(source: string): Statement {
  const tokens = tokensOf(source);
  let at = 0;
  const isMark = (text: string) => tokens[at]?.kind === 'mark' && tokens[at]!.text === text;
  const statement = (): Statement => {
    const keyword = tokens[at++]!.text;
    let argument = '';
    if (tokens[at]!.kind === 'text') {
      argument = tokens[at++]!.text;
      while (isMark('+')) {
        argument += tokens[at + 1]!.text;
        at += 2;
      }
    }
    const inside: Statement[] = [];
    if (isMark(';')) at++;
    else {
      if (!isMark('{')) throw new Error(`YANG statement not understood: ${keyword} ${argument}`);
      at++;
      while (!isMark('}')) inside.push(statement());
      at++;
    }
    return { keyword, argument, inside };
  };
  return statement();
}

export const all = (of: Statement, ...keywords: string[]) => of.inside.filter((s) => keywords.includes(s.keyword));
export const one = (of: Statement, keyword: string) => of.inside.find((s) => s.keyword === keyword) ?? null;
export const argumentOf = (of: Statement, keyword: string) => one(of, keyword)?.argument ?? null;
