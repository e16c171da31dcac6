import type { Rng } from './rng.ts';

/** What a place in the file means. `to` is the symbolic name of a record; see README for each kind. */
export type Mark =
  | { k: 'ref'; value: string; to: string }
  | { k: 'gone'; value: string; kind: string }
  | { k: 'port'; value: string }
  | { k: 'bind'; role: string; port: string }
  | { k: 'secret' }
  | { k: 'certificate' }
  | { k: 'hardware' }
  | { k: 'optional' };

export interface Attr {
  name: string;
  value: string;
  marks: Mark[];
}

export interface El {
  tag: string;
  attrs: Attr[];
  kids: El[];
  text: string | null;
  cdata: boolean;
  /** Marks of the element, which are also those of its text. */
  marks: Mark[];
  /** Marks of the tag itself, used as a value. */
  tagMarks: Mark[];
  /** The records that this element is, or is part of (property lists). */
  records: string[];
  comment: string | null;
}

export function el(tag: string, init: Partial<Omit<El, 'tag'>> = {}): El {
  return {
    tag,
    attrs: [],
    kids: [],
    text: null,
    cdata: false,
    marks: [],
    tagMarks: [],
    records: [],
    comment: null,
    ...init,
  };
}

export interface Reference {
  at: string;
  value: string;
  to: string;
  to_any?: string[];
}

export interface Truth {
  refs: Reference[];
  dangling: { at: string; value: string; kind: string }[];
  bindings: { role: string; port: string; at: string }[];
  ports: { at: string; value: string }[];
  secrets: string[];
  hardware: string[];
  certificates: string[];
  optional: string[];
}

/** How the tree is written down. None of it carries meaning. */
export interface Layout {
  indent: string;
  eol: string;
  oneLine: boolean;
  quote: '"' | "'";
  empty: 'self' | 'self-space' | 'pair';
  declaration: string | null;
  finalNewline: boolean;
  attrLines: boolean;
  escapeGreater: boolean;
  /** Share of non-ASCII characters written as numeric character references. */
  charRefs: boolean;
}

export function write(root: El, layout: Layout): string {
  const out: string[] = [];
  const eol = layout.oneLine ? '' : layout.eol;
  if (layout.declaration !== null) out.push(layout.declaration, layout.oneLine ? '' : eol);
  writeElement(root, layout, 0, out);
  if (layout.finalNewline) out.push(layout.eol);
  return out.join('');
}

function writeElement(e: El, layout: Layout, depth: number, out: string[]): void {
  const eol = layout.oneLine ? '' : layout.eol;
  const pad = layout.oneLine ? '' : layout.indent.repeat(depth);
  if (e.comment !== null) out.push(pad, '<!-- ', e.comment, ' -->', eol);
  out.push(pad, '<', e.tag);
  for (const a of e.attrs) {
    out.push(layout.attrLines && e.attrs.length > 2 ? eol + pad + (layout.indent || ' ') : ' ');
    out.push(a.name, '=', layout.quote, escapeAttr(a.value, layout), layout.quote);
  }
  if (e.kids.length > 0) {
    out.push('>', eol);
    for (const kid of e.kids) writeElement(kid, layout, depth + 1, out);
    out.push(pad, '</', e.tag, '>');
  } else if (e.text !== null && e.text !== '') {
    const text = layout.eol === '\n' ? e.text : e.text.replaceAll('\n', layout.eol);
    out.push(
      '>',
      e.cdata && !text.includes(']]>') ? `<![CDATA[${text}]]>` : escapeText(text, layout),
      '</',
      e.tag,
      '>',
    );
  } else {
    out.push({ self: '/>', 'self-space': ' />', pair: `></${e.tag}>` }[layout.empty]);
  }
  out.push(eol);
}

function escapeText(text: string, layout: Layout): string {
  let s = text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
  if (layout.escapeGreater || s.includes(']]>')) s = s.replaceAll('>', '&gt;');
  return layout.charRefs ? s.replace(/[\u0080-\u024f]/g, (c) => `&#${c.charCodeAt(0)};`) : s;
}

function escapeAttr(text: string, layout: Layout): string {
  let s = escapeText(text, layout).replaceAll('\n', '&#10;').replaceAll('\t', '&#9;');
  s = layout.quote === '"' ? s.replaceAll('"', '&quot;') : s.replaceAll("'", '&apos;');
  return s;
}

/** Paths count siblings of the same name from 1; see the contract of `inspect`. */
export function truthOf(root: El): Truth {
  const truth: Truth = {
    refs: [],
    dangling: [],
    bindings: [],
    ports: [],
    secrets: [],
    hardware: [],
    certificates: [],
    optional: [],
  };
  const records = new Map<string, string[]>();
  const pending: { at: string; value: string; to: string }[] = [];

  const note = (at: string, marks: readonly Mark[]): void => {
    for (const m of marks) {
      switch (m.k) {
        case 'ref':
          pending.push({ at, value: m.value, to: m.to });
          break;
        case 'gone':
          truth.dangling.push({ at, value: m.value, kind: m.kind });
          break;
        case 'port':
          truth.ports.push({ at, value: m.value });
          break;
        case 'bind':
          truth.bindings.push({ role: m.role, port: m.port, at });
          break;
        case 'secret':
          truth.secrets.push(at);
          break;
        case 'certificate':
          truth.certificates.push(at);
          break;
        case 'hardware':
          truth.hardware.push(at);
          break;
        case 'optional':
          truth.optional.push(at);
          break;
      }
    }
  };

  const visit = (e: El, at: string): void => {
    for (const r of e.records) {
      const list = records.get(r);
      if (list) list.push(at);
      else records.set(r, [at]);
    }
    note(`${at}/name()`, e.tagMarks);
    for (const a of e.attrs) note(`${at}/@${a.name}`, a.marks);
    note(at, e.marks);
    const seen = new Map<string, number>();
    for (const kid of e.kids) {
      const n = (seen.get(kid.tag) ?? 0) + 1;
      seen.set(kid.tag, n);
      visit(kid, `${at}/${kid.tag}[${n}]`);
    }
  };
  visit(root, `/${root.tag}[1]`);

  for (const p of pending) {
    const targets = records.get(p.to);
    if (!targets) throw new Error(`no element is record ${p.to}, named at ${p.at}`);
    const ref: Reference = { at: p.at, value: p.value, to: targets[0] as string };
    if (targets.length > 1) ref.to_any = targets.slice(1);
    truth.refs.push(ref);
  }
  return truth;
}

export function randomLayout(rng: Rng): Layout {
  const oneLine = rng.chance(0.1);
  return {
    indent: rng.pick(['\t', '  ', '    ', '   ', ' ', '', '  ']),
    eol: rng.chance(0.2) ? '\r\n' : '\n',
    oneLine,
    quote: rng.chance(0.2) ? "'" : '"',
    empty: rng.pick(['self', 'self', 'self-space', 'pair']),
    declaration: null,
    finalNewline: rng.chance(0.85),
    attrLines: !oneLine && rng.chance(0.1),
    escapeGreater: rng.chance(0.7),
    charRefs: rng.chance(0.1),
  };
}
