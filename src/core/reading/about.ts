import { parseBoolean } from '../values/booleans.ts';
import { looksSerialNumber } from '../values/machine-part.ts';
import { plain, wordsOf } from '../values/name-words.ts';
import { isDomainName, isHostLabel, isHostName } from '../values/names.ts';
import { isDate, isEpoch, toIso } from '../values/time.ts';
import { attributeValue, textOf } from '../xml/site.ts';
import { attributesOf, isElement, isLeaf, type Tree } from '../xml/tree.ts';
import { SiteSet } from './fields/site-set.ts';
import type { Strand } from './fields/strands.ts';
import type { About, Reference } from './reading.ts';

const hostWords = new RegExp(
  plain(
    '^(?:host|hostname|systemname|devicename|boxname|nodename|unitname|rechner|rechnername|hosuto|uzel|equipo|nombredeequipo|имяузла|узел|主机名|ホスト|ホスト名|κομβος)$',
  ),
);
const versionWords = new RegExp(
  plain(
    '^(?:v|version|schemaversion|configversion|fileversion|formatversion|release|firmware|revision|fassung|версия|版本|バージョン)$',
  ),
);
const savedWords = new Set(
  plain(
    'saved change changed modified updated revision exported backup generated created gespeichert aenderung anderung guardado cambio modifie izmenenie изменение сохранено 保存 更新',
  ).split(' '),
);
const byWords = new RegExp(
  plain(
    '^(?:by|author|user|who|operator|account|login|autor|verfasser|wer|vonwem|usuario|porquien|кем|автор|操作人|担当|ποιοσ)$',
  ),
);
const version = /^v?\d{1,4}(?:[.\-_]\w{1,10}){0,4}$/;
const timeZone = /^[A-Z][A-Za-z]+\/[A-Z][A-Za-z_]+(?:\/[A-Z][A-Za-z_]+)?$/;

/**
 * What the backup says about itself: the box's name, the version mark of the format, when it was saved and by whom. Each
 * null where nothing in the file says it plainly; never a guess among several.
 * @param references values that name a record: an account that is named beside a time has saved the file.
 */
export function readAbout(tree: Tree, strands: readonly Strand[], references: readonly Reference[]): About {
  const lone = strands.filter(({ places }) => places.length === 1).map(oneOf);
  const named = new SiteSet(references);
  const saved = savedIn(lone);
  return {
    host: hostIn(lone, named),
    version: versionIn(tree, lone),
    savedAt: saved && (toIso(saved.value) ?? saved.value),
    savedBy: saved && savedByIn(tree, lone, saved, references),
  };
}

interface Lone {
  readonly strand: Strand;
  readonly value: string;
  readonly node: number;
  readonly attr: number;
  readonly joined: string;
}

function oneOf(strand: Strand): Lone {
  const place = strand.places[0]!;
  const { values, nodes, attrs } = strand.field;
  return {
    strand,
    value: values[place]!,
    node: nodes[place]!,
    attr: attrs[place]!,
    joined: wordsOf(strand.name).join(''),
  };
}

/** By name; else the lone host name in the record that has the box's domain or time zone. */
function hostIn(lone: readonly Lone[], references: SiteSet): string | null {
  const isHost = ({ value, node, attr }: Lone) =>
    isHostName(value) && !/^[\d.]+$/.test(value) && !references.has(node, attr);
  const named = lone.filter((one) => hostWords.test(one.joined) && isHost(one));
  const homes = new Set(lone.filter(({ value }) => timeZone.test(value)).map(({ strand }) => strand.company));
  const atHome = named.filter(({ strand }) => homes.has(strand.company));
  if (atHome.length > 0 || named.length === 1) return (atHome[0] ?? named[0])!.value;
  const beside = lone.filter(
    (one) => homes.has(one.strand.company) && isHost(one) && isHostLabel(one.value) && /[a-z]/i.test(one.value),
  );
  const words = beside.filter(
    ({ value }) => !isDomainName(value) && !timeZone.test(value) && !looksSerialNumber(value),
  );
  const zone = lone.find(({ value }) => timeZone.test(value));
  if (!zone || words.length === 0 || homes.size > 1) return null;
  return words.reduce((best, one) => (Math.abs(one.node - zone.node) < Math.abs(best.node - zone.node) ? one : best))
    .value;
}

function versionIn(tree: Tree, lone: readonly Lone[]): string | null {
  const [from, to] = attributesOf(tree, tree.root);
  for (let attr = from; attr < to; attr++) {
    const name = tree.names[tree.attrName[attr]!]!;
    const value = attributeValue(tree, attr).trim();
    if (
      !name.startsWith('xmlns') &&
      (versionWords.test(wordsOf(name).join('')) || (to - from === 1 && !isDate(value))) &&
      version.test(value)
    )
      return value;
  }
  const named = lone.filter(
    ({ joined, value, strand }) => versionWords.test(joined) && version.test(value) && strand.field.steps.length <= 4,
  );
  return named.length === 1 ? named[0]!.value : null;
}

/** The lone time; among several the one whose name or record speaks of saving. */
function savedIn(lone: readonly Lone[]): Lone | null {
  const times = lone.filter(({ value }) => isEpoch(value) || isDate(value));
  const speaking = times.filter(({ strand }) =>
    [...strand.field.steps.slice(-3), strand.name].some((step) => wordsOf(step).some((word) => savedWords.has(word))),
  );
  if (speaking.length === 1) return speaking[0]!;
  return speaking.length === 0 && times.length === 1 ? times[0]! : null;
}

function savedByIn(tree: Tree, lone: readonly Lone[], saved: Lone, references: readonly Reference[]): string | null {
  const beside = lone.filter(({ strand }) => strand !== saved.strand && strand.company === saved.strand.company);
  const record = ({ node, attr }: Lone) =>
    references.find(({ site }) => site.node === node && site.attr === attr)?.to ?? -1;
  const by = beside.find(({ joined }) => byWords.test(joined)) ?? beside.find((one) => record(one) !== -1);
  if (by && !isWord(by.value)) return record(by) === -1 ? by.value : (wordIn(tree, record(by)) ?? by.value);
  return (by ?? beside.find(({ value }) => isWord(value)))?.value ?? null;
}

const isWord = (value: string) => /^\p{L}[\p{L}\d._@-]{1,40}$/u.test(value) && !/^[0-9a-f-]{12,}$/i.test(value);

/** The first value of a record that could be what people call it. */
function wordIn(tree: Tree, record: number): string | null {
  for (let node = record; node < tree.after[record]!; node++) {
    for (let attr = tree.attrFirst[node]!; attr < tree.attrFirst[node + 1]!; attr++) {
      const value = attributeValue(tree, attr).trim();
      if (isWord(value) && parseBoolean(value) === null) return value;
    }
    const text = isElement(tree, node) && isLeaf(tree, node) ? textOf(tree, node).trim() : '';
    if (isWord(text) && parseBoolean(text) === null) return text;
  }
  return null;
}
