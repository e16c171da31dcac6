import type { DialectTruth } from '../generate.ts';
import { Rng } from '../rng.ts';
import { type El, el, randomLayout, type Truth, truthOf, write } from '../xml.ts';
import { randomSpelling } from './cells.ts';
import { change } from './change.ts';
import { allRecords } from './model.ts';
import { readModel } from './read.ts';
import { called, flatten, type Job, nested, properties, randomGlue, randomStyle, rows, type Style } from './schools.ts';
import { Names } from './words.ts';

export interface Remade {
  readonly name: string;
  readonly xml: string;
  readonly bytes: Uint8Array;
  readonly truth: Truth & { dialect: Record<string, unknown> };
}

const SCHOOLS = [
  'nested',
  'nested',
  'nested',
  'nested',
  'nested',
  'nested',
  'rows',
  'called',
  'properties',
  'mixed',
] as const;

/** Writes a corpus file in another dialect: the same site, and no word, key, operator or layout of the old one. */
export function remake(source: string, bytes: Uint8Array, truth: DialectTruth, seed: number): Remade {
  const rng = new Rng(`remake ${source} ${seed}`);
  const model = readModel(bytes, truth);
  const names = new Names(rng.fork('words'));
  const school = rng.fork('school').pick(SCHOOLS);
  change(model, rng.fork('change'), names.speaks);
  if (school === 'rows' || (school === 'mixed' && rng.fork('flat').chance(0.5))) flatten(model.records);

  const recs = allRecords(model);
  const base = randomStyle(rng.fork('style'), recs);
  const styles = new Map<string, Style>([['', base]]);
  const job: Job = {
    spelling: randomSpelling(names, model, rng.fork('spelling')),
    glue: randomGlue(rng.fork('glue')),
    rng,
    style: (kind) => {
      const own = rng.fork(`style of ${kind}`);
      const drawn = own.chance(0.3) ? randomStyle(own, recs) : base;
      const known = styles.get(kind) ?? {
        ...drawn,
        presence: base.presence,
        values: own.chance(0.5) ? drawn.values : base.values,
      };
      styles.set(kind, known);
      return known;
    },
  };
  const rowWay = rng.fork('rows').pick(['named', 'attributes', 'positions', 'siblings']);
  const lineWay = rng.fork('lines').pick(['attributes', 'text', 'elements']);
  const mark = rng.fork('mark').pick(names.letterCase === 'dotted' ? ['/', ':'] : ['.', '.', '/', ':']);

  const kinds = [...model.records.keys()].filter((kind) => (model.records.get(kind) ?? []).length > 0);
  const order = rng.fork('order').chance(0.6) ? rng.fork('order').shuffle(kinds) : kinds;
  const grouped = school !== 'properties' && school !== 'rows' && rng.fork('grouped').chance(0.4);
  const root = el(names.of('root'));
  const groups = new Map<string, El>();
  for (const kind of order) {
    const list = model.records.get(kind) ?? [];
    const how =
      school === 'mixed' ? rng.fork(`school of ${kind}`).pick(['nested', 'nested', 'rows', 'called']) : school;
    const made =
      how === 'rows' && !list.some((rec) => rec.inner.length > 0)
        ? rows(kind, list, rowWay, job)
        : how === 'called'
          ? called(kind, list, job)
          : how === 'properties'
            ? properties(kind, list, lineWay, mark, job)
            : nested(kind, list, job);
    let into = root;
    if (grouped) {
      const group = names.of(rng.fork(`group of ${kind}`).pick(['g1', 'g2', 'g3']));
      into = groups.get(group) ?? el(group);
      if (!groups.has(group)) root.kids.push(into);
      groups.set(group, into);
    }
    into.kids.push(...made);
  }

  const layout = { ...randomLayout(rng.fork('layout')), declaration: '<?xml version="1.0" encoding="UTF-8"?>' };
  const xml = write(root, layout);
  const found = truthOf(root);
  found.optional.push(...model.optionalValues);
  return {
    name: `${source}-${String(seed).padStart(3, '0')}`,
    xml,
    bytes: new TextEncoder().encode(xml),
    truth: {
      ...found,
      dialect: {
        source,
        seed,
        school,
        rowWay,
        lineWay,
        mark,
        words: names.vocabulary,
        case: names.letterCase,
        ...base,
      },
    },
  };
}
