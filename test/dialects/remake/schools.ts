import type { Rng } from '../rng.ts';
import { type Attr, type El, el, type Mark } from '../xml.ts';
import { type Cell, cellsOf, joined, type Part, type Spelling, separatorFor } from './cells.ts';
import type { Rec } from './model.ts';
import { SINGLES } from './read.ts';

/** How one kind of record is written. All of it is drawn anew for each file, some of it for each kind. */
export interface Style {
  readonly key: 'child' | 'attribute' | 'tag';
  readonly values: 'child' | 'attributes' | 'some-attributes' | 'entries' | 'in-attribute' | 'pairs';
  readonly list: 'repeat' | 'joined' | 'wrapped' | 'numbered';
  readonly separator: string;
  readonly item: 'named' | 'generic' | 'numbered';
  readonly container: 'one' | 'none' | 'two';
  readonly presence: boolean;
}

export function randomStyle(rng: Rng, recs: readonly Rec[]): Style {
  return {
    key: rng.pick(['child', 'child', 'attribute', 'tag']),
    values: rng.pick(['child', 'child', 'child', 'attributes', 'some-attributes', 'entries', 'in-attribute', 'pairs']),
    list: rng.pick(['repeat', 'joined', 'joined', 'wrapped', 'numbered']),
    separator: separatorFor(recs, rng),
    item: rng.pick(['named', 'named', 'named', 'generic', 'numbered']),
    container: rng.pick(['one', 'one', 'one', 'none', 'two']),
    presence: rng.chance(0.25),
  };
}

/** Small words of a file's layout, drawn once: what an entry, a pair, a list item, a row is called. */
export interface Glue {
  readonly [word: string]: string;
}

const GLUE: Record<string, readonly string[]> = {
  entry: ['entry', 'set', 'param', 'opt', 'e', 'attr'],
  key: ['key', 'k', 'n', 'name', 'id', 'what'],
  value: ['value', 'v', 'val', 'to', 'is'],
  item: ['item', 'i', 'li', 'member', 'one'],
  record: ['record', 'rec', 'node', 'obj', 'entity', 'block'],
  list: ['list', 'all', 'items', 'set', 'table'],
  table: ['table', 'relation', 'sheet', 'grid', 'dump'],
  row: ['row', 'tuple', 'line', 'r'],
  column: ['col', 'cell', 'field', 'c', 'd'],
  head: ['head', 'columns', 'heading', 'layout'],
  line: ['p', 'line', 'property', 'setting', 'kv'],
};

export function randomGlue(rng: Rng): Glue {
  const taken = new Set<string>();
  return Object.fromEntries(
    Object.entries(GLUE).map(([word, words]) => {
      const name = rng.pick(words.filter((one) => !taken.has(one)));
      taken.add(name);
      return [word, name];
    }),
  );
}

export interface Job {
  readonly spelling: Spelling;
  readonly glue: Glue;
  readonly rng: Rng;
  readonly style: (kind: string) => Style;
}

const TAG = /^[\p{L}_][\p{L}\p{N}._-]*$/u;
const leaf = (tag: string, part: Part, marks: readonly Mark[] = []): El =>
  el(tag, { text: part.text, marks: [...part.marks, ...marks] });
const attr = (name: string, part: Part, marks: readonly Mark[] = []): Attr => ({
  name,
  value: part.text,
  marks: [...part.marks, ...marks],
});

/** Elements for all records of one kind, in a container or not. */
export function nested(kind: string, recs: readonly Rec[], job: Job): El[] {
  const { names } = job.spelling;
  const style = job.style(kind);
  const single = SINGLES.has(kind);
  const tags = recs.map((rec) => tagKey(rec, style));
  const byTag = !single && tags.every((tag) => tag !== null) && new Set(tags).size === tags.length;
  // A single record, or one without a container, needs a name of its own.
  const item = single || (style.container === 'none' && !byTag) ? 'named' : style.item;
  const made = recs.map((rec, i) => {
    const own =
      item === 'named'
        ? names.of(kind)
        : item === 'generic'
          ? (job.glue.record as string)
          : `${job.glue.record}${i + 1}`;
    const tag = byTag ? (tags[i] as string) : own;
    return record(tag, rec, byTag, job, style);
  });
  if (single || (style.container === 'none' && !byTag)) return made;
  const inside = style.container === 'two' ? [el(job.glue.list as string, { kids: made })] : made;
  return [el(names.of(`${kind}s`), { kids: inside })];
}

/** The tag that a record is written with where tags are keys: its own key, or the one name that it refers by. */
function tagKey(rec: Rec, style: Style): string | null {
  if (style.key !== 'tag') return null;
  const field = rec.fields.find((f) => f.concept === (rec.concept === 'pool' ? 'role' : rec.keyField));
  if (field === undefined || field.items.length !== 1) return null;
  const text = field.items[0]?.text as string;
  return TAG.test(text) && !/^xml/i.test(text) ? text : null;
}

function record(tag: string, rec: Rec, byTag: boolean, job: Job, style: Style): El {
  const cells = cellsOf(rec, job.spelling);
  const out = el(tag, { records: [rec.id], marks: rec.truth.map((k) => ({ k })) });
  for (const cell of cells) {
    const isTag = byTag && (rec.concept === 'pool' ? cell.concept === 'role' : cell.isKey);
    if (isTag) out.tagMarks.push(...(cell.parts[0] as Part).marks);
    else put(out, cell, job, style);
  }
  const kinds = new Set(rec.inner.map((one) => one.concept));
  for (const kind of kinds)
    out.kids.push(
      ...nested(
        kind,
        rec.inner.filter((one) => one.concept === kind),
        job,
      ),
    );
  return out;
}

function put(out: El, cell: Cell, { glue }: Job, style: Style): void {
  if (cell.flag !== null && style.presence) {
    if (cell.flag) out.kids.push(el(cell.name));
    return;
  }
  const long = cell.parts.some((part) => part.text.includes('\n'));
  const all = joined(cell, style.separator);
  if (cell.isKey && style.key === 'attribute') {
    out.attrs.push(attr(cell.name, all, cell.marks));
    return;
  }
  const asAttribute =
    style.values === 'attributes' || (style.values === 'some-attributes' && hash(cell.concept) % 2 === 0);
  if (asAttribute && !long && !(cell.list && style.list !== 'joined')) {
    out.attrs.push(attr(cell.name, all, cell.marks));
    return;
  }
  const one = (name: string, part: Part): El => {
    switch (style.values) {
      case 'entries':
        return el(glue.entry as string, {
          attrs: [attr(glue.key as string, { text: name, marks: [] }), attr(glue.value as string, part)],
          marks: cell.marks,
        });
      case 'in-attribute':
        return el(name, { attrs: [attr(glue.value as string, part)], marks: cell.marks });
      case 'pairs':
        return el(glue.entry as string, {
          kids: [leaf(glue.key as string, { text: name, marks: [] }), leaf(glue.value as string, part)],
          marks: cell.marks,
        });
      default:
        return leaf(name, part, cell.marks);
    }
  };
  if (!cell.list || style.list === 'joined') out.kids.push(one(cell.name, all));
  else if (style.list === 'repeat') out.kids.push(...cell.parts.map((part) => one(cell.name, part)));
  else if (style.list === 'numbered') out.kids.push(...cell.parts.map((part, i) => one(`${cell.name}${i + 1}`, part)));
  else {
    const inside = cell.parts.map((part) => leaf(glue.item as string, part));
    out.kids.push(el(cell.name, { kids: inside, marks: cell.marks }));
  }
}

function hash(text: string): number {
  let h = 7;
  for (const c of text) h = (h * 31 + c.charCodeAt(0)) % 1009;
  return h;
}

/** Tables of rows, with a cell for each column. */
export function rows(kind: string, recs: readonly Rec[], way: string, job: Job): El[] {
  const { names } = job.spelling;
  const { separator } = job.style('');
  const all = recs.map((rec) => cellsOf(rec, job.spelling));
  const columns = [...new Map(all.flat().map((cell) => [cell.concept, cell.name])).entries()];
  const made = recs.map((rec, i) => {
    const row = el(job.glue.row as string, { records: [rec.id], marks: rec.truth.map((k) => ({ k })) });
    for (const [concept, name] of columns) {
      const cell = (all[i] as Cell[]).find((one) => one.concept === concept);
      const part = cell ? joined(cell, separator) : null;
      const marks = cell?.marks ?? [];
      if (way === 'attributes') {
        if (part) row.attrs.push(attr(name, part, marks));
      } else if (way === 'positions') {
        row.kids.push(part ? leaf(job.glue.column as string, part, marks) : el(job.glue.column as string));
      } else if (part) {
        const column = leaf(job.glue.column as string, part, marks);
        column.attrs.push(attr(job.glue.key as string, { text: name, marks: [] }));
        row.kids.push(column);
      }
    }
    return row;
  });
  if (way === 'siblings') {
    for (const row of made) {
      row.tag = job.glue.table as string;
      row.attrs.push(attr(job.glue.key as string, { text: names.of(kind), marks: [] }));
    }
    return made;
  }
  const table = el(job.glue.table as string, {
    attrs: [attr('name', { text: names.of(kind), marks: [] })],
    kids: made,
  });
  if (way === 'positions') {
    const head = columns.map(([, name]) => leaf(job.glue.column as string, { text: name, marks: [] }));
    table.kids.unshift(el(job.glue.head as string, { kids: head }));
  }
  return [table];
}

/** A tree of few tags: sections, records and values say their names in an attribute. */
export function called(kind: string, recs: readonly Rec[], job: Job): El[] {
  const { names } = job.spelling;
  const { separator } = job.style('');
  const name = (text: string, marks: Mark[] = []) => attr(job.glue.key as string, { text, marks });
  const one = (rec: Rec, title: string | null): El => {
    const out = el(job.glue.record as string, { records: [rec.id], marks: rec.truth.map((k) => ({ k })) });
    if (title !== null) out.attrs.push(name(title));
    for (const cell of cellsOf(rec, job.spelling)) {
      if (title === null && cell.isKey)
        out.attrs.push(name((cell.parts[0] as Part).text, (cell.parts[0] as Part).marks));
      else {
        const value = leaf(job.glue.entry as string, joined(cell, separator), cell.marks);
        value.attrs.push(name(cell.name));
        out.kids.push(value);
      }
    }
    for (const inner of new Set(rec.inner.map((r) => r.concept)))
      out.kids.push(
        ...called(
          inner,
          rec.inner.filter((r) => r.concept === inner),
          job,
        ),
      );
    return out;
  };
  if (SINGLES.has(kind)) return recs.map((rec) => one(rec, names.of(kind)));
  return [
    el(job.glue.table as string, { attrs: [name(names.of(`${kind}s`))], kids: recs.map((rec) => one(rec, null)) }),
  ];
}

/** One flat list: the key of each line says section, record and field. */
export function properties(kind: string, recs: readonly Rec[], way: string, mark: string, job: Job): El[] {
  const { names } = job.spelling;
  const { separator } = job.style('');
  const out: El[] = [];
  const line = (path: readonly string[], part: Part, marks: readonly Mark[], records: string[]): void => {
    const key = path.join(mark);
    const tag = job.glue.line as string;
    const [k, v] = [job.glue.key as string, job.glue.value as string];
    const own: Partial<El> = { records, marks: [...marks] };
    if (way === 'attributes') out.push(el(tag, { ...own, attrs: [attr(k, { text: key, marks: [] }), attr(v, part)] }));
    else if (way === 'text') {
      const made = leaf(tag, part, marks);
      made.records = records;
      made.attrs.push(attr(k, { text: key, marks: [] }));
      out.push(made);
    } else out.push(el(tag, { ...own, kids: [leaf(k, { text: key, marks: [] }), leaf(v, part)] }));
  };
  const visit = (path: readonly string[], rec: Rec): void => {
    const cells = cellsOf(rec, job.spelling);
    if (rec.concept === 'tunable') {
      const [name, value] = cells as [Cell, Cell];
      const marks: Mark[] = rec.truth.map((k) => ({ k }));
      line([...path.slice(0, -1), (name.parts[0] as Part).text], value.parts[0] as Part, marks, [rec.id]);
      return;
    }
    for (const cell of cells) {
      if (cell.isKey && path.at(-1) === cell.parts[0]?.text) continue;
      const marks: Mark[] = [...cell.marks, ...rec.truth.map((k) => ({ k }))];
      if (cell.list && job.style('').list !== 'joined')
        cell.parts.forEach((part, i) => {
          line([...path, cell.name, String(i)], part, marks, [rec.id]);
        });
      else line([...path, cell.name], joined(cell, separator), marks, [rec.id]);
    }
    rec.inner.forEach((inner, i) => {
      visit([...path, names.of(inner.concept), String(i)], inner);
    });
  };
  const keyed = recs.map((rec) => rec.fields.find((f) => f.concept === rec.keyField)?.items[0]?.text ?? '');
  const byKey = keyed.every((key) => /^[\p{L}\p{N}_-]+$/u.test(key) && !key.includes(mark));
  recs.forEach((rec, i) => {
    const single = SINGLES.has(kind);
    visit(single ? [names.of(kind)] : [names.of(`${kind}s`), byKey ? (keyed[i] as string) : String(i)], rec);
  });
  return out;
}

/** Leases as rows of their own, with the pool that they belong to. */
export function flatten(records: Map<string, Rec[]>): void {
  const leases: Rec[] = [];
  (records.get('pool') ?? []).forEach((pool, i) => {
    if (pool.inner.length === 0) return;
    const key = `pool-${String(i + 1).padStart(2, '0')}`;
    pool.fields.unshift({ concept: 'id', items: [{ text: key }], list: false, truth: [] });
    pool.keyField = 'id';
    for (const lease of pool.inner) {
      lease.fields.unshift({ concept: 'poolRef', items: [{ text: key, ref: pool.id }], list: false, truth: [] });
      leases.push(lease);
    }
    pool.inner = [];
  });
  if (leases.length > 0) records.set('lease', leases);
}
