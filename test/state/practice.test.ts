import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { emptyPlan, openBackup, readMeaning } from '../../src/core/index.ts';
import { newDesk } from '../../src/worker/desk.ts';
import { longer, plan, practise } from '../../src/worker/practice.ts';
import type { Desk } from '../../src/worker/protocol.ts';

const text = readFileSync(new URL('../../public/examples/kestrel-quay-plain.xml', import.meta.url), 'utf8');

const readingOf = (content: string) => {
  const opened = openBackup(new TextEncoder().encode(content), 'practice.xml');
  if (!opened.ok) throw new Error(JSON.stringify(opened.trouble));
  return readMeaning(opened.value.tree);
};

/** A desk that writes down what is asked of it. */
function watched(calls: string[]): Desk {
  return new Proxy(newDesk(), {
    get: (desk, name: keyof Desk) => {
      calls.push(name);
      return desk[name];
    },
  });
}

describe('practice', () => {
  it('opens, looks, decides and builds, again and again', async () => {
    const calls: string[] = [];
    let left = 11;
    await practise(watched(calls), text, () => left-- > 0);
    const round = ['open', 'view', 'view', 'carryLists', 'build'];
    expect(calls).toEqual([...round, ...round, 'open']);
  });

  it('is over at once where something else is asked', async () => {
    const calls: string[] = [];
    await practise(watched(calls), text, () => false);
    expect(calls).toEqual([]);
  });

  it('decides on what is there, so that there is a result to build', async () => {
    const desk = newDesk();
    await desk.open(new TextEncoder().encode(text).buffer, 'practice.xml', () => {});
    const { plan: nothing } = await desk.view(emptyPlan);
    const { plan: view } = await desk.view(plan);
    expect(nothing.ledger.leftOut).toBe(0);
    expect(view.ledger.leftOut).toBeGreaterThan(0);
    const { verdict, bytes } = await desk.build(plan);
    expect(verdict.agrees).toBe(true);
    const result = new TextDecoder().decode(bytes!);
    expect(result).toContain('"igc0"');
    expect(result).toContain('"practice"');
    expect(result).not.toContain('"igb0"');
  });

  it('repeats lists under names of their own', () => {
    const rules = (content: string) =>
      readingOf(content).collections.find(({ item, records }) => item === 'rule' && records.length > 9)!;
    const [one, many] = [rules(text), rules(longer(text, 3))];
    expect(many.records.length).toBe(3 * one.records.length);
    expect(many.key).toEqual(one.key);
  });
});
