import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type KnownReading, readKnown } from '../../src/core/reading/known/index.ts';
import { decode } from '../../src/core/text/decode.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';
import type { Tree } from '../../src/core/xml/tree.ts';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** Modules and printed examples of the RFCs: other people's text, so they are read beside the project, never kept in it. */
export const STANDARDS = here('../../../shared/standards');
export const hasStandards = existsSync(join(STANDARDS, 'modules.txt'));

export const SITE = here('../fixtures/site');
export const fixture = (name: string) => readFileSync(join(SITE, name), 'utf8');

export const hasYanglint = spawnSync('yanglint', ['--version']).status === 0;
export const hasPython = spawnSync('python3', ['-c', 'str.removesuffix']).status === 0;

export function treeOf(text: string): Tree {
  const decoded = decode(new TextEncoder().encode(text));
  if (!decoded.ok) throw new Error(decoded.trouble.code);
  const read = readXml(decoded.value.text);
  if (!read.ok) throw new Error(read.trouble.code);
  return read.value;
}

export function knownOf(text: string): { tree: Tree; known: KnownReading } {
  const tree = treeOf(text);
  const known = readKnown(tree);
  if (!known) throw new Error('nothing known in it');
  return { tree, known };
}

/** Paths of what dangles, each once. */
export function danglingOf(text: string): string[] {
  const { tree, known } = knownOf(text);
  return [...new Set(known.dangling.map(({ site }) => sitePath(tree, site)))].sort();
}

/** `leaf value` of every leafref instance, found or dangling, with the path of its schema node. */
export function leafrefsOf(text: string): { found: string[]; dangling: string[] } {
  const { tree, known } = knownOf(text);
  const isLeafref = (field: number) => known.fields[field]!.evidence[0]!.endsWith('leafref');
  const row = ({ site, value }: (typeof known.dangling)[number] | (typeof known.references)[number]) =>
    `${localPath(tree, site.node)} ${value}`;
  return {
    found: known.references
      .filter(({ field }) => isLeafref(field))
      .map(row)
      .sort(),
    dangling: known.dangling
      .filter(({ field }) => isLeafref(field))
      .map(row)
      .sort(),
  };
}

const wrappers = ['config', 'data', 'rpc-reply'];

/** `/interfaces/interface/name`: local names, wrappers and indices left out. */
export function localPath(tree: Tree, node: number): string {
  const names = pathOf(tree, node)
    .split('/')
    .slice(1)
    .map((step) => step.replace(/\[\d+\]$/, '').replace(/^.*:/, ''));
  while (wrappers.includes(names[0]!)) names.shift();
  return `/${names.join('/')}`;
}

/** The text with the value of one leaf replaced. */
export function withValue(tree: Tree, leaf: number, value: string): string {
  return tree.text.slice(0, tree.openEnd[leaf]!) + value + tree.text.slice(tree.closeStart[leaf]!);
}

/** What yanglint says about a configuration; empty where it is content. */
export function yanglint(text: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'carryover-yanglint-'));
  try {
    const bare = join(folder, 'bare.xml');
    // yanglint reads a bare data tree: the wrapper becomes blanks, so that line numbers stay.
    writeFileSync(
      bare,
      text.replace(/<config [^>]*>|<\/config>/g, (tag) => tag.replace(/[^\n]/g, ' ')),
    );
    const modules = readFileSync(join(STANDARDS, 'modules.txt'), 'utf8')
      .split('\n')
      .filter((line) => /^[\w-]/.test(line));
    const ran = spawnSync('yanglint', ['-p', '.', '-t', 'config', ...modules, bare], {
      cwd: join(STANDARDS, 'yang'),
      encoding: 'utf8',
    });
    return ran.status === 0 ? '' : ran.stdout + ran.stderr;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
