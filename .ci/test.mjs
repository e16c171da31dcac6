// The whole test run: types, lint, unit and standards tests, build, browser tests. It stops at the first step that
// fails. The last line counts the tests that really ran; a step of tests that runs none has failed.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const reports = join(root, 'node_modules', '.reports');
rmSync(reports, { recursive: true, force: true });
mkdirSync(reports, { recursive: true });
const unitReport = join(reports, 'unit.json');
const browserReport = join(reports, 'browser.json');

const bin = (...path) => join(root, 'node_modules', ...path);
const steps = [
  { name: 'types', words: [join(root, '.ci', 'types.mjs')] },
  { name: 'lint', words: [bin('@biomejs', 'biome', 'bin', 'biome'), 'check', '--error-on-warnings', '.'] },
  {
    name: 'unit and standards tests',
    words: [
      bin('vitest', 'vitest.mjs'),
      'run',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${unitReport}`,
    ],
    count: () => countUnit(unitReport),
  },
  { name: 'build', words: [bin('vite', 'bin', 'vite.js'), 'build'] },
  {
    name: 'browser tests',
    words: [bin('playwright', 'cli.js'), 'test', '-c', 'e2e', '--reporter=list,json'],
    env: { PLAYWRIGHT_JSON_OUTPUT_FILE: browserReport },
    count: () => countBrowser(browserReport),
  },
];

const total = { passed: 0, failed: 0, skipped: 0 };
let stopped = null;
for (const { name, words, env, count } of steps) {
  console.log(`\n== ${name}`);
  const { status } = spawnSync(process.execPath, words, {
    cwd: root,
    env: { ...process.env, ...env },
    stdio: ['ignore', 'inherit', 'inherit'],
  });
  const counted = count?.();
  if (counted) for (const key of Object.keys(total)) total[key] += counted[key];
  if (status !== 0) stopped = `${name} failed`;
  else if (count && !(counted?.passed > 0)) stopped = `${name}: no test ran`;
  else if (counted?.failed > 0) stopped = `${name} failed`;
  if (stopped) break;
}

if (stopped) console.log(`\nStopped: ${stopped}.`);
console.log(`\n${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
process.exit(stopped ? 1 : 0);

function read(file) {
  return existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : null;
}

/** Vitest's JSON report has the shape of Jest's; a file that cannot be loaded has no tests and counts as one failed. */
function countUnit(file) {
  const report = read(file);
  if (!report) return null;
  const unloaded = report.testResults.filter(
    (suite) => suite.status === 'failed' && suite.assertionResults.length === 0,
  );
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + unloaded.length,
    skipped: report.numPendingTests + report.numTodoTests,
  };
}

function countBrowser(file) {
  const stats = read(file)?.stats;
  return stats && { passed: stats.expected + stats.flaky, failed: stats.unexpected, skipped: stats.skipped };
}
