import { decodeBase64 } from '../../../values/base64.ts';
import type { TypeRow } from './format.ts';
import type { SchemaModel } from './model.ts';

/** What is asked of a value that it is not. `wants` says it in the terms of YANG: a range, names, a type's name. */
export interface Misfit {
  readonly reason: 'form' | 'range' | 'length' | 'pattern' | 'names' | 'identity' | 'newer';
  readonly wants: string;
}

/** What a qualified name means where it stands; see `Data.identity`. */
export type IdentityOf = (value: string) => { readonly name: string; readonly known: boolean } | null;

/** Whether a value is of a type (RFC 7950, 9): null where it is, `untold` where that cannot be said. */
export function misfit(
  model: SchemaModel,
  type: TypeRow,
  value: string,
  identityOf: IdentityOf,
): Misfit | 'untold' | null {
  switch (type.is) {
    case 'string':
      return lengthTrouble(type, codePoints(value)) ?? patternTrouble(type, value);
    case 'binary': {
      const bytes = /^[A-Za-z0-9+/=\s]*$/.test(value) ? decodeBase64(value) : null;
      if (!bytes || value.replace(/\s+/g, '').length % 4 !== 0) return { reason: 'form', wants: 'base64' };
      return lengthTrouble(type, bytes.length);
    }
    case 'boolean':
      return value === 'true' || value === 'false' ? null : { reason: 'names', wants: 'true, false' };
    case 'empty':
      return value === '' ? null : { reason: 'form', wants: 'empty' };
    case 'enumeration':
      return type.names!.includes(value) ? null : { reason: 'names', wants: listed(type.names!) };
    case 'bits':
      return value.split(/\s+/).every((bit) => bit === '' || type.names!.includes(bit))
        ? null
        : { reason: 'names', wants: listed(type.names!) };
    case 'identityref':
      return identityTrouble(model, type, value, identityOf);
    case 'instance-identifier':
      return value.startsWith('/') ? 'untold' : { reason: 'form', wants: 'instance-identifier' };
    case 'union':
      return unionTrouble(model, type, value, identityOf);
    case 'decimal64':
      return decimalTrouble(type, value);
    default:
      return integerTrouble(type, value);
  }
}

function unionTrouble(
  model: SchemaModel,
  type: TypeRow,
  value: string,
  identityOf: IdentityOf,
): Misfit | 'untold' | null {
  const members = type.of!.map((number) => model.types[number]!);
  let open = false;
  for (const member of members) {
    const found = misfit(model, member, value, identityOf);
    if (found === null) return null;
    if (found === 'untold' || found.reason === 'newer') open = true;
  }
  return open ? 'untold' : { reason: 'form', wants: listed(members.map(wordOf)) };
}

const wordOf = (type: TypeRow): string =>
  type.named?.replace(/^.*:/, '') ??
  (type.names ? listed(type.names) : type.ranges ? `${type.is} ${type.ranges.at(-1)}` : type.is);

/** RFC 7950, 9.10. An identity that its module does not have may come from a newer revision. */
function identityTrouble(
  { identities }: SchemaModel,
  { bases }: TypeRow,
  value: string,
  identityOf: IdentityOf,
): Misfit | 'untold' | null {
  const wants = listed(bases!.map((base) => base.replace(/^.*:/, '')));
  if (!/^(?:[\p{L}_][\p{L}\p{N}._-]*:)?[\p{L}_][\p{L}\p{N}._-]*$/u.test(value)) return { reason: 'identity', wants };
  const identity = identityOf(value);
  if (identity === null) return { reason: 'identity', wants };
  if (!identity.known) return 'untold';
  const above = identities.get(identity.name);
  if (!above) return { reason: 'newer', wants: identity.name };
  return bases!.every((base) => above.has(base)) ? null : { reason: 'identity', wants };
}

const bounds: Partial<Record<TypeRow['is'], readonly [bigint, bigint]>> = Object.fromEntries(
  [8, 16, 32, 64].flatMap((bits) => {
    const half = 1n << BigInt(bits - 1);
    return [
      [`int${bits}`, [-half, half - 1n]],
      [`uint${bits}`, [0n, 2n * half - 1n]],
    ];
  }),
);

/** RFC 7950, 9.2.1: decimal, or hexadecimal, or octal after a zero. */
function integerTrouble(type: TypeRow, value: string): Misfit | null {
  const [least, most] = bounds[type.is]!;
  const wants = type.ranges?.at(-1) ?? `${least}..${most}`;
  const match = /^([+-]?)(?:0[xX]([0-9a-fA-F]{1,20})|0([0-7]{1,30})|(\d{1,30}))$/.exec(value);
  if (!match) return { reason: 'form', wants: `${type.is} ${wants}` };
  const [, sign, hex, octal, decimal] = match;
  const size = BigInt(hex ? `0x${hex}` : octal ? `0o${octal}` : decimal!);
  const number = sign === '-' ? -size : size;
  const fits =
    number >= least &&
    number <= most &&
    (type.ranges ?? []).every((range) =>
      partsOf(range).some(
        ([from, to]) => (from === null || number >= whole(from)) && (to === null || number <= whole(to)),
      ),
    );
  return fits ? null : { reason: 'range', wants };
}

const whole = (text: string) => BigInt(text);

function decimalTrouble(type: TypeRow, value: string): Misfit | null {
  const match = /^[+-]?\d+(?:\.(\d+))?$/.exec(value);
  if (!match || (match[1] ?? '').replace(/0+$/, '').length > type.digits!)
    return { reason: 'form', wants: `decimal64 with ${type.digits} digits` };
  const number = Number(value);
  const fits = (type.ranges ?? []).every((range) =>
    partsOf(range).some(
      ([from, to]) => (from === null || number >= Number(from)) && (to === null || number <= Number(to)),
    ),
  );
  return fits ? null : { reason: 'range', wants: type.ranges!.at(-1)! };
}

function lengthTrouble({ lengths = [] }: TypeRow, length: number): Misfit | null {
  const fits = lengths.every((parts) =>
    partsOf(parts).some(
      ([from, to]) => (from === null || length >= Number(from)) && (to === null || length <= Number(to)),
    ),
  );
  return fits ? null : { reason: 'length', wants: lengths.at(-1)! };
}

type Part = readonly [from: string | null, to: string | null];
const parts = new Map<string, readonly Part[]>();

/** `1..4|min..7|9`: null for an end that is open. */
function partsOf(text: string): readonly Part[] {
  let found = parts.get(text);
  if (!found) {
    const end = (word: string) => (word === 'min' || word === 'max' ? null : word);
    found = text.split('|').map((part): Part => {
      const [from, to = from] = part.split('..');
      return [end(from!), end(to!)];
    });
    parts.set(text, found);
  }
  return found;
}

const expressions = new Map<string, RegExp>();

function patternTrouble(type: TypeRow, value: string): Misfit | null {
  for (const { match, not } of type.patterns ?? []) {
    let expression = expressions.get(match);
    if (!expression) {
      expression = new RegExp(match, 'u');
      expressions.set(match, expression);
    }
    if (expression.test(value) === (not === true))
      return { reason: 'pattern', wants: type.named?.replace(/^.*:/, '') ?? '' };
  }
  return null;
}

function codePoints(value: string): number {
  let count = 0;
  for (const _ of value) count++;
  return count;
}

/** Names enough to choose from. */
const MOST = 8;
const listed = (names: readonly string[]) =>
  names.length > MOST ? `${names.slice(0, MOST).join(', ')}, …` : names.join(', ');
