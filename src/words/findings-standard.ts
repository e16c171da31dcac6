import type { FindingCode } from '../core/index.ts';
import type { FindingWords, Params } from './findings.ts';
import { count, verb } from './numbers.ts';
import { type Said, say, value } from './said.ts';

/** `ietf-ip (RFC 8344, revision 2018-02-22)`. */
const from = ({ module, source }: Params): Said => say`${value(module)}${source ? ` (${source})` : ''}`;

function wanted({ reason, wants, ...params }: Params): Said {
  const text = value(wants);
  switch (reason) {
    case 'range':
      return say`This number is outside ${text}, the range that ${from(params)} gives it.`;
    case 'length':
      return say`This value is not as long as ${from(params)} asks: ${text}.`;
    case 'names':
      return say`This value is none of those that ${from(params)} knows: ${text}.`;
    case 'identity':
      return say`This name is not of the kind ${text} that ${from(params)} asks for here.`;
    case 'pattern':
      return wants
        ? say`This value is not written as ${text} of ${from(params)} is.`
        : say`This value is not written as ${from(params)} asks.`;
    default:
      return say`This value is not of the type that ${from(params)} asks for: ${text}.`;
  }
}

/** What a condition asks for, and what is there instead. */
function condition({ ask, leaf, of, wants, has, test }: Params): Said {
  const owner = of ? say` of the ${value(of)} that is named here` : '';
  const now = has === undefined ? 'it is not there' : say`it is ${value(has)}`;
  const [first, ...others] = String(wants ?? '').split(', ');
  switch (ask) {
    case 'is':
      return say`${value(leaf)}${owner} has to be ${value(first)}${others.map((other) => say` or ${value(other)}`).reduce((all, one) => say`${all}${one}`, say``)}, and ${now}`;
    case 'there':
      return say`${value(leaf)}${owner} has to be there, and it is not`;
    case 'absent':
      return say`it cannot stand together with ${value(leaf)}${owner}`;
    case '<=':
    case '>=':
      return say`it has to be at ${ask === '<=' ? 'most' : 'least'} ${leaf ? say`as large as ${value(leaf)}${owner}, and ${now}` : value(wants)}`;
    default:
      return say`it asks for ${value(test)}`;
  }
}

const places = ({ count: number }: Params) =>
  Number(number ?? 1) > 1 ? ` and in ${count(Number(number) - 1, 'other place')}` : '';

/** The condition itself, for who knows the module. */
const asWritten = ({ test }: Params) =>
  test ? ` The module has it as “${String(test).replace(/\s+/g, ' ').trim()}”.` : '';

const refuses = 'A box that follows the standard refuses the whole file.';

/** Words for what a document owes to the modules of a known format. */
export const standardWords = {
  'schema-type': (params) => ({ what: wanted(params), why: `${refuses} Correct the value.` }),
  'schema-missing': ({ name, least, record, count: number, ...params }) => ({
    what: say`${value(record)} has ${Number(least) > 1 ? `fewer than ${least} of` : 'no'} ${value(name)}${String(name).includes(', ') ? ' (one of these)' : ''}, which ${from(params)} asks for${number ? `; ${count(Number(number) - 1, 'other condition')} ${verb(Number(number) - 1, 'rests', 'rest')} on it` : ''}.`,
    why: `${refuses} Add what is missing on the box that the file comes from, or carry it if you left it out.`,
  }),
  'schema-when': (params) => ({
    what: say`This has no place here by ${from(params)}: ${condition(params)}${places(params)}.`,
    why: `${refuses} Something near it has another value than it needs, or is missing.${asWritten(params)}`,
  }),
  'schema-must': (params) => ({
    what: say`A condition of ${from(params)} does not hold here${places(params)}: ${condition(params)}.`,
    why: `${refuses} Look at the values that the condition names.${asWritten(params)}`,
  }),
  'schema-too-many': ({ name, most, ...params }) => ({
    what: say`Here ${value(name)} stands more often than ${from(params)} allows: ${count(Number(most ?? 1), 'time')} at most.`,
    why: `${refuses} Leave out what is too much.`,
  }),
  'schema-unknown': ({ name, ...params }) => ({
    what: say`${value(name)} is not in ${from(params)}.`,
    why: 'It may come from a newer revision of the module, or from the maker. The new box has to know it too. It goes across as it is.',
  }),
  'schema-untold': ({ count: number }) => ({
    what: say`${count(Number(number ?? 1), 'condition')} of the standard could not be told, the first one here.`,
    why: 'They rest on what the known modules do not say. Nothing is said about them.',
  }),
} satisfies Partial<Record<FindingCode, (params: Params) => FindingWords>>;
