import { describe, expect, test } from 'vitest';
import { CarryView } from '../../src/core/desk/carry/carry-view.ts';
import { accountRows, buildGraft, type Decision, emptyPlan, planOf, planView } from '../../src/core/index.ts';
import { valueAt } from '../../src/core/xml/site.ts';
import { accountTable } from '../../src/words/account.ts';
import { corpus, corpusBytes, opened } from '../corpus/files.ts';

/** A table as RFC 4180 has it, section 2: read by rules of its own. */
function parsed(table: string): string[][] {
  expect(table.startsWith('\ufeff')).toBe(true);
  const rows: string[][] = [[]];
  const fields = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/gy;
  fields.lastIndex = 1;
  for (let match = fields.exec(table); match; match = fields.exec(table)) {
    rows.at(-1)!.push(match[1]?.replaceAll('""', '"') ?? match[2]!);
    if (match[3] === '\r\n') rows.push([]);
    if (fields.lastIndex === table.length) break;
  }
  expect(rows.pop()).toEqual([]);
  return rows;
}

describe('the account as a table', () => {
  test.each(corpus.slice(0, 6))('%s: every record once, in sums that are those of the ledger', (name) => {
    const { backup, reading } = opened(corpusBytes(name));
    const section = planView(backup, reading, emptyPlan).sections.find(({ carried }) => carried > 2)!;
    const decisions: Decision[] = [
      { kind: 'leave-out', path: section.path },
      { kind: 'rename-port', from: reading.ports[0]!.name, to: 'ix7' },
    ];
    const plan = planOf(decisions);
    const { ledger } = planView(backup, reading, plan);
    const rows = accountRows(new CarryView(backup, reading, plan), null);
    const count = (state: string) => rows.filter((row) => row.state === state).length;
    expect([rows.length, count('carried'), count('changed'), count('left-out')]).toEqual([
      ledger.records,
      ledger.carried,
      ledger.changed,
      ledger.leftOut,
    ]);
    expect(new Set(rows.map(({ path }) => path)).size).toBe(rows.length);
    const told = new Map(ledger.entries.map(({ path, state, decisions: by }) => [path, [state, by]]));
    for (const { path, state, by } of rows) if (state !== 'carried') expect([state, by]).toEqual(told.get(path));

    const table = accountTable(rows, (subject) => subject);
    const [head, ...lines] = parsed(table);
    expect(head).toHaveLength(7);
    expect(lines.map((line) => line.length)).toEqual(rows.map(() => 7));
    expect(lines.map(([, line]) => Number(line))).toEqual(rows.map(({ line }) => line));
    for (const { site } of reading.secrets) {
      const secret = valueAt(backup.tree, site).trim();
      if (secret.length >= 8) expect(table).not.toContain(secret);
    }
  });

  test('of a graft it holds the records of both files', () => {
    const donor = opened(corpusBytes(corpus[0]!));
    const receiver = opened(corpusBytes(`${corpus[0]!}.moved`));
    const section = planView(donor.backup, donor.reading, emptyPlan).sections.find(({ carried }) => carried > 2)!;
    const picks = [{ id: section.path, mode: 'replace' as const }];
    const built = buildGraft(donor, emptyPlan, receiver, { picks, withNeeds: false, answers: new Map() });
    if (!built.ok) throw new Error(built.trouble.code);
    const { account } = built.value.graft;
    const view = new CarryView(donor.backup, donor.reading, emptyPlan);
    const rows = accountRows(view, { made: built.value.graft, receiver });
    expect(rows).toHaveLength(account.donor.entries + account.receiver.entries);
    const count = (state: string) => rows.filter((row) => row.state === state).length;
    expect(count('kept')).toBe(account.receiver.kept);
    expect(count('replaced') + count('removed')).toBe(account.receiver.replaced.size + account.receiver.removed.size);
    expect(count('not-chosen') + count('receiver-keeps')).toBe(account.donor.leftOut.size);
  });

  // OWASP, CSV injection (from memory): cells that begin like a formula are made text.
  test('what looks like a formula is text', () => {
    const row = {
      file: 'a.xml',
      path: '/a[1]',
      section: 'a, b',
      line: 1,
      state: 'carried',
      by: [],
      standing: null,
    } as const;
    const table = accountTable([{ ...row, name: '=1+1' }], (subject) => subject);
    expect(parsed(table)[1]).toEqual(['a.xml', '1', 'a, b', "'=1+1", '/a[1]', 'carried as it was', '']);
  });
});
