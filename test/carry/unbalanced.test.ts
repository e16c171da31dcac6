import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { emptyPlan, type LedgerView, type Plan, withPart } from '../../src/core/index.ts';
import { newDesk } from '../../src/worker/desk.ts';

// Nothing unbalances a ledger from outside, so an entry is counted away here, between the core and the desk.
const books = vi.hoisted(() => ({ lose: '' as '' | 'donor' | 'receiver' }));

vi.mock('../../src/core/index.ts', async (original) => {
  const core = await original<typeof import('../../src/core/index.ts')>();
  const short = (ledger: LedgerView): LedgerView =>
    books.lose === 'donor' ? { ...ledger, carried: ledger.carried - 1, balances: false } : ledger;
  return {
    ...core,
    planView: (...said: Parameters<typeof core.planView>) => {
      const view = core.planView(...said);
      return { ...view, ledger: short(view.ledger) };
    },
    graftLedger: (...said: Parameters<typeof core.graftLedger>) => {
      const ledger = core.graftLedger(...said);
      return ledger && short(ledger);
    },
    receiverLedgerOf: (...said: Parameters<typeof core.receiverLedgerOf>) => {
      const ledger = core.receiverLedgerOf(...said);
      return ledger && books.lose === 'receiver' ? { ...ledger, kept: ledger.kept - 1, balances: false } : ledger;
    },
  };
});

afterEach(() => {
  books.lose = '';
});

const bytes = () =>
  new Uint8Array(readFileSync(fileURLToPath(new URL('../../public/examples/kestrel-quay-plain.xml', import.meta.url))))
    .buffer;

async function built(plan: Plan) {
  const desk = newDesk();
  await desk.open(bytes(), 'old.xml', () => {});
  await desk.receive(bytes(), 'new.xml', () => {});
  return desk.build(plan);
}

const whole = emptyPlan;
const ticked = withPart(emptyPlan, { result: 'ticked', ticks: [{ kind: 'keep', path: '/site-record[1]/crews[1]' }] });
const graft = withPart(ticked, { result: 'graft' });

describe.each([
  ['the whole file', whole],
  ['what is ticked', ticked],
  ['a graft', graft],
] as const)('%s', (_, plan) => {
  test('goes out where the ledger balances', async () => {
    const made = await built(plan);
    expect([made.ledger.balances, made.bytes !== null]).toEqual([true, true]);
  });

  test('stays where an entry is missing from it', async () => {
    books.lose = 'donor';
    const made = await built(plan);
    expect([made.verdict.agrees, made.ledger.balances, made.bytes]).toEqual([true, false, null]);
  });
});

test('a graft stays, too, where an entry of the receiver is missing', async () => {
  books.lose = 'receiver';
  const made = await built(graft);
  expect([made.ledger.balances, made.receiver!.balances, made.bytes]).toEqual([true, false, null]);
});
