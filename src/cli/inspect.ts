import { readFileSync } from 'node:fs';
import { inspect, openBackup, readMeaning } from '../core/index.ts';
import { findingWords } from '../words/findings.ts';
import { plain } from '../words/said.ts';
import { troubleWords } from '../words/trouble.ts';

/** `npm run -s inspect -- FILE...`: one JSON object a line, in the order of the files. */
for (const file of process.argv.slice(2)) {
  console.log(JSON.stringify({ file, ...report(file) }));
}

function report(file: string) {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(file);
  } catch (error) {
    return { ok: false, error: { message: (error as Error).message, line: null, column: null } };
  }
  const backup = openBackup(bytes, file);
  if (!backup.ok) {
    const { line = null, column = null } = backup.trouble;
    return { ok: false, error: { message: plain(troubleWords(backup.trouble).sentence), line, column } };
  }
  const now = new Date().toISOString();
  const inspection = inspect(backup.value, readMeaning(backup.value.tree), { now });
  const findings = inspection.findings.map(({ code, severity, place, ...finding }) => {
    const said = findingWords({ ...finding, code, severity, place });
    return { code, severity, at: place?.path ?? null, message: plain(said.what) };
  });
  return { ok: true, ...inspection, findings };
}
