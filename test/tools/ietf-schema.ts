import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { KnownSchema, SchemaRow, TypeRow } from '../../src/core/reading/known/schema/format.ts';
import { type Schema, type SchemaNode, schemaOf, targetOf, type YangText } from './yang-schema.ts';
import { all, argumentOf, one, type Statement } from './yang-statements.ts';

/**
 * Derives src/core/reading/known/schema/ietf.json from the texts of the modules: types, what must be there, and conditions.
 * To write it again:
 *   npx tsx test/tools/ietf-schema.ts DIR > src/core/reading/known/schema/ietf.json
 * where DIR holds yang/ and modules.txt (those to implement).
 */
export function deriveSchema(directory: string): KnownSchema {
  const sources = readdirSync(join(directory, 'yang')).filter((name) => name.endsWith('.yang'));
  const implemented = readFileSync(join(directory, 'modules.txt'), 'utf8')
    .split('\n')
    .filter((line) => /^[\w-]/.test(line))
    .map((line) => line.replace(/(@.*)?\.yang\s*$/, ''));
  const schema = schemaOf(
    sources.map((name) => readFileSync(join(directory, 'yang', name), 'utf8')),
    implemented,
  );
  return new Deriver(schema).derive();
}

const operations = ['rpc', 'action', 'notification'];

class Deriver {
  private readonly types: TypeRow[] = [];
  private readonly numbers = new Map<string, number>();

  constructor(private readonly schema: Schema) {}

  derive(): KnownSchema {
    const nodes = this.rowsIn(this.schema.root);
    return { identities: this.identities(), types: this.types, nodes };
  }

  private rowsIn(node: SchemaNode): SchemaRow[] {
    return node.children
      .filter(({ keyword }) => !operations.includes(keyword))
      .map((child) => this.row(child, node.module));
  }

  private row(node: SchemaNode, around: string): SchemaRow {
    const { statement, text, scope } = node.written;
    // What a `refine` says takes the place of what the grouping says; `must` is added to it.
    const said = (keyword: string) => {
      const refined = node.refined.filter((own) => own.keyword === keyword).at(-1);
      return refined ? refined.argument : argumentOf(statement, keyword);
    };
    const musts = [...all(statement, 'must'), ...node.refined.filter(({ keyword }) => keyword === 'must')];
    const type = one(statement, 'type');
    const mandatory = said('mandatory') === 'true';
    const least = Number(said('min-elements') ?? 0);
    const most = said('max-elements');
    const inside = this.rowsIn(node);
    // A choice's short case (RFC 7950, 7.9.2) is a case like any other.
    const cases =
      node.keyword === 'choice'
        ? inside.map((row): SchemaRow => (row.is === 'case' ? row : { name: row.name, is: 'case', in: [row] }))
        : inside;
    return {
      name: node.name,
      is: node.keyword as SchemaRow['is'],
      ...(node.module !== around && { module: node.module }),
      ...(type && { type: this.type(type, text, scope, node) }),
      ...(mandatory && !node.featured && { mandatory }),
      ...(node.keys.length > 0 && { keys: node.keys }),
      ...(least > 0 && !node.featured && { least }),
      ...(most && most !== 'unbounded' && { most: Number(most) }),
      ...(said('presence') !== null && { presence: true as const }),
      ...(said('default') !== null && { default: this.defaultOf(said('default')!, node) }),
      ...(!node.config && { state: true as const }),
      ...(musts.length > 0 && { must: musts.map(({ argument }) => named(argument, text, node.module)) }),
      ...(node.whens.length > 0 && {
        when: node.whens.map((when) => ({ test: named(when.test, when.text, node.module), at: when.at })),
      }),
      ...(cases.length > 0 && { in: cases }),
    };
  }

  /** A default that is an identity, with its module's name. */
  private defaultOf(value: string, node: SchemaNode): string {
    const type = one(node.written.statement, 'type');
    return type && this.types[this.type(type, node.written.text, node.written.scope, node)]!.is === 'identityref'
      ? identityName(value, node.written.text)
      : value;
  }

  private type(type: Statement, text: YangText, scope: readonly Statement[], node: SchemaNode): number {
    const row = this.typeRow(type, text, scope, node);
    const id = JSON.stringify(row);
    let number = this.numbers.get(id);
    if (number === undefined) {
      number = this.types.push(row) - 1;
      this.numbers.set(id, number);
    }
    return number;
  }

  private typeRow(type: Statement, text: YangText, scope: readonly Statement[], node: SchemaNode): TypeRow {
    const own = {
      ...patternsOf(type),
      ...(one(type, 'length') && { lengths: [short(argumentOf(type, 'length')!)] }),
      ...(one(type, 'range') && { ranges: [short(argumentOf(type, 'range')!)] }),
    };
    switch (type.argument) {
      case 'leafref': {
        // Of the type of the leaf that it names (RFC 7950, 9.9.3).
        const target = targetOf(this.schema.root, node, { path: argumentOf(type, 'path')!, text }).node;
        const { statement, text: there, scope: around } = target.written;
        return this.typeRow(one(statement, 'type')!, there, around, target);
      }
      case 'union':
        return { is: 'union', of: all(type, 'type').map((member) => this.type(member, text, scope, node)) };
      case 'enumeration':
        return { is: 'enumeration', names: all(type, 'enum').map(({ argument }) => argument) };
      case 'bits':
        return { is: 'bits', names: all(type, 'bit').map(({ argument }) => argument) };
      case 'identityref':
        return { is: 'identityref', bases: all(type, 'base').map(({ argument }) => identityName(argument, text)) };
      case 'decimal64':
        return { is: 'decimal64', digits: Number(argumentOf(type, 'fraction-digits')), ...own };
      case 'instance-identifier':
      case 'boolean':
      case 'empty':
        return { is: type.argument };
      case 'string':
      case 'binary':
        return { is: type.argument, ...own };
      default:
        if (/^u?int(8|16|32|64)$/.test(type.argument)) return { is: type.argument as TypeRow['is'], ...own };
    }
    const found = this.schema.grower.lookUp('typedef', type.argument, text, scope);
    const inner = this.typeRow(one(found.statement, 'type')!, found.text, [...found.scope, found.statement], node);
    // A derived type narrows the one that it is derived from: both hold. An enumeration may keep only some names.
    const names = all(type, 'enum', 'bit').map(({ argument }) => argument);
    return {
      ...inner,
      // The outermost typedef is the name that people know it by.
      named: `${found.text.module}:${found.statement.argument}`,
      ...(names.length > 0 && { names }),
      ...(own.patterns && { patterns: [...(inner.patterns ?? []), ...own.patterns] }),
      ...(own.lengths && { lengths: [...(inner.lengths ?? []), ...own.lengths] }),
      ...(own.ranges && { ranges: [...(inner.ranges ?? []), ...own.ranges] }),
    };
  }

  /** Every identity with those that it is derived from, by `module:name`. */
  private identities(): Record<string, readonly string[]> {
    const found: Record<string, readonly string[]> = {};
    for (const text of this.schema.texts.values()) {
      for (const identity of all(text.statement, 'identity')) {
        found[`${text.module}:${identity.argument}`] = all(identity, 'base').map(({ argument }) =>
          identityName(argument, text),
        );
      }
    }
    return found;
  }
}

function identityName(name: string, text: YangText): string {
  const cut = name.indexOf(':');
  return cut === -1 ? `${text.module}:${name}` : `${text.prefixes.get(name.slice(0, cut))!}:${name.slice(cut + 1)}`;
}

const short = (parts: string) => parts.replace(/\s+/g, '');

function patternsOf(type: Statement): { patterns?: { readonly match: string; readonly not?: true }[] } {
  const patterns = all(type, 'pattern').map((pattern) => ({
    match: regexOf(pattern.argument),
    ...(argumentOf(pattern, 'modifier') === 'invert-match' && { not: true as const }),
  }));
  return patterns.length > 0 ? { patterns } : {};
}

/**
 * A regular expression of XML Schema (part 2, appendix F) as one of ECMAScript with the flag `u`, both ends held. `^` and
 * `$` are plain characters there; a hyphen needs no backslash outside a class here.
 */
export function regexOf(pattern: string): string {
  let out = '';
  let inClass = false;
  for (let at = 0; at < pattern.length; at++) {
    const char = pattern[at]!;
    if (char === '\\') {
      const next = pattern[++at]!;
      if (next === 'd') out += '\\p{Nd}';
      else if ('pP'.includes(next)) out += `\\${next}`;
      else if ('icIC'.includes(next) || pattern.includes('-[')) throw new Error(`pattern not understood: ${pattern}`);
      else out += /[\w\s]/.test(next) || (!inClass && next === '-') ? next : `\\${next}`;
    } else if (inClass) {
      if (char === ']') inClass = false;
      out += char === '[' ? '\\[' : char;
    } else if (char === '[') {
      inClass = true;
      out += char;
      if (pattern[at + 1] === '^') {
        out += '^';
        at++;
      }
    } else if (char === '.') out += '[^\\n\\r]';
    else out += char === '^' || char === '$' ? `\\${char}` : char;
  }
  return `^(?:${out})$`;
}

/**
 * An XPath expression with a module's name before every name: a name without a prefix is of the module of its node (RFC
 * 7950, 6.4.1). Prefixes in quoted names of identities, too.
 */
function named(test: string, text: YangText, module: string): string {
  const quoted = (value: string) => {
    const cut = value.indexOf(':');
    const owner = cut === -1 ? undefined : text.prefixes.get(value.slice(0, cut));
    return owner === undefined ? value : `${owner}${value.slice(cut)}`;
  };
  return test
    .replace(/\s+/g, ' ')
    .trim()
    .replace(
      /"([^"]*)"|'([^']*)'|(?:([A-Za-z_][\w.-]*):)?([A-Za-z_][\w-]*(?:\.[\w-]+)*)(\s*\()?/g,
      (whole, double?: string, single?: string, prefix?: string, name?: string, call?: string) => {
        const string = double ?? single;
        if (string !== undefined) return `'${quoted(string)}'`;
        if (call !== undefined || ['and', 'or', 'div', 'mod'].includes(whole)) return whole.replace(/\s+/g, '');
        return `${prefix === undefined ? module : text.prefixes.get(prefix)!}:${name}`;
      },
    );
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  console.log(JSON.stringify(deriveSchema(process.argv[2]!)));
}
