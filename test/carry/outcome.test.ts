import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  CarryView,
  effective,
  emptyPlan,
  graftOf,
  newPart,
  type OpenBackup,
  openBackup,
  type Plan,
  pathOf,
  readMeaning,
  tickRows,
} from '../../src/core/index.ts';

const example = readFileSync(new URL('../../public/examples/kestrel-quay-plain.xml', import.meta.url), 'utf8');

function opened(text: string): OpenBackup {
  const backup = openBackup(new TextEncoder().encode(text), 'quay.xml');
  if (!backup.ok) throw new Error(backup.trouble.code);
  return { backup: backup.value, reading: readMeaning(backup.value.tree) };
}

const donor = opened(example);

const section = (name: string) =>
  pathOf(donor.backup.tree, donor.reading.sections.find((one) => one.name === name)!.nodes[0]!);

const ticked = (withNeeds: boolean, ...names: string[]): Plan =>
  tickRows(
    donor.backup.tree,
    donor.reading,
    { ...emptyPlan, part: { ...newPart, result: 'graft', withNeeds } },
    names.map(section),
    true,
  );

function rowsOf(plan: Plan, receiver: OpenBackup) {
  const made = graftOf(donor, plan, receiver);
  if (!made.ok) throw new Error(made.trouble.code);
  const { backup, reading } = donor;
  const view = new CarryView(backup, reading, effective(backup.tree, reading, plan), made.value);
  const row = (name: string) => view.row(section(name))!;
  return { view, row, graft: made.value };
}

const without = (text: string, ...elements: string[]) =>
  elements.reduce((left, tag) => left.replace(new RegExp(`\\n *<${tag}[ >][\\s\\S]*?</${tag}>`), ''), text);

describe('the rows of the carry sheet under a graft', () => {
  test('count as the books of the graft do', () => {
    const { view, graft } = rowsOf(ticked(true, 'networks', 'tunnels'), opened(without(example, 'tagged-links')));
    const { donor: books } = graft.account;
    expect(books.balances).toBe(true);
    const { summary } = view;
    expect(summary).toMatchObject({
      entries: books.entries,
      carried: books.carried,
      changed: books.changed.size,
      leftOut: books.leftOut.size,
    });
    const tops = view.children(null, 0, 100).rows;
    const sum = (key: 'entries' | 'leftOut' | 'changed' | 'carried') => tops.reduce((all, row) => all + row[key], 0);
    // The outermost element may be an entry, too, and is no row.
    expect(summary.entries - sum('entries')).toBeLessThanOrEqual(1);
    expect(summary.leftOut - sum('leftOut')).toBeLessThanOrEqual(1);
    expect(sum('changed')).toBe(summary.changed);
  });

  test('what comes along is not ticked, and is not said to stay behind', () => {
    const { row } = rowsOf(ticked(true, 'networks'), opened(without(example, 'tagged-links')));
    const links = row('tagged-links');
    expect(links.fate).toBe('left-out');
    expect([links.along, links.leftOut]).toEqual([links.entries, 0]);
    expect([row('people').along, row('people').leftOut]).toEqual([0, row('people').entries]);
  });

  test('a name that the new box has as well needs no look', () => {
    const { view, row } = rowsOf(ticked(false, 'traffic-rules'), opened(example));
    expect(row('traffic-rules').wanting).toBe(0);
    expect(view.summary.dangling.byPlan).toBe(0);
  });

  test('a name that neither side gives does', () => {
    const receiver = opened(without(example, 'networks', 'address-books'));
    const { view, row, graft } = rowsOf(ticked(false, 'traffic-rules'), receiver);
    expect(graft.loose.length).toBeGreaterThan(0);
    expect(view.summary.dangling.byPlan).toBe(graft.loose.length);
    expect(row('traffic-rules').wanting).toBeGreaterThan(0);
    expect(view.wants(section('traffic-rules'), 0, 100).total).toBe(graft.loose.length);
  });
});
