import {
  fieldWord,
  inner,
  type Job,
  outer,
  type Piece,
  recordMarks,
  renderItems,
  renderJoined,
  type School,
} from '../lower.ts';
import type { Coll, Field, Rec } from '../records.ts';
import type { Rng } from '../rng.ts';
import { type El, el, type Mark } from '../xml.ts';

/** A dump of tables: rows and columns, a number in every table, lists in tables that join two others. */
interface Form {
  readonly cell: 'named text' | 'named value' | 'positional' | 'tag';
  readonly missing: 'omit' | 'empty' | 'null';
  readonly joins: boolean;
  readonly tables: 'attribute' | 'tag';
  readonly settings: 'pairs' | 'one row';
}

interface Column {
  readonly word: string;
  readonly key: string;
}

interface Table {
  readonly name: string;
  readonly columns: Column[];
  readonly rows: { uid: string; marks: Mark[]; cells: Map<string, Piece & { free: boolean }> }[];
}

/** The row that another row belongs to, and the number it goes by. */
interface Owner {
  readonly uid: string;
  readonly id: string;
}

class Dump {
  private readonly tables: Table[] = [];
  private readonly ids = new Map<string, string>();
  private readonly form: Form;

  constructor(private readonly job: Job) {
    this.form = randomForm(job.rng.fork('rows form'), job);
  }

  render(): El {
    const { words } = this.job.dialect;
    for (const coll of this.job.doc.colls) this.table(coll, null);
    const root = el(words.item('root'));
    this.settings();
    const order = this.job.rng.fork('table order');
    for (const t of order.chance(0.5) ? order.shuffle(this.tables) : this.tables) root.kids.push(this.write(t));
    return root;
  }

  /** The number of a row: the record's own identifier, or one that the dump gave it. */
  private idOf(rec: Rec, index: number): string {
    const own = rec.fields.find((f) => f.concept === 'id');
    if (own) return renderJoined(own, this.job).text;
    const known = this.ids.get(rec.uid);
    if (known !== undefined) return known;
    const { fields } = this.job.dialect.words;
    // Where words say nothing, small numbers could name anything: such a dump has long identifiers.
    const id =
      fields === 'opaque' || fields === 'letters'
        ? this.job.rng.fork(`row ${rec.uid}`).hex(10)
        : String(this.job.dialect.keyStart + index);
    this.ids.set(rec.uid, id);
    return id;
  }

  private table(coll: Coll, parent: { concept: string; of: (rec: Rec) => Owner } | null): void {
    const { words } = this.job.dialect;
    const table: Table = { name: words.container(coll.concept), columns: [], rows: [] };
    this.tables.push(table);
    const joins = new Map<string, Table>();
    const children = new Map<string, { coll: Coll; owner: Map<string, Owner>; recs: Rec[] }>();
    const column = (key: string, word: string): void => {
      if (!table.columns.some((c) => c.key === key)) table.columns.push({ key, word });
    };
    coll.records.forEach((rec, i) => {
      const id = this.idOf(rec, i);
      const cells = new Map<string, Piece & { free: boolean }>();
      column('id', words.field('id', rec.concept));
      cells.set('id', { text: id, marks: [], free: false });
      if (parent) {
        const owner = parent.of(rec);
        column('parent', words.compound([parent.concept, 'id'], rec.concept));
        cells.set('parent', { text: owner.id, marks: [{ k: 'ref', value: owner.id, to: owner.uid }], free: false });
      }
      for (const f of rec.fields) {
        if (f.concept === 'id') continue;
        if (this.form.joins && (f.list === true || f.tokens.length > 1)) {
          this.joinRows(joins, f, rec, id);
          continue;
        }
        column(f.concept, fieldWord(f, rec, this.job.dialect));
        cells.set(f.concept, { ...renderJoined(f, this.job), free: f.free === true || f.block === true });
      }
      table.rows.push({ uid: rec.uid, marks: recordMarks(rec), cells });
      for (const child of rec.colls) {
        const known = children.get(child.concept) ?? {
          coll: child,
          owner: new Map<string, Owner>(),
          recs: [] as Rec[],
        };
        children.set(child.concept, known);
        for (const r of child.records) {
          known.recs.push(r);
          known.owner.set(r.uid, { uid: rec.uid, id });
        }
      }
    });
    this.tables.push(...joins.values());
    for (const child of children.values())
      if (child.recs.length > 0)
        this.table(
          { ...child.coll, records: child.recs },
          { concept: coll.concept, of: (r) => child.owner.get(r.uid) as Owner },
        );
  }

  private joinRows(joins: Map<string, Table>, f: Field, rec: Rec, id: string): void {
    const { words } = this.job.dialect;
    let table = joins.get(f.concept);
    if (!table) {
      const parent = words.compound([rec.concept, 'id'], `join ${rec.concept}`);
      let item = fieldWord(f, rec, this.job.dialect);
      if (item === parent) item = words.field('item', 'join');
      table = {
        name: words.cased(`${words.item(rec.concept)} ${item}`),
        columns: [
          { key: 'parent', word: parent },
          { key: 'item', word: item },
        ],
        rows: [],
      };
      joins.set(f.concept, table);
    }
    for (const p of renderItems(f, this.job)) {
      const cells = new Map([
        ['parent', { text: id, marks: [{ k: 'ref', value: id, to: rec.uid } as Mark], free: false }],
        ['item', { ...p, free: false }],
      ]);
      table.rows.push({ uid: `${rec.uid}/${f.concept}/${table.rows.length}`, marks: [], cells });
    }
  }

  /** Settings that exist once: a table of names and values, or a table of one row each. */
  private settings(): void {
    const { words } = this.job.dialect;
    const pairs: Table = {
      name: words.container('data'),
      columns: [
        { key: 'name', word: words.field('name', 'data') },
        { key: 'value', word: words.field('value', 'data') },
      ],
      rows: [],
    };
    const visit = (rec: Rec): void => {
      if (this.form.settings === 'one row') {
        const plain = { ...rec, singles: [], fields: rec.fields };
        if (rec.fields.length > 0)
          this.table({ concept: rec.concept, section: '', tagField: null, records: [plain] }, null);
      } else {
        for (const f of rec.fields) {
          const name = `${words.item(rec.concept)}.${fieldWord(f, rec, this.job.dialect)}`;
          const p = renderJoined(f, this.job);
          const own = outer([...recordMarks(rec), ...p.marks]);
          pairs.rows.push({
            uid: `${rec.uid}.${f.concept}`,
            marks: own,
            cells: new Map([
              ['name', { text: name, marks: [], free: false }],
              ['value', { text: p.text, marks: inner(p.marks), free: f.free === true }],
            ]),
          });
        }
        for (const coll of rec.colls) if (coll.records.length > 0) this.table(coll, null);
      }
      for (const s of rec.singles) visit(s);
    };
    for (const s of this.job.doc.singles) visit(s.rec);
    if (pairs.rows.length > 0) this.tables.push(pairs);
  }

  private write(t: Table): El {
    const { words } = this.job.dialect;
    const named = this.form.tables === 'attribute';
    const table = el(named ? words.item('table') : t.name);
    const nameWord = words.field('name', 'dump');
    if (named) table.attrs.push({ name: nameWord, value: t.name, marks: [] });
    const rowWord = words.item('row');
    const colWord = words.item('col');
    if (this.form.cell === 'positional')
      table.kids.push(el(words.item('keyword'), { kids: t.columns.map((c) => el(colWord, { text: c.word })) }));
    for (const row of t.rows) {
      const e = el(rowWord, { records: [row.uid], marks: row.marks });
      for (const c of t.columns) {
        const cell = row.cells.get(c.key);
        if (!cell && this.form.missing === 'omit' && this.form.cell !== 'positional') continue;
        const text = cell?.text ?? (this.form.missing === 'null' ? 'NULL' : '');
        const marks = cell?.marks ?? [];
        const name = { name: nameWord, value: c.word, marks: [] };
        if (this.form.cell === 'named value' && !text.includes('\n'))
          e.kids.push(
            el(colWord, {
              attrs: [name, { name: words.field('value', 'dump'), value: text, marks: inner(marks) }],
              marks: outer(marks),
            }),
          );
        else if (this.form.cell === 'tag') e.kids.push(el(c.word, { text, marks }));
        else
          e.kids.push(
            el(colWord, {
              attrs: this.form.cell === 'positional' ? [] : [name],
              text,
              marks,
              cdata: cell?.free === true && this.cdata,
            }),
          );
      }
      table.kids.push(e);
    }
    return table;
  }

  private get cdata(): boolean {
    return this.job.rng.fork('rows cdata').chance(0.2);
  }
}

function randomForm(r: Rng, job: Job): Form {
  const ints = job.dialect.keys.role === 'int';
  return {
    cell: r.fork('cell').pick(['named text', 'named text', 'named value', 'positional', 'tag']),
    missing: r.fork('missing').pick(['omit', 'empty', 'null']),
    joins: ints || r.fork('joins').chance(0.3),
    tables: r.fork('tables').pick(['attribute', 'attribute', 'tag']),
    settings: r.fork('settings').pick(['pairs', 'pairs', 'one row']),
  };
}

export const rows: School = { name: 'rows', render: (job) => new Dump(job).render() };
