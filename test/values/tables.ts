import { readFileSync } from 'node:fs';

const folder = new URL('../fixtures/tables/', import.meta.url);

/** Rows of a table of test/fixtures/tables by column name. Each row, or the head of its file, names its source. */
export function rowsOf(name: string): readonly Record<string, string>[] {
  const lines = readFileSync(new URL(name, folder), 'utf8')
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'));
  const [head, ...rows] = lines.map(cells);
  return rows.map((row) => Object.fromEntries(head.map((column, at) => [column, row[at]])));
}

/** Quoted cells as RFC 4180 has them. */
function cells(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(
    ([, quoted, bare]) => quoted?.replaceAll('""', '"') ?? bare,
  );
}

export const ranges = JSON.parse(readFileSync(new URL('ranges.json', folder), 'utf8'));
