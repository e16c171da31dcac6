import { fieldWord, inner, type Job, outer, recordMarks, renderItems, renderJoined, type School } from '../lower.ts';
import type { Field, Rec } from '../records.ts';
import type { Rng } from '../rng.ts';
import { type El, el } from '../xml.ts';

/** Objects of a class, each a list of named settings: the tags say nothing, the attributes say everything. */
interface Form {
  readonly classAs: 'attribute' | 'element';
  readonly value: 'attribute' | 'text';
  /** The key stands on the object itself, or among its settings. */
  readonly keyOn: 'object' | 'settings';
  readonly listing: 'flat' | 'by class' | 'by section';
  readonly lists: 'repeat' | 'joined' | 'inside';
  readonly shuffle: boolean;
}

class Pairs {
  private readonly form: Form;

  constructor(private readonly job: Job) {
    this.form = randomForm(job.rng.fork('pairs form'));
  }

  render(): El {
    const { words } = this.job.dialect;
    const root = el(words.item('root'));
    const parts = [
      ...this.job.doc.singles.map((s) => ({ section: s.section, concept: '', els: [this.object(s.rec)] })),
      ...this.job.doc.colls.map((c) => ({
        section: c.section,
        concept: c.concept,
        els: c.records.map((r) => this.object(r)),
      })),
    ];
    const order = this.job.rng.fork('pairs order');
    const boxes = new Map<string, El>();
    for (const p of this.form.shuffle ? order.shuffle(parts) : parts) {
      const key =
        this.form.listing === 'by class' && p.concept !== ''
          ? words.container(p.concept)
          : this.form.listing === 'by section'
            ? words.item(p.section)
            : '';
      if (key === '') {
        root.kids.push(...p.els);
        continue;
      }
      let box = boxes.get(key);
      if (!box) {
        box = el(words.item('table'), { attrs: [{ name: words.field('name', 'box'), value: key, marks: [] }] });
        boxes.set(key, box);
        root.kids.push(box);
      }
      box.kids.push(...p.els);
    }
    return root;
  }

  private object(rec: Rec): El {
    const { words } = this.job.dialect;
    const e = el(words.item('object'), { records: [rec.uid], marks: recordMarks(rec) });
    if (this.form.classAs === 'attribute')
      e.attrs.push({ name: words.field('kind', 'object'), value: words.item(rec.concept), marks: [] });
    else e.kids.push(el(words.field('kind', 'object'), { text: words.item(rec.concept) }));
    rec.fields.forEach((f, i) => {
      if (i === 0 && this.form.keyOn === 'object' && (f.concept === 'id' || f.concept === 'name') && !f.free) {
        const p = renderJoined(f, this.job);
        e.attrs.push({ name: fieldWord(f, rec, this.job.dialect), value: p.text, marks: p.marks });
      } else this.setting(f, rec, e);
    });
    for (const s of rec.singles) e.kids.push(this.object(s));
    for (const c of rec.colls) for (const r of c.records) e.kids.push(this.object(r));
    return e;
  }

  private setting(f: Field, rec: Rec, e: El): void {
    const { words } = this.job.dialect;
    const tag = words.item('prop');
    const valueWord = words.field('value', 'pair');
    const name = { name: words.field('name', 'pair'), value: fieldWord(f, rec, this.job.dialect), marks: [] };
    const many = f.list === true || f.tokens.length > 1;
    if (many && this.form.lists === 'inside') {
      e.kids.push(
        el(tag, {
          attrs: [name],
          kids: renderItems(f, this.job).map((p) => el(words.item('item'), { text: p.text, marks: p.marks })),
        }),
      );
      return;
    }
    const pieces = many && this.form.lists === 'repeat' ? renderItems(f, this.job) : [renderJoined(f, this.job)];
    for (const p of pieces) {
      if (this.form.value === 'attribute' && !f.block)
        e.kids.push(
          el(tag, { attrs: [name, { name: valueWord, value: p.text, marks: inner(p.marks) }], marks: outer(p.marks) }),
        );
      else
        e.kids.push(
          el(tag, {
            attrs: [name],
            text: p.text,
            marks: p.marks,
            cdata: f.free === true && this.job.rng.fork(`pairs cdata ${rec.uid}`).chance(0.2),
          }),
        );
    }
  }
}

function randomForm(r: Rng): Form {
  return {
    classAs: r.fork('class').pick(['attribute', 'attribute', 'attribute', 'element']),
    value: r.fork('value').pick(['attribute', 'text']),
    keyOn: r.fork('key').pick(['object', 'settings']),
    listing: r.fork('listing').pick(['flat', 'flat', 'by class', 'by section']),
    lists: r.fork('lists').pick(['repeat', 'joined', 'inside']),
    shuffle: r.fork('shuffle').chance(0.5),
  };
}

export const pairs: School = { name: 'pairs', render: (job) => new Pairs(job).render() };
