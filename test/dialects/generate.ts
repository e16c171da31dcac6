import { buildRecords } from './build/index.ts';
import { type Needs, randomDialect } from './dialect.ts';
import { randomModel } from './invent/index.ts';
import type { School } from './lower.ts';
import { meet, randomMeeting } from './meeting.ts';
import type { Model } from './model.ts';
import type { PortMap } from './ports.ts';
import { Rng } from './rng.ts';
import { letters } from './schools/letters.ts';
import { nested } from './schools/nested.ts';
import { packages } from './schools/packages.ts';
import { pairs } from './schools/pairs.ts';
import { properties } from './schools/properties.ts';
import { rows } from './schools/rows.ts';
import { typed } from './schools/typed.ts';
import { type El, randomLayout, type Truth, truthOf, write } from './xml.ts';

export interface DialectTruth extends Truth {
  /** Of networks on a VLAN its ID. */
  vlans: readonly { readonly role: string; readonly tag: number }[];
  dialect: Record<string, unknown>;
  moved: PortMap;
  swapped: PortMap;
}

export interface Generated {
  readonly name: string;
  readonly school: string;
  readonly seed: number;
  readonly xml: string;
  readonly bytes: Uint8Array;
  readonly truth: DialectTruth;
  /** The same file for other ports, as text and as bytes. */
  readonly render: (ports: PortMap) => { xml: string; bytes: Uint8Array };
}

interface Entry {
  readonly school: School;
  readonly weight: number;
  readonly needs: (rng: Rng) => Needs;
}

const SCHOOLS: readonly Entry[] = [
  { school: nested, weight: 10, needs: () => ({}) },
  { school: letters, weight: 2, needs: () => ({ language: 'letters' }) },
  { school: typed, weight: 2, needs: () => ({}) },
  { school: rows, weight: 3, needs: (r) => ({ flat: true, ints: r.chance(0.7) }) },
  { school: properties, weight: 3, needs: (r) => ({ ints: r.chance(0.25) }) },
  { school: pairs, weight: 2, needs: () => ({}) },
  { school: packages, weight: 3, needs: () => ({}) },
];

export interface Options {
  /** Only this school. */
  readonly school?: string;
  /** Networks meet ports in further ways, see meeting.ts, and ports have names of more families. */
  readonly meeting?: boolean;
  /** Changes the invented box before it is written down. */
  readonly change?: (model: Model, rng: Rng) => void;
}

/** Seeds that are only ever scored, never looked at while the reading is being improved. */
export function isHeldBack(seed: number): boolean {
  return seed % 3 === 0;
}

export const SCHOOL_NAMES: readonly string[] = SCHOOLS.map((s) => s.school.name);

export function generateDialect(seed: number, options: Options = {}): Generated {
  const rng = new Rng(`dialect ${seed}`);
  const entry = pickSchool(rng, options);
  const model: Model = randomModel(rng, options.meeting);
  options.change?.(model, rng.fork('change'));
  const needs = entry.needs(rng.fork('needs'));
  const encoding = randomEncoding(rng.fork('encoding'));
  const dialect = randomDialect(rng, needs);
  const wordless = dialect.words.fields === 'opaque' || dialect.words.fields === 'letters';
  const meeting = rng.fork('meeting');
  const met = options.meeting ? meet(model, randomMeeting(meeting, model.ports.family, wordless), meeting) : null;
  const doc = buildRecords(model, dialect, rng, met);
  const other = rng.fork('second');
  const otherDialect = randomDialect(other, { sameKeysAs: dialect });
  const second = { doc: buildRecords(model, otherDialect, rng, met), dialect: otherDialect };
  const layout = randomLayout(rng.fork('layout'));

  const tree = (ports: PortMap) => {
    const job = { doc, dialect, ports, rng: rng.fork('school') };
    const root = entry.school.render({ ...job, second: { ...job, ...second } });
    comment(root, rng.fork('comments'), model.ports.names);
    return root;
  };
  const render = (ports: PortMap): { xml: string; bytes: Uint8Array; encoding: string } => {
    const root = tree(ports);
    const plain = write(root, { ...layout, declaration: null });
    const used = encoding.fits(plain) ? encoding : UTF8;
    const declaration = used.declaration === null ? null : `<?xml version="1.0"${used.declaration}?>`;
    const xml = write(root, { ...layout, declaration });
    return { xml, bytes: used.encode(xml), encoding: used.name };
  };
  const first = render({});
  const truth = truthOf(tree({}));
  truth.optional.push(...doc.optionalValues);
  return {
    name: `d${String(seed).padStart(4, '0')}`,
    school: entry.school.name,
    seed,
    xml: first.xml,
    bytes: first.bytes,
    truth: {
      ...truth,
      vlans: doc.vlans,
      dialect: {
        seed,
        school: entry.school.name,
        heldBack: isHeldBack(seed),
        items: dialect.words.items,
        fields: dialect.words.fields,
        case: dialect.words.letterCase,
        keys: dialect.keys,
        list: dialect.list,
        binding: met ? `${met.way}, ${met.key} ${met.mark}, vlan ${met.vlan}` : dialect.binding,
        ports: model.ports.family,
        encoding: first.encoding,
      },
      moved: model.ports.moved,
      swapped: model.ports.swapped,
    },
    render,
  };
}

/** Remarks above some elements. They may speak of ports and of markup, and are never a mention. */
function comment(root: El, rng: Rng, ports: readonly string[]): void {
  const share = rng.pick([0, 0, 0, 0.01, 0.03]);
  const visit = (e: El): void => {
    for (const kid of e.kids) {
      if (rng.chance(share))
        kid.comment = rng.pick([
          'kept by hand, <b> & all',
          `${rng.pick(ports)} goes to pontoon B`,
          'do not sort',
          `${rng.pick(ports)} was replaced in spring`,
          'see the logbook',
        ]);
      visit(kid);
    }
  };
  visit(root);
}

function pickSchool(rng: Rng, options: Options): Entry {
  if (options.school !== undefined) {
    const found = SCHOOLS.find((s) => s.school.name === options.school);
    if (!found) throw new Error(`no school ${options.school}; there are ${SCHOOL_NAMES.join(', ')}`);
    return found;
  }
  let at = rng.fork('school choice').next() * SCHOOLS.reduce((sum, s) => sum + s.weight, 0);
  for (const s of SCHOOLS) {
    at -= s.weight;
    if (at < 0) return s;
  }
  return SCHOOLS[0] as Entry;
}

interface Encoding {
  readonly name: string;
  readonly declaration: string | null;
  readonly fits: (text: string) => boolean;
  readonly encode: (text: string) => Uint8Array;
}

const UTF8: Encoding = { name: 'utf-8', declaration: '', fits: () => true, encode: (t) => new TextEncoder().encode(t) };

function randomEncoding(r: Rng): Encoding {
  const latin: Encoding['encode'] = (t) => Uint8Array.from(t, (c) => c.charCodeAt(0));
  const fitsLatin = (t: string): boolean =>
    [...t].every((c) => c.charCodeAt(0) < 0x80 || (c.charCodeAt(0) >= 0xa0 && c.charCodeAt(0) <= 0xff));
  const utf16 = (t: string, little: boolean): Uint8Array => {
    const text = `\ufeff${t}`;
    const out = new DataView(new ArrayBuffer(text.length * 2));
    for (let i = 0; i < text.length; i++) out.setUint16(i * 2, text.charCodeAt(i), little);
    return new Uint8Array(out.buffer);
  };
  return r.pick<Encoding>([
    UTF8,
    UTF8,
    UTF8,
    UTF8,
    UTF8,
    { ...UTF8, declaration: ' encoding="UTF-8"' },
    { ...UTF8, declaration: ' encoding="UTF-8"' },
    { ...UTF8, declaration: ' encoding="utf-8" standalone="yes"' },
    { ...UTF8, declaration: null },
    { ...UTF8, name: 'utf-8-bom', encode: (t) => UTF8.encode(`\ufeff${t}`) },
    { name: 'iso-8859-1', declaration: ' encoding="ISO-8859-1"', fits: fitsLatin, encode: latin },
    { name: 'windows-1252', declaration: ' encoding="windows-1252"', fits: fitsLatin, encode: latin },
    { name: 'utf-16le', declaration: ' encoding="UTF-16"', fits: () => true, encode: (t) => utf16(t, true) },
    { name: 'utf-16be', declaration: ' encoding="UTF-16"', fits: () => true, encode: (t) => utf16(t, false) },
  ]);
}
