import type { AccountRow } from '../core/index.ts';
import { standingWords } from './carry.ts';
import { pathWords } from './decisions.ts';

const states: Record<AccountRow['state'], string> = {
  carried: 'carried as it was',
  changed: 'carried with changes',
  'left-out': 'left out',
  'not-chosen': 'left out: not ticked',
  'receiver-keeps': 'left out: the new box keeps its own',
  kept: 'kept as it was',
  replaced: 'replaced, in whole or in part',
  removed: 'removed',
};

/** A field as RFC 4180 writes it; a leading mark that a spreadsheet would take for a formula gets an apostrophe. */
function field(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/**
 * The account as a table for spreadsheets (RFC 4180, UTF-8 with a byte-order mark): a line for each record.
 * @param because a decision, by its subject, in words.
 */
export function accountTable(rows: readonly AccountRow[], because: (subject: string) => string): string {
  const lines = rows.map(({ file, line, section, name, path, state, by, standing }) =>
    [
      file,
      String(line),
      section,
      name,
      pathWords(path) || path,
      standing ? `${states[state]}, ${standingWords(standing)}` : states[state],
      by.map(because).join('; '),
    ]
      .map(field)
      .join(','),
  );
  return `\ufeff${['File,Line,Section,Record,Place,What becomes of it,Because', ...lines].join('\r\n')}\r\n`;
}
