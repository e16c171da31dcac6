import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { backupView, build, emptyPlan, inspect, openBackup, planView, readMeaning } from '../../src/core/index.ts';
import { documents } from './documents.ts';
import { runs } from './seed.ts';

describe('laws of the reading', () => {
  test('any document that can be read has a meaning, however poor, and goes out as it came', () => {
    fc.assert(
      fc.property(documents, (text) => {
        const bytes = new TextEncoder().encode(text);
        const backup = openBackup(bytes, 'kqm-gw1.xml');
        if (!backup.ok) throw new Error(backup.trouble.code);
        const reading = readMeaning(backup.value.tree);
        inspect(backup.value, reading);
        const view = backupView(backup.value, reading);
        const { ledger, changes } = planView(backup.value, reading, emptyPlan);
        expect(ledger).toMatchObject({ balances: true, changed: 0, leftOut: 0, records: view.records });
        expect(changes).toEqual([]);
        const built = build(backup.value, reading, emptyPlan);
        expect(built.ok && Buffer.compare(built.value.bytes, bytes)).toBe(0);
      }),
      runs(600),
    );
  });

  test('reading twice gives the same', () => {
    fc.assert(
      fc.property(documents, (text) => {
        const backup = openBackup(new TextEncoder().encode(text), 'kqm-gw1.xml');
        if (!backup.ok) throw new Error(backup.trouble.code);
        const once = inspect(backup.value, readMeaning(backup.value.tree));
        expect(inspect(backup.value, readMeaning(backup.value.tree))).toEqual(once);
      }),
      runs(100),
    );
  });
});
