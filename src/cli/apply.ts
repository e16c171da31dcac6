import { readFileSync, writeFileSync } from 'node:fs';
import {
  build,
  builtGraft,
  correctionsOf,
  effective,
  fit,
  loadPlan,
  openBackup,
  type Plan,
  type Result,
  readMeaning,
  resultOf,
  type Trouble,
} from '../core/index.ts';
import { fitWords } from '../words/carry.ts';
import { decisionName } from '../words/decisions.ts';
import { plain } from '../words/said.ts';
import { troubleWords } from '../words/trouble.ts';

/**
 * `npm run -s apply -- FILE PLAN.json OUT [INTO]`: writes OUT and exits 0, or writes nothing, says why in one line, exits
 * 1. INTO is the backup that a plan of a graft puts things into. A plan that was saved with another backup is fitted to
 * this one as the page does it, and what no longer fits is said on standard error.
 */
const [file, planFile, out, into] = process.argv.slice(2);
if (!file || !planFile || !out) fail('usage: apply FILE PLAN.json OUT [INTO]');

const backup = must(openBackup(bytesOf(file), file));
const { plan: saved, troubles } = must(loadPlan(new TextDecoder().decode(bytesOf(planFile))));
if (troubles[0]) fail(troubleSentence(troubles[0]));
const reading = readMeaning(backup.tree, { corrections: correctionsOf(saved) });
const plan = fitted(saved);
const bytes = resultOf(plan) === 'graft' ? grafted() : whole();
if (saved.file && saved.file.hash !== backup.hash) {
  console.error(troubleSentence({ code: 'plan-other-file', params: { name: saved.file.name } }));
}
try {
  writeFileSync(out, bytes);
} catch (error) {
  fail((error as Error).message);
}

/** A plan without an outline says nothing of its file, so its places are taken as they are written. */
function fitted(given: Plan): Plan {
  if (!given.outline || given.file?.hash === backup.hash) return given;
  const met = fit(given, { tree: backup.tree, hash: backup.hash }, reading);
  for (const { decision, reason } of met.gone)
    console.error(`${decisionName(decision)}: ${fitWords[reason]}. Not applied.`);
  for (const { decision, reason } of met.check)
    console.error(`${decisionName(decision)}: ${fitWords[reason]}. Look at it.`);
  return met.plan;
}

function whole(): Uint8Array {
  if (into) fail('This plan makes no graft, so there is nothing to put into another backup.');
  const built = must(build(backup, reading, effective(backup.tree, reading, plan)));
  for (const trouble of built.compiled.troubles) console.error(troubleSentence(trouble));
  return built.bytes;
}

function grafted(): Uint8Array {
  if (!into) fail(troubleSentence({ code: 'graft-no-receiver' }));
  const other = must(openBackup(bytesOf(into), into));
  const receiver = { backup: other, reading: readMeaning(other.tree) };
  return must(builtGraft({ backup, reading }, plan, receiver)).bytes;
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
