import { fieldWord, inner, type Job, outer, type Piece, renderItems, renderJoined, type School } from '../lower.ts';
import type { Coll, Field, Rec } from '../records.ts';
import type { Rng } from '../rng.ts';
import { type El, el, type Mark } from '../xml.ts';

/** One flat list. The records are in the keys: everything that starts with "net.role.3." is one record. */
interface Form {
  readonly separator: string;
  readonly value: 'text' | 'attribute' | 'elements';
  /** The part of the key that tells records apart: their position, or their name where it can stand in a key. */
  readonly parts: 'numbers' | 'names';
  readonly first: number;
  readonly sections: boolean;
  readonly lists: 'numbered' | 'joined';
  readonly sorted: boolean;
  readonly plural: boolean;
}

interface Line {
  readonly key: string;
  readonly piece: Piece;
  readonly free: boolean;
  readonly records: readonly string[];
  readonly marks: readonly Mark[];
}

class Properties {
  private readonly form: Form;
  private readonly lines: Line[] = [];

  constructor(private readonly job: Job) {
    this.form = randomForm(job.rng.fork('properties form'));
  }

  render(): El {
    const { words } = this.job.dialect;
    for (const s of this.job.doc.singles) this.record(s.rec, this.start(s.section, words.item(s.rec.concept)), []);
    for (const c of this.job.doc.colls) this.collection(c, this.start(c.section, this.itemWord(c)), []);
    const root = el(words.item('root'));
    const lines = this.form.sorted
      ? [...this.lines].sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0))
      : this.lines;
    const tag = words.item('prop');
    const key = words.field('keyword', 'prop');
    const value = words.field('value', 'prop');
    for (const l of lines) {
      const records = [...l.records];
      const own = [...l.marks, ...(this.form.value === 'text' ? [] : outer(l.piece.marks))];
      const atValue = inner(l.piece.marks);
      if (this.form.value === 'elements')
        root.kids.push(
          el(tag, {
            records,
            marks: own,
            kids: [
              el(key, { text: l.key }),
              el(value, { text: l.piece.text, marks: atValue, cdata: l.free && this.cdata }),
            ],
          }),
        );
      else if (this.form.value === 'attribute' && !l.piece.text.includes('\n'))
        root.kids.push(
          el(tag, {
            records,
            marks: own,
            attrs: [
              { name: key, value: l.key, marks: [] },
              { name: value, value: l.piece.text, marks: atValue },
            ],
          }),
        );
      else
        root.kids.push(
          el(tag, {
            records,
            marks: [...own, ...(this.form.value === 'text' ? l.piece.marks : atValue)],
            attrs: [{ name: key, value: l.key, marks: [] }],
            text: l.piece.text,
            cdata: l.free && this.cdata,
          }),
        );
    }
    return root;
  }

  private get cdata(): boolean {
    return this.job.rng.fork('property cdata').chance(0.2);
  }

  private itemWord(c: Coll): string {
    return this.form.plural ? this.job.dialect.words.container(c.concept) : this.job.dialect.words.item(c.concept);
  }

  private start(section: string, word: string): string {
    return this.form.sections ? this.join(this.job.dialect.words.item(section), word) : word;
  }

  private join(...parts: string[]): string {
    return parts.join(this.form.separator);
  }

  private collection(coll: Coll, prefix: string, above: readonly string[]): void {
    // A setting of the operating system is one line: its name is the key.
    if (coll.concept === 'tunable') {
      for (const rec of coll.records) {
        const name = rec.fields.find((f) => f.concept === 'name') as Field;
        const value = rec.fields.find((f) => f.concept === 'value') as Field;
        this.lines.push({
          key: this.join(prefix, renderJoined(name, this.job).text),
          piece: renderJoined(value, this.job),
          free: false,
          records: [rec.uid],
          marks: rec.hardware ? [{ k: 'hardware' }] : [{ k: 'optional' }],
        });
      }
      return;
    }
    const byName = this.form.parts === 'names' && coll.tagField !== null && coll.tagField !== 'via';
    const names = coll.records.map((r) => {
      const f = r.fields.find((x) => x.concept === coll.tagField);
      return f ? renderJoined(f, this.job).text : '';
    });
    const usable = byName && names.every((n) => /^[\w-]+$/.test(n)) && new Set(names).size === names.length;
    coll.records.forEach((rec, i) => {
      // A record's number, where it has one, is its part of the key.
      const id = rec.fields.find((f) => f.concept === 'id');
      const number = id && /^\d+$/.test(renderJoined(id, this.job).text) ? id : undefined;
      const dropped = usable ? rec.fields.find((f) => f.concept === coll.tagField) : number;
      const part = usable
        ? (names[i] as string)
        : number
          ? renderJoined(number, this.job).text
          : String(i + this.form.first);
      this.record({ ...rec, fields: rec.fields.filter((f) => f !== dropped) }, this.join(prefix, part), above);
    });
  }

  private record(rec: Rec, prefix: string, above: readonly string[]): void {
    const records = [rec.uid, ...above];
    const own: Mark[] = rec.hardware ? [{ k: 'hardware' }] : rec.optional ? [{ k: 'optional' }] : [];
    for (const f of rec.fields) {
      const key = this.join(prefix, fieldWord(f, rec, this.job.dialect));
      const free = f.free === true || f.block === true;
      if ((f.list === true || f.tokens.length > 1) && this.form.lists === 'numbered')
        renderItems(f, this.job).forEach((piece, i) => {
          this.lines.push({ key: this.join(key, String(i + this.form.first)), piece, free, records, marks: own });
        });
      else this.lines.push({ key, piece: renderJoined(f, this.job), free, records, marks: own });
    }
    const { words } = this.job.dialect;
    for (const s of rec.singles) this.record(s, this.join(prefix, words.item(s.concept)), records);
    for (const c of rec.colls)
      if (c.records.length > 0) this.collection(c, this.join(prefix, this.itemWord(c)), records);
  }
}

function randomForm(r: Rng): Form {
  return {
    separator: r.fork('separator').pick(['.', '.', '.', '/', ':', '::']),
    value: r.fork('value').pick(['text', 'text', 'attribute', 'elements']),
    parts: r.fork('parts').pick(['numbers', 'numbers', 'names']),
    first: r.fork('first').pick([0, 1, 1]),
    sections: r.fork('sections').chance(0.6),
    lists: r.fork('lists').pick(['numbered', 'joined']),
    sorted: r.fork('sorted').chance(0.4),
    plural: r.fork('plural').chance(0.3),
  };
}

export const properties: School = { name: 'properties', render: (job) => new Properties(job).render() };
