import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));

/** A project of its own with the real scripts, so that nothing here touches this one's packages. */
let project: string;
beforeEach(() => {
  project = mkdtempSync(join(tmpdir(), 'carryover-scripts-'));
  cpSync(join(root, '.ci'), join(project, '.ci'), { recursive: true });
});
afterEach(() => rmSync(project, { recursive: true, force: true }));

const at = (...path: string[]) => join(project, ...path);

function write(path: string, text: string) {
  mkdirSync(dirname(at(path)), { recursive: true });
  writeFileSync(at(path), text);
}

function run(script: string, env: Record<string, string> = {}) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [at('.ci', script)], {
    encoding: 'utf8',
    // A registry where nobody answers: the machine without a network.
    env: { ...process.env, npm_config_registry: 'http://127.0.0.1:9/', npm_config_fetch_retries: '0', ...env },
  });
  return { status, stdout, stderr };
}

describe('the packages', () => {
  const none = {
    name: 'p',
    version: '1.0.0',
    lockfileVersion: 3,
    requires: true,
    packages: { '': { name: 'p', version: '1.0.0' } },
  };
  const one = {
    ...none,
    packages: {
      '': { name: 'p', version: '1.0.0', dependencies: { absent: '1.0.0' } },
      'node_modules/absent': { version: '1.0.0', integrity: `sha512-${'A'.repeat(86)}==` },
    },
  };
  type Lock = typeof none | typeof one;

  function lock(wanted: Lock) {
    write('package.json', JSON.stringify(wanted.packages['']));
    write('package-lock.json', JSON.stringify(wanted));
    write('.npmrc', 'audit=false\n');
  }
  const stamp = () => readFileSync(at('node_modules', '.lock-stamp'), 'utf8');
  const hash = () =>
    createHash('sha256')
      .update(readFileSync(at('package-lock.json')))
      .digest('hex');
  const leftovers = () => readdirSync(project).filter((name) => name.startsWith('.install'));

  it('are installed where there are none, with nothing on standard output', () => {
    lock(none);
    expect(run('ensure.mjs')).toMatchObject({ status: 0, stdout: '' });
    expect(stamp()).toBe(hash());
    expect(leftovers()).toEqual([]);
  });

  it('are left alone, in silence, where they are the ones that the lock file names', () => {
    lock(one);
    write('node_modules/.lock-stamp', hash());
    expect(run('ensure.mjs')).toEqual({ status: 0, stdout: '', stderr: '' });
  });

  it('are left alone where npm itself has put them there', () => {
    lock(one);
    write('node_modules/.package-lock.json', JSON.stringify({ ...one, packages: { ...one.packages, '': undefined } }));
    expect(run('ensure.mjs')).toEqual({ status: 0, stdout: '', stderr: '' });
    expect(stamp()).toBe(hash());
  });

  it('stay when others are wanted and there is no network; the page may start on them, the tests may not', () => {
    lock(one);
    write('node_modules/kept/index.js', 'kept');
    write('node_modules/.lock-stamp', 'of an older lock file');
    expect(run('ensure.mjs').status).toBe(0);
    const script = at('.ci', 'ensure.mjs');
    const strict = spawnSync(process.execPath, [script, '--browser'], {
      env: { ...process.env, npm_config_registry: 'http://127.0.0.1:9/', npm_config_fetch_retries: '0' },
    });
    expect(strict.status).toBe(1);
    expect(readFileSync(at('node_modules', 'kept', 'index.js'), 'utf8')).toBe('kept');
    expect(stamp()).toBe('of an older lock file');
    expect(leftovers()).toEqual([]);
  });

  it('are an error where there are none and no network', () => {
    lock(one);
    expect(run('ensure.mjs')).toMatchObject({ status: 1, stdout: '' });
    expect(existsSync(at('node_modules'))).toBe(false);
  });

  it('come back after an install that was killed between its two renames', () => {
    lock(one);
    const dead = spawnSync(process.execPath, ['--version']).pid;
    write(`.install-${dead}/old/.lock-stamp`, hash());
    expect(run('ensure.mjs')).toEqual({ status: 0, stdout: '', stderr: '' });
    expect(stamp()).toBe(hash());
    expect(leftovers()).toEqual([]);
  });
});

describe('the test run', () => {
  /** Stands in for a tool: writes the report that it is given, and ends with the status that it is given. */
  const tool = (name: string) => `
    const { STATUS = '{}', REPORT = '{}', PLAYWRIGHT_JSON_OUTPUT_FILE: file } = process.env;
    const report = JSON.parse(REPORT)['${name}'];
    const out = process.argv.find((word) => word.startsWith('--outputFile.json='))?.slice(18) ?? file;
    if (report) require('node:fs').writeFileSync(out, JSON.stringify(report));
    console.log('ran ${name}');
    process.exit(JSON.parse(STATUS)['${name}'] ?? 0);`;
  const bins = {
    types: 'typescript/bin/tsc',
    lint: '@biomejs/biome/bin/biome',
    unit: 'vitest/vitest.mjs',
    build: 'vite/bin/vite.js',
    browser: 'playwright/cli.js',
  };
  const unit = { numPassedTests: 40, numFailedTests: 0, numPendingTests: 2, numTodoTests: 1, testResults: [] };
  const browser = { stats: { expected: 5, unexpected: 0, flaky: 0, skipped: 1 } };

  function testRun(report: object, status: object = {}) {
    for (const [name, path] of Object.entries(bins)) {
      const text = tool(name);
      write(
        `node_modules/${path}`,
        path.endsWith('.mjs')
          ? `import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);${text}`
          : text,
      );
    }
    const { status: code, stdout } = run('test.mjs', {
      REPORT: JSON.stringify(report),
      STATUS: JSON.stringify(status),
    });
    return { code, last: stdout.trimEnd().split('\n').at(-1), stdout };
  }

  it('adds up what both runners ran', () => {
    expect(testRun({ unit, browser })).toMatchObject({ code: 0, last: '45 passed, 0 failed, 4 skipped' });
  });

  it.each(['types', 'lint', 'unit', 'build', 'browser'])('stops where %s fails', (name) => {
    const { code, stdout } = testRun({ unit, browser }, { [name]: 1 });
    expect(code).toBe(1);
    const after = Object.keys(bins).slice(Object.keys(bins).indexOf(name) + 1);
    expect(after.filter((other) => stdout.includes(`ran ${other}`))).toEqual([]);
  });

  it('fails where a runner ran no test, though it says all is well', () => {
    const empty = { ...unit, numPassedTests: 0 };
    expect(testRun({ unit: empty, browser })).toMatchObject({ code: 1, last: '0 passed, 0 failed, 3 skipped' });
    expect(testRun({ unit })).toMatchObject({ code: 1, last: '40 passed, 0 failed, 3 skipped' });
  });

  it('fails where a report holds a failure, whatever the runner says', () => {
    const report = { stats: { ...browser.stats, unexpected: 1 } };
    expect(testRun({ unit, browser: report })).toMatchObject({ code: 1, last: '45 passed, 1 failed, 4 skipped' });
  });

  it('counts a test file that could not be loaded as failed', () => {
    const report = { ...unit, testResults: [{ status: 'failed', assertionResults: [] }] };
    expect(testRun({ unit: report, browser }, { unit: 1 }).last).toBe('40 passed, 1 failed, 3 skipped');
  });
});
