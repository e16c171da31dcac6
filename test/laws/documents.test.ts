import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readAgain } from '../../src/core/compile/second-reader.ts';
import { PatchSet } from '../../src/core/patch/patch-set.ts';
import { decode } from '../../src/core/text/decode.ts';
import { encode } from '../../src/core/text/encode.ts';
import type { Encoding } from '../../src/core/text/encodings.ts';
import { writeValue } from '../../src/core/xml/edit.ts';
import { isAllowed } from '../../src/core/xml/escape.ts';
import { nodeAt, pathOf, siteAt, sitePath } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';
import { removePatches } from '../../src/core/xml/remove.ts';
import { pieceOf, TEXT, valueAt } from '../../src/core/xml/site.ts';
import { attributesOf, isElement, isLeaf, type Tree } from '../../src/core/xml/tree.ts';
import { documents } from './documents.ts';
import { outline } from './outline.ts';
import { runs } from './seed.ts';

function treeOf(text: string): Tree {
  const read = readXml(text);
  if (!read.ok) throw new Error(`${JSON.stringify(read.trouble)}\n${text}`);
  return read.value;
}

const elements = (tree: Tree) =>
  Array.from({ length: tree.size }, (_, node) => node).filter((node) => isElement(tree, node));
const noEdits = { leftOut: new Map(), goneComments: new Set<number>(), values: new Map(), tags: new Map(), added: [] };

describe('laws of documents', () => {
  test('decode, then encode, gives the same bytes in every encoding', () => {
    const encodings: [Encoding, boolean, string][] = [
      ['utf-8', false, ''],
      ['utf-8', true, 'UTF-8'],
      ['utf-16le', true, 'UTF-16'],
      ['utf-16be', true, ''],
      ['utf-16le', false, 'UTF-16LE'],
      ['utf-16be', false, 'UTF-16BE'],
      ['iso-8859-1', false, 'ISO-8859-1'],
      ['windows-1252', false, 'windows-1252'],
      ['iso-8859-15', false, 'iso-8859-15'],
    ];
    fc.assert(
      fc.property(documents, fc.constantFrom(...encodings), (text, [encoding, bom, label]) => {
        const head = label ? `<?xml version="1.0" encoding="${label}"?>` : '';
        const bytes = encode(head + text.replace(/^<\?xml[^>]*\?>/, ''), { encoding, bom });
        fc.pre(bytes.ok);
        if (!bytes.ok) return;
        const decoded = decode(bytes.value);
        if (!decoded.ok) throw new Error(JSON.stringify(decoded.trouble));
        expect(decoded.value).toMatchObject({ encoding, bom });
        const again = encode(decoded.value.text, decoded.value);
        expect(again.ok && Buffer.compare(again.value, bytes.value)).toBe(0);
      }),
      runs(1500),
    );
  });

  test('every path leads back to its node, every site to its value', () => {
    fc.assert(
      fc.property(documents, (text) => {
        const tree = treeOf(text);
        for (const node of elements(tree)) {
          expect(nodeAt(tree, pathOf(tree, node))).toBe(node);
          const [first, end] = attributesOf(tree, node);
          for (let attr = first; attr < end; attr++)
            expect(siteAt(tree, sitePath(tree, { node, attr }))).toEqual({ node, attr });
        }
      }),
      runs(500),
    );
  });

  test('the two readers agree on every document', () => {
    fc.assert(
      fc.property(documents, (text) => {
        const tree = treeOf(text);
        expect(readAgain(tree, noEdits, text)).toEqual({ ok: true, value: elements(tree).length });
      }),
      runs(1500),
    );
  });

  test('any element out: the tree less that element, and nothing else', () => {
    fc.assert(
      fc.property(documents, fc.nat(), (text, pick) => {
        const tree = treeOf(text);
        const nodes = elements(tree).filter((node) => node !== tree.root);
        fc.pre(nodes.length > 0);
        const node = nodes[pick % nodes.length]!;
        const { patches, comments } = removePatches(tree, [{ node, owner: 'x' }]);
        const set = PatchSet.of(text, patches);
        const result = set.apply();
        expect(outline(treeOf(result))).toEqual(outline(tree, new Set([node, ...comments])));
        const edits = { ...noEdits, leftOut: new Map([[node, 'x']]), goneComments: comments };
        expect(readAgain(tree, edits, result).ok).toBe(true);
        expect(set.invert().apply(result)).toBe(text);
        if (!/[\r\n]/.test(text)) expect(result).toBe(text.slice(0, tree.start[node]) + text.slice(tree.end[node]));
      }),
      runs(2000),
    );
  });

  test('any set of elements out, in any order of asking', () => {
    fc.assert(
      fc.property(documents, fc.array(fc.nat(), { maxLength: 6 }), (text, picks) => {
        const tree = treeOf(text);
        const nodes = elements(tree).filter((node) => node !== tree.root);
        fc.pre(nodes.length > 0);
        const asked = [...new Set(picks.map((pick) => nodes[pick % nodes.length]!))].sort((a, b) => a - b);
        const outer = asked.filter((node) => !asked.some((other) => other < node && node < tree.after[other]!));
        const { patches, comments } = removePatches(
          tree,
          outer.map((node) => ({ node, owner: String(node) })),
        );
        const result = PatchSet.of(text, patches).apply();
        expect(outline(treeOf(result))).toEqual(outline(tree, new Set([...outer, ...comments])));
      }),
      runs(1500),
    );
  });

  const values = fc
    .string({ unit: 'binary', maxLength: 12 })
    .filter((text) => [...text].every((char) => isAllowed(char.codePointAt(0)!)));

  test('a value that is written is the value that is read', () => {
    fc.assert(
      fc.property(documents, fc.nat(), values, (text, pick, value) => {
        const tree = treeOf(text);
        const sites = elements(tree).flatMap((node) => {
          const [first, end] = attributesOf(tree, node);
          const own = Array.from({ length: end - first }, (_, at) => ({ node, attr: first + at }));
          return isLeaf(tree, node) ? [...own, { node, attr: TEXT }] : own;
        });
        fc.pre(sites.length > 0);
        const site = sites[pick % sites.length]!;
        const made = writeValue(tree, site, value, () => true, 'x');
        if (!made.ok) throw new Error(made.trouble.code);
        const set = PatchSet.of(text, made.value);
        const result = set.apply();
        const again = treeOf(result);
        expect(valueAt(again, siteAt(again, sitePath(tree, site))!)).toBe(value);
        expect(set.invert().apply(result)).toBe(text);
      }),
      runs(2000),
    );
  });

  test('a piece of a value is found in the source, whatever references and line ends stand before it', () => {
    fc.assert(
      fc.property(documents, fc.nat(), fc.nat(), fc.nat(), (text, pick, a, b) => {
        const tree = treeOf(text);
        const nodes = elements(tree).filter((node) => isLeaf(tree, node) && valueAt(tree, { node, attr: TEXT }) !== '');
        fc.pre(nodes.length > 0);
        const site = { node: nodes[pick % nodes.length]!, attr: TEXT };
        const value = valueAt(tree, site);
        const [from, to] = [a % (value.length + 1), b % (value.length + 1)].sort((x, y) => x - y) as [number, number];
        const piece = pieceOf(tree, site, from, to);
        fc.pre(
          piece !== null && to > from && ![value[from], value[to]].some((unit) => /[\udc00-\udfff]/.test(unit ?? '')),
        );
        const cut = PatchSet.of(text, [{ start: piece!.start, end: piece!.end, text: 'Z', owner: 'x' }]).apply();
        const again = treeOf(cut);
        expect(valueAt(again, siteAt(again, pathOf(tree, site.node))!)).toBe(
          `${value.slice(0, from)}Z${value.slice(to)}`,
        );
      }),
      runs(1500),
    );
  });
});
