// Finds a Chromium for the browser tests and the bench, or installs one.
import { spawnSync } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { say } from './say.mjs';

const MINUTE = 60_000;
const SYSTEM = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/**
 * Finds or installs a Chromium and writes its path to node_modules/.chromium-path.
 * @param {string} root the project's folder; its packages must be installed
 * @returns {string | null} the path, or null where none could be had; why is said on standard error
 */
export function ensureChromium(root) {
  const asked = process.env.CHROMIUM_PATH;
  if (asked && !existsSync(asked)) {
    say(`CHROMIUM_PATH says ${asked}, and there is no such file.`);
    return null;
  }
  const path = asked || find(root) || install(root);
  if (path) writeFileSync(join(root, 'node_modules', '.chromium-path'), path);
  else say('There is no Chromium here and none could be installed. Install one and set CHROMIUM_PATH to its path.');
  return path;
}

function find(root) {
  const { chromium } = createRequire(join(root, 'package.json'))('playwright');
  return [...SYSTEM, chromium.executablePath()].find((path) => existsSync(path)) ?? null;
}

function install(root) {
  const playwright = join(root, 'node_modules', 'playwright', 'cli.js');
  say("Installing Playwright's Chromium.");
  if (run(process.execPath, [playwright, 'install', 'chromium'], 3)) return find(root);
  if (process.platform !== 'linux' || !existsSync('/usr/bin/apt-get')) return null;
  const sudo = process.getuid() === 0 ? [] : ['sudo', '-n'];
  say("Installing Debian's Chromium.");
  const apt = (...words) => run(...first([...sudo, 'env', 'DEBIAN_FRONTEND=noninteractive', 'apt-get', ...words]), 10);
  if (apt('update') && apt('install', '-y', '--no-install-recommends', 'chromium')) return find(root);
  return null;
}

const first = ([command, ...words]) => [command, words];

/** Whether a command ends well within so many minutes; its output goes to standard error. */
function run(command, words, minutes) {
  return spawnSync(command, words, { stdio: ['ignore', 2, 2], timeout: minutes * MINUTE }).status === 0;
}
