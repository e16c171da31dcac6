import type { Dialect, ListForm } from './dialect.ts';
import { deviceName, type PortMap } from './ports.ts';
import type { Doc, Field, Rec, Token } from './records.ts';
import type { Rng } from './rng.ts';
import type { El, Mark } from './xml.ts';

/** What a school needs to write a document down: the records, their words, the port map, and its own chance. */
export interface Job {
  readonly doc: Doc;
  readonly dialect: Dialect;
  readonly ports: PortMap;
  readonly rng: Rng;
  /** The same records in another dialect, for schools that mix two. */
  readonly second?: Omit<Job, 'second'>;
}

export interface School {
  readonly name: string;
  /** The root element; its marks hold the truth. */
  readonly render: (job: Job) => El;
}

export interface Piece {
  readonly text: string;
  readonly marks: Mark[];
}

export function renderToken(t: Token, job: Job): Piece {
  const core = t.device ? deviceName(t.device, job.ports) : t.s !== undefined ? t.s : job.doc.keyText(t.to as string);
  const marks: Mark[] = [];
  if (t.device && !t.silent) marks.push({ k: 'port', value: core });
  if (t.to !== undefined) marks.push({ k: 'ref', value: core, to: t.to });
  if (t.gone !== undefined) marks.push({ k: 'gone', value: core, kind: t.gone });
  if (t.bind) marks.push({ k: 'bind', role: t.bind.role, port: deviceName(t.bind.device, job.ports) });
  return { text: t.pre + core + t.post, marks };
}

export function fieldMarks(f: Field): Mark[] {
  const out: Mark[] = [];
  if (f.secret) out.push({ k: 'secret' });
  if (f.certificate) out.push({ k: 'certificate' });
  if (f.hardware) out.push({ k: 'hardware' });
  if (f.optional) out.push({ k: 'optional' });
  return out;
}

/** Of a leaf whose value stands in an attribute or an element of its own: what the leaf itself is. */
export function outer(marks: readonly Mark[]): Mark[] {
  return marks.filter((m) => m.k === 'hardware' || m.k === 'optional');
}

/** The rest, which is true of the place where the value is written. */
export function inner(marks: readonly Mark[]): Mark[] {
  return marks.filter((m) => m.k !== 'hardware');
}

export function recordMarks(rec: Rec): Mark[] {
  return rec.hardware ? [{ k: 'hardware' }] : rec.optional ? [{ k: 'optional' }] : [];
}

const SEPARATORS: Readonly<Partial<Record<ListForm, string>>> = {
  comma: ',',
  'comma-space': ', ',
  blank: ' ',
  newline: '\n',
  semicolon: ';',
  bar: '|',
};

/** The separator of this form, or the first other one that no item holds: a list must be readable in one way only. */
function separatorFor(form: ListForm, items: readonly string[]): string {
  const wanted = SEPARATORS[form] ?? ',';
  for (const s of [wanted, ',', ';', '|', '\n'])
    if (items.every((i) => !i.includes(s.trim() === '' && s !== '\n' ? ' ' : s.trim() || s))) return s;
  throw new Error(`no separator fits ${items.join(' / ')}`);
}

/** All items in one text; marks of every item, and those of the field. */
export function renderJoined(f: Field, job: Job, form: ListForm = job.dialect.list): Piece {
  const pieces = f.tokens.map((t) => renderToken(t, job));
  // The separator is part of the dialect: it must not change with the ports.
  const asBuilt = f.tokens.map((t) => renderToken(t, { ...job, ports: {} }).text);
  const text =
    pieces.length === 1 ? (pieces[0] as Piece).text : pieces.map((p) => p.text).join(separatorFor(form, asBuilt));
  return { text, marks: [...pieces.flatMap((p) => p.marks), ...fieldMarks(f)] };
}

/** Each item by itself; marks of the field go with each. */
export function renderItems(f: Field, job: Job): Piece[] {
  return f.tokens.map((t) => {
    const p = renderToken(t, job);
    return { text: p.text, marks: [...p.marks, ...fieldMarks(f)] };
  });
}

export function fieldWord(f: Field, rec: Rec, dialect: Dialect): string {
  const { words } = dialect;
  if (f.compound) return words.compound(f.compound, rec.concept);
  // One word for "the role" everywhere, or a word for each kind of record.
  if (!dialect.sharedRefWords && REF_CONCEPTS.has(f.concept)) return words.variant(f.concept, rec.concept);
  return words.field(f.concept, rec.concept);
}

const REF_CONCEPTS = new Set([
  'via',
  'gatewayNamed',
  'certificateNamed',
  'authorityNamed',
  'groupref',
  'roles',
  'when',
  'device',
]);
