import {
  fieldWord,
  inner,
  type Job,
  outer,
  type Piece,
  recordMarks,
  renderItems,
  renderJoined,
  renderToken,
  type School,
} from '../lower.ts';
import type { Coll, Field, Rec } from '../records.ts';
import type { Rng } from '../rng.ts';
import { type El, el } from '../xml.ts';

/** Records as elements inside elements. Each choice is independent, so this one engine covers many house styles. */
export interface Shape {
  readonly place: 'elements' | 'attributes' | 'mixed' | 'key-attribute';
  /** A leaf's value as its text, as an attribute of it, or in an element of its own. */
  readonly leaf: 'text' | 'attribute' | 'typed';
  readonly records: 'containers' | 'flat' | 'both';
  readonly grouped: boolean;
  readonly tagKeyed: number;
  /** An element between record and fields. */
  readonly body: boolean;
  readonly counts: boolean;
  readonly cdata: number;
  readonly presence: boolean;
  readonly prefixes: 'none' | 'one' | 'by section';
  readonly shuffle: boolean;
  /** In a wrapped list: a word of its own for the items of each field, or one for all. */
  readonly ownItemWords: boolean;
}

export function randomShape(root: Rng, over: Partial<Shape> = {}): Shape {
  const r = root.fork('shape');
  return {
    place: r.fork('place').pick(['elements', 'elements', 'mixed', 'mixed', 'key-attribute', 'attributes']),
    leaf: r.fork('leaf').pick(['text', 'text', 'text', 'text', 'attribute']),
    records: r.fork('records').pick(['containers', 'containers', 'containers', 'flat', 'both']),
    grouped: r.fork('grouped').chance(0.5),
    tagKeyed: r.fork('tag keyed').pick([0, 0, 0, 0.4, 1]),
    body: r.fork('body').chance(0.08),
    counts: r.fork('counts').chance(0.12),
    cdata: r.fork('cdata').pick([0, 0, 0.3, 0.5, 1]),
    presence: r.fork('presence').chance(0.15),
    prefixes: r.fork('prefixes').pick(['none', 'none', 'none', 'none', 'none', 'one', 'by section']),
    shuffle: r.fork('shuffle').chance(0.7),
    ownItemWords: r.fork('item words').chance(0.6),
    ...over,
  };
}

export class Nested {
  private readonly prefixes = new Map<string, string>();

  constructor(
    private readonly job: Job,
    private readonly shape: Shape,
  ) {}

  /** Everything under one root, in sections or not. */
  render(): El {
    const { words } = this.job.dialect;
    const root = el(this.prefix('') + words.item('root'));
    const rng = this.job.rng.fork('order');
    const parts: { section: string; els: El[] }[] = [
      ...this.job.doc.singles.map((s) => ({ section: s.section, els: [this.record(s.rec, s.section)] })),
      ...this.job.doc.colls.map((c) => ({ section: c.section, els: this.collection(c, c.section) })),
    ];
    const ordered = this.shape.shuffle ? rng.shuffle(parts) : parts;
    if (this.shape.grouped) {
      const sections = new Map<string, El>();
      for (const p of ordered) {
        let section = sections.get(p.section);
        if (!section) {
          section = el(this.prefix(p.section) + words.item(p.section));
          sections.set(p.section, section);
          root.kids.push(section);
        }
        section.kids.push(...p.els);
      }
    } else for (const p of ordered) root.kids.push(...p.els);
    const version = this.job.rng.fork('version');
    if (version.chance(0.5))
      root.attrs.push({
        name: version.pick(['version', 'v', 'format', 'rev']),
        value: version.pick(['4.2', '1', '2026.1', '17']),
        marks: [],
      });
    this.declarePrefixes(root);
    return root;
  }

  declarePrefixes(root: El): void {
    for (const [section, prefix] of this.prefixes)
      if (prefix !== '') {
        const name = `xmlns:${prefix.slice(0, -1)}`;
        if (!root.attrs.some((a) => a.name === name))
          root.attrs.unshift({
            name,
            value: `urn:kestrelquay:${section === '' ? 'box' : section.replace('sec.', '')}`,
            marks: [],
          });
      }
  }

  private prefix(section: string): string {
    if (this.shape.prefixes === 'none') return '';
    const key = this.shape.prefixes === 'one' ? '' : section;
    let p = this.prefixes.get(key);
    if (p === undefined) {
      const free = ['kq', 'b', 'n', 'pol', 'svc', 't', 'cfg', 'x1', 'gate', 'ns2'].filter(
        (c) => ![...this.prefixes.values()].includes(`${c}:`),
      );
      p = `${this.job.rng.fork(`prefix ${key}`).pick(free)}:`;
      this.prefixes.set(key, p);
    }
    return p;
  }

  collection(coll: Coll, section: string): El[] {
    const { words } = this.job.dialect;
    const own = this.job.rng.fork(`coll ${coll.concept}`);
    if (coll.concept === 'tunable' && this.shape.place === 'elements' && own.fork('names as tags').chance(0.2))
      return [
        el(this.prefix(section) + words.container(coll.concept), {
          kids: coll.records.map((r) => this.settingAsTag(r)),
        }),
      ];
    const byTag = this.shape.tagKeyed > 0 && own.fork('tag').chance(this.shape.tagKeyed) && this.tagsFit(coll);
    const records = coll.records.map((r) => this.record(r, section, byTag ? coll.tagField : null));
    const flat =
      !byTag && (this.shape.records === 'flat' || (this.shape.records === 'both' && own.fork('flat').chance(0.5)));
    if (flat) return records;
    const box = el(this.prefix(section) + words.container(coll.concept), { kids: records });
    if (this.shape.counts)
      box.attrs.push({ name: words.field('count', 'container'), value: String(records.length), marks: [] });
    return [box];
  }

  /** A setting of the operating system whose name is the element's own. */
  private settingAsTag(rec: Rec): El {
    const [name, value] = rec.fields as [Field, Field];
    return el(renderJoined(name, this.job).text, {
      text: renderJoined(value, this.job).text,
      records: [rec.uid],
      marks: recordMarks(rec),
    });
  }

  private tagsFit(coll: Coll): boolean {
    if (coll.tagField === null || coll.records.length < 2) return false;
    const tags = coll.records.map((r) => {
      const f = r.fields.find((x) => x.concept === coll.tagField);
      return f ? renderJoined(f, this.job).text : '';
    });
    return new Set(tags).size === tags.length && tags.every((t) => /^[A-Za-z_][\w.-]*$/.test(t));
  }

  record(rec: Rec, section: string, tagField: string | null = null): El {
    const { words } = this.job.dialect;
    const tagValue = tagField === null ? null : rec.fields.find((f) => f.concept === tagField);
    const e = el(this.prefix(section) + words.item(rec.concept), { records: [rec.uid], marks: recordMarks(rec) });
    if (tagValue) {
      const p = renderToken(tagValue.tokens[0] as NonNullable<(typeof tagValue.tokens)[0]>, this.job);
      e.tag = p.text;
      e.tagMarks = p.marks;
    }
    const holder = this.shape.body ? el(this.prefix(section) + words.item('data')) : e;
    rec.fields.forEach((f, i) => {
      if (f !== tagValue) this.place(f, rec, i === 0, e, holder, section);
    });
    for (const single of rec.singles) holder.kids.push(this.record(single, section));
    for (const coll of rec.colls) if (coll.records.length > 0) holder.kids.push(...this.collection(coll, section));
    if (holder !== e && (holder.kids.length > 0 || holder.text !== null)) e.kids.push(holder);
    return e;
  }

  private place(f: Field, rec: Rec, first: boolean, e: El, holder: El, section: string): void {
    const word = fieldWord(f, rec, this.job.dialect);
    const many = f.list === true || f.tokens.length > 1;
    if (this.asAttribute(f, rec, first, many)) {
      const p = renderJoined(f, this.job);
      e.attrs.push({ name: word, value: p.text, marks: p.marks });
      return;
    }
    const tag = this.prefix(section) + word;
    if (this.shape.presence && f.bool) {
      const on = (f.tokens[0]?.s ?? '') === this.job.dialect.yes;
      if (on) holder.kids.push(el(tag));
      return;
    }
    const form = this.job.dialect.list;
    if (many && form === 'repeat') {
      for (const p of renderItems(f, this.job)) holder.kids.push(this.leaf(tag, p, f, rec));
    } else if (many && form === 'wrap') {
      const item =
        this.prefix(section) +
        this.job.dialect.words.field(this.shape.ownItemWords && !f.compound ? `${f.concept}.one` : 'item', rec.concept);
      holder.kids.push(el(tag, { kids: renderItems(f, this.job).map((p) => this.leaf(item, p, f, rec)) }));
    } else holder.kids.push(this.leaf(tag, renderJoined(f, this.job), f, rec));
  }

  private leaf(tag: string, p: Piece, f: Field, rec: Rec): El {
    const cdata =
      (f.free === true || f.block === true) &&
      this.job.rng.fork(`cdata ${rec.uid} ${f.concept}`).chance(this.shape.cdata);
    if (this.shape.leaf === 'attribute' && !f.block && !cdata) {
      return el(tag, {
        marks: outer(p.marks),
        attrs: [{ name: this.job.dialect.words.field('value', 'leaf'), value: p.text, marks: inner(p.marks) }],
      });
    }
    if (this.shape.leaf === 'typed') {
      const { words } = this.job.dialect;
      const type = f.bool ? 'b' : /^\d+$/.test(p.text) ? 'i' : f.secret ? 'x' : 's';
      return el(tag, {
        marks: outer(p.marks),
        kids: [
          el(words.field('value', 'leaf'), {
            text: p.text,
            cdata,
            marks: inner(p.marks),
            attrs: [{ name: words.field('kind', 'leaf'), value: type, marks: [] }],
          }),
        ],
      });
    }
    return el(tag, { text: p.text, cdata, marks: p.marks });
  }

  private asAttribute(f: Field, rec: Rec, first: boolean, many: boolean): boolean {
    if (this.shape.place === 'attributes') return true;
    if (f.block || f.free) return false;
    if (this.shape.place === 'key-attribute') return first && !many;
    if (this.shape.place !== 'mixed' || many) return false;
    return this.job.rng.fork(`attr ${rec.concept} ${f.concept}`).chance(0.45);
  }
}

export const nested: School = {
  name: 'nested',
  render: (job) => new Nested(job, randomShape(job.rng)).render(),
};
