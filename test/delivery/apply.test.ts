import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { emptyPlan, type Plan, planOf, savePlan, sealed, withPart } from '../../src/core/index.ts';
import { open } from '../carry/files.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

let dir: string;
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), 'carryover-apply-'));
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

const at = (name: string) => join(dir, name);

/** Runs the script on texts; the result is null where it wrote nothing. */
function apply(text: string, plan: string, into?: string) {
  writeFileSync(at('old.xml'), text);
  writeFileSync(at('plan.json'), plan);
  if (into !== undefined) writeFileSync(at('new.xml'), into);
  rmSync(at('out.xml'), { force: true });
  const files = [at('old.xml'), at('plan.json'), at('out.xml'), ...(into === undefined ? [] : [at('new.xml')])];
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['--import', 'tsx', join(root, 'src/cli/apply.ts'), ...files],
    { cwd: root, encoding: 'utf8' },
  );
  return {
    status,
    stdout,
    said: stderr.trim().split('\n').filter(Boolean),
    made: existsSync(at('out.xml')) ? readFileSync(at('out.xml'), 'utf8') : null,
  };
}

const user = (name: string, mail: string) =>
  `    <user><name>${name}</name><mail>${mail}@kestrelquay.example</mail></user>\n`;
const group = (name: string, member: string) => `    <group><title>${name}</title><member>${member}</member></group>\n`;
const box = (users: readonly string[], groups: readonly string[]) =>
  `<box>\n  <users>\n${users.join('')}  </users>\n  <groups>\n${groups.join('')}  </groups>\n</box>\n`;
const users = [user('gull', 'a'), user('tern', 'b'), user('skua', 'c'), user('plover', 'd')];
const groups = [group('desk', 'tern'), group('dock', 'skua'), group('pier', 'gull')];

/** The plan as the page saves it, with what tells its file. */
const savedOn = (text: string, plan: Plan) => {
  const { backup, reading } = open(text);
  return savePlan(sealed(plan, { tree: backup.tree, hash: backup.hash, name: 'old.xml' }, reading));
};

describe('a plan without a word about its file', () => {
  test('is applied to the places that it writes', () => {
    const { status, said, made } = apply(box(users, groups), '{"plan": 1, "leaveOut": ["/box[1]/users[1]/user[4]"]}');
    expect([status, said, made]).toEqual([0, [], box(users.slice(0, 3), groups)]);
  });

  test('one that cannot be applied writes nothing, and one line says why', () => {
    const { status, said, stdout, made } = apply(box(users, groups), '{"plan": 1, "leaveOut": ["/box[1]/users[9]"]}');
    expect([status, said.length, stdout, made]).toEqual([1, 1, '', null]);
  });
});

describe('a plan that was saved with last month’s backup', () => {
  const plan = planOf([
    { kind: 'leave-out', path: '/box[1]/users[1]/user[4]' },
    { kind: 'leave-out', path: '/box[1]/users[1]/user[1]' },
  ]);
  const saved = savedOn(box(users, groups), { ...emptyPlan, ...plan });

  test('follows its records to where they stand now, and says what is gone', () => {
    // The first user is gone and another came before the rest.
    const now = [user('fulmar', 'e'), ...users.slice(1)];
    const { status, said, made } = apply(box(now, groups), saved);
    expect(status).toBe(0);
    expect(made).toBe(box([user('fulmar', 'e'), users[1]!, users[2]!], groups));
    expect(said.some((line) => line.includes('Not applied'))).toBe(true);
  });
});

describe('a plan of a part', () => {
  test('makes a file of what is ticked alone', () => {
    const part = withPart(emptyPlan, { result: 'ticked', ticks: [{ kind: 'keep', path: '/box[1]/users[1]' }] });
    const { status, made } = apply(box(users, groups), savePlan(part));
    expect([status, made]).toEqual([0, box(users, groups).replace(/ {2}<groups>[\s\S]*<\/groups>\n/, '')]);
  });

  const graft = savePlan(
    withPart(emptyPlan, { result: 'graft', ticks: [{ kind: 'keep', path: '/box[1]/users[1]/user[2]' }] }),
  );

  test('a graft goes into the backup that is named last', () => {
    const { status, made } = apply(box(users, groups), graft, box([users[0]!, users[3]!], groups));
    expect([status, made]).toEqual([0, box([users[0]!, users[1]!, users[3]!], groups)]);
  });

  test('and without one it writes nothing', () => {
    const { status, said, made } = apply(box(users, groups), graft);
    expect([status, said.length, made]).toEqual([1, 1, null]);
  });

  test('a plan that makes no graft does not touch another backup', () => {
    const { status, said, made } = apply(box(users, groups), '{"plan": 1}', box(users, groups));
    expect([status, said.length, made]).toEqual([1, 1, null]);
  });
});
