// Keeps node_modules at what package-lock.json names. Node's own modules only, as it runs before anything is installed.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { say } from './say.mjs';

const MINUTE = 60_000;

/**
 * Installs the packages where those on disk are not the ones that the lock file names.
 * The new set is built beside the old one and swapped in only when it is whole: without a network the old one stays.
 * @param {string} root the project's folder
 * @returns {'current' | 'installed' | 'stale' | 'missing'} `stale`: an older set stayed; `missing`: there is none
 */
export function ensurePackages(root) {
  tidy(root);
  const modules = join(root, 'node_modules');
  const stamp = join(modules, '.lock-stamp');
  const lock = readFileSync(join(root, 'package-lock.json'), 'utf8');
  const wanted = createHash('sha256').update(lock).digest('hex');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) return 'current';
  if (npmRecordAgrees(modules, JSON.parse(lock))) {
    writeFileSync(stamp, wanted);
    return 'current';
  }

  say('Installing packages.');
  const fresh = join(root, `.install-${process.pid}`);
  mkdirSync(fresh);
  try {
    for (const file of ['package.json', 'package-lock.json', '.npmrc']) cpSync(join(root, file), join(fresh, file));
    if (!npmCi(fresh)) {
      if (!existsSync(modules)) return 'missing';
      say(
        'The packages could not be installed. Those already here stay, and may be older than package-lock.json says.',
      );
      return 'stale';
    }
    mkdirSync(join(fresh, 'node_modules'), { recursive: true });
    writeFileSync(join(fresh, 'node_modules', '.lock-stamp'), wanted);
    if (existsSync(modules)) renameSync(modules, join(fresh, 'old'));
    renameSync(join(fresh, 'node_modules'), modules);
    return 'installed';
  } finally {
    rmSync(fresh, { recursive: true, force: true });
  }
}

/** Whether npm's own record of node_modules names the packages of the lock file, as it does after `npm install`. */
function npmRecordAgrees(modules, lock) {
  const record = join(modules, '.package-lock.json');
  if (!existsSync(record)) return false;
  const present = JSON.parse(readFileSync(record, 'utf8')).packages;
  const named = Object.entries(lock.packages).filter(([path]) => path !== '');
  return (
    named.every(([path, { version, integrity, optional }]) => {
      const here = present[path];
      return here ? here.version === version && here.integrity === integrity : optional === true;
    }) && Object.keys(present).every((path) => path in lock.packages)
  );
}

/** Runs `npm ci` in a folder; its output goes to standard error, so that scripts can own standard output. */
function npmCi(folder) {
  // What npm tells its scripts about the run that started them would mislead the one started here.
  const env = Object.fromEntries(
    Object.entries(process.env).filter(([key]) => !/^npm_(package|lifecycle|config_local_prefix)/.test(key)),
  );
  const cli = process.env.npm_execpath;
  const [command, first] = cli?.endsWith('.js') ? [process.execPath, [cli]] : ['npm', []];
  const { status } = spawnSync(command, [...first, 'ci', '--include=dev', '--include=optional'], {
    cwd: folder,
    env,
    stdio: ['ignore', 2, 2],
    timeout: 10 * MINUTE,
    shell: command === 'npm' && process.platform === 'win32',
  });
  return status === 0;
}

/** Clears what a killed install left, and puts the old packages back if it was killed between the two renames. */
function tidy(root) {
  for (const name of readdirSync(root)) {
    const pid = Number(/^\.install-(\d+)$/.exec(name)?.[1]);
    if (!pid || runs(pid)) continue;
    const old = join(root, name, 'old');
    if (existsSync(old) && !existsSync(join(root, 'node_modules'))) renameSync(old, join(root, 'node_modules'));
    rmSync(join(root, name), { recursive: true, force: true });
  }
}

function runs(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}
