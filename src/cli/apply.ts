import { readFileSync, writeFileSync } from 'node:fs';
import { build, correctionsOf, loadPlan, openBackup, type Result, readMeaning, type Trouble } from '../core/index.ts';
import { plain } from '../words/said.ts';
import { troubleWords } from '../words/trouble.ts';

/** `npm run -s apply -- FILE PLAN.json OUT`: writes OUT and exits 0, or writes nothing, says why in one line, exits 1. */
const [file, planFile, out] = process.argv.slice(2);
if (!file || !planFile || !out) fail('usage: apply FILE PLAN.json OUT');

const backup = must(openBackup(bytesOf(file), file));
const { plan, troubles } = must(loadPlan(new TextDecoder().decode(bytesOf(planFile))));
if (troubles[0]) fail(troubleSentence(troubles[0]));
const reading = readMeaning(backup.tree, { corrections: correctionsOf(plan) });
const built = must(build(backup, reading, plan));
for (const trouble of built.compiled.troubles) console.error(troubleSentence(trouble));
if (plan.file && plan.file.hash !== backup.hash) {
  console.error(troubleSentence({ code: 'plan-other-file', params: { name: plan.file.name } }));
}
try {
  writeFileSync(out, built.bytes);
} catch (error) {
  fail((error as Error).message);
}

function troubleSentence(trouble: Trouble): string {
  return plain(troubleWords(trouble).sentence);
}

function bytesOf(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    return fail((error as Error).message);
  }
}

function must<T>(result: Result<T>): T {
  return result.ok ? result.value : fail(troubleSentence(result.trouble));
}

function fail(words: string): never {
  console.error(words.replaceAll('\n', ' '));
  process.exit(1);
}
