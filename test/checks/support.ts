import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Circumstances } from '../../src/core/desk/plan/plan-view.ts';
import {
  type Backup,
  emptyPlan,
  openBackup,
  type Plan,
  planView,
  type Reading,
  readMeaning,
} from '../../src/core/index.ts';
import type { Finding } from '../../src/core/views.ts';
import { findingWords } from '../../src/words/findings.ts';
import { plain } from '../../src/words/said.ts';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));
export const fixtures = here('../fixtures/');
export const examples = here('../../public/examples/');

export interface Opened {
  readonly backup: Backup;
  readonly reading: Reading;
}

export function opened(source: string | Uint8Array): Opened {
  const bytes = typeof source === 'string' ? new TextEncoder().encode(source) : source;
  const backup = openBackup(bytes, 'box.xml');
  if (!backup.ok) throw new Error(JSON.stringify(backup.trouble));
  return { backup: backup.value, reading: readMeaning(backup.value.tree) };
}

export const openedFile = (path: string): Opened => opened(readFileSync(path));

export function findingsOf(
  { backup, reading }: Opened,
  circumstances: Circumstances = {},
  plan: Plan = emptyPlan,
): readonly Finding[] {
  return planView(backup, reading, plan, circumstances).findings;
}

/** `code line` of each finding of the named families, in order. */
export function said(findings: readonly Finding[], codes: RegExp): string[] {
  return findings
    .filter(({ code }) => codes.test(code))
    .map((finding) => `${finding.code} ${finding.place?.line ?? 0}`);
}

export const sentence = (finding: Finding): string => plain(findingWords(finding).what);
