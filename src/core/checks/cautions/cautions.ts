import type { FieldData } from '../../reading/fields/fields.ts';
import { mapLong } from '../../reading/fields/long-lists.ts';
import type { Finding } from '../../views.ts';
import { once } from '../facts/once.ts';
import { siteOf, tablesOf } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { secretSites } from '../repairs/repairs.ts';
import { type Caution, cautionsAmong } from './caution-words.ts';

const LONGEST = 200;

const cautionsOfField = new WeakMap<FieldData, readonly (Caution | null)[] | null>();

/** What each distinct text of a field may be about, once for a field; null where none is about anything. */
function cautionsIn(field: FieldData): readonly (Caution | null)[] | null {
  let found = cautionsOfField.get(field);
  if (found === undefined) {
    const isSaid = (text: string, at: number) => text.length <= LONGEST && field.kinds[at] !== 'opaque';
    const own = cautionsAmong(mapLong(field.distinct, (text, at) => (isSaid(text, at) ? text : '')));
    found = own.some((caution) => caution !== null) ? own : null;
    cautionsOfField.set(field, found);
  }
  return found;
}

/** A field some of whose texts speak of such things, by the number of the text. */
interface Telling {
  readonly field: FieldData;
  readonly cautions: readonly (Caution | null)[];
}

/** Fields of remarks, labels and names; never values of other kinds. */
const tellingFields = once((reading): readonly Telling[] => {
  const kindsOfRecord = new Set<string>();
  for (const { steps } of reading.values.fields)
    for (const step of steps) {
      const at = step.indexOf('{');
      if (at !== -1) kindsOfRecord.add(step.slice(at + 1, -1));
    }
  const telling: Telling[] = [];
  for (const { columns } of tablesOf(reading).values())
    for (const { field, kind } of columns) {
      // What tells kinds of record apart is a word of the dialect.
      if (kind !== 'other' || field.distinct.every((text) => kindsOfRecord.has(text))) continue;
      const cautions = cautionsIn(field);
      if (cautions) telling.push({ field, cautions });
    }
  return telling;
});

interface Mentions {
  readonly field: FieldData;
  /** The first one in the file. */
  readonly place: number;
  readonly count: number;
}

/** The places that stay, by kind; never secrets. */
function mentionsOf({ reading, gone, leaves }: CheckInput): ReadonlyMap<Caution, Mentions> {
  const secrets = secretSites(reading);
  const found = new Map<Caution, Mentions>();
  for (const { field, cautions } of tellingFields(reading)) {
    const { nodes, attrs, which } = field;
    const counts = new Map<Caution, number>();
    const first = new Map<Caution, number>();
    for (let place = 0; place < which.length; place++) {
      const kind = cautions[which[place]!];
      if (!kind || secrets.has(nodes[place]!, attrs[place]!) || (leaves && gone(nodes[place]!))) continue;
      const count = counts.get(kind) ?? 0;
      if (count === 0) first.set(kind, place);
      counts.set(kind, count + 1);
    }
    for (const [kind, place] of first) {
      const held = found.get(kind);
      const count = counts.get(kind)! + (held?.count ?? 0);
      const isFirst = !held || nodes[place]! < held.field.nodes[held.place]!;
      found.set(kind, isFirst ? { field, place, count } : { ...held, count });
    }
  }
  return found;
}

/** One question for each kind, at the first place that stays, and the general cautions once something is planned. */
export function checkCautions(input: CheckInput): Finding[] {
  const findings: Finding[] = [];
  for (const [kind, { field, place, count }] of mentionsOf(input))
    findings.push({
      code: 'caution-mentioned',
      severity: 'note',
      place: input.place(siteOf(field, place)),
      params: { kind, text: field.values[place]!.slice(0, 60), count },
      byPlan: false,
    });
  if (input.planned) findings.push({ code: 'caution-swap', severity: 'note', place: null, params: {}, byPlan: true });
  return findings;
}
