import { describe, expect, test } from 'vitest';
import { unitsOf } from '../../src/core/compile/units.ts';
import { compareGraft, graftChanges } from '../../src/core/desk/graft/graft-changes.ts';
import { buildGraft, emptyPlan } from '../../src/core/index.ts';
import { valueAt } from '../../src/core/xml/site.ts';
import { opened } from '../corpus/files.ts';

// What the list must add up to follows from the patches; that secrets stay hidden is common practice, no source.

const key = 'qf7B2mZx0R4tLw9KpVn3Ys8Hd1Jc6Gae5Uo'.repeat(40);
const record = (name: string, text: string) =>
  `    <tunnel><name>${name}</name><peer>192.0.2.9</peer><private-key>${text}</private-key></tunnel>\n`;
const donorText = `<box>
  <tunnels>
${record('quay', key)}${record('lock', 'h3Jk8Lm2Np5Qr7St9Vw1Xy4Zb6Cd0Fg')}  </tunnels>
  <names>
    <name>booking</name>
  </names>
</box>
`;
const receiverText = `<box>
  <tunnels>
${record('yard', 'Tz4Yx8Wv2Ut6Sr0Qp3On7Ml1Kj5Ih9G')}  </tunnels>
  <names>
    <name>spare</name>
  </names>
</box>
`;
const file = (text: string) => opened(new TextEncoder().encode(text));

describe('what a graft makes of the receiver', () => {
  const donor = file(donorText);
  const receiver = file(receiverText);
  const built = buildGraft(donor, emptyPlan, receiver, {
    picks: [{ id: '/box[1]/tunnels[1]', mode: 'merge' }],
    withNeeds: false,
    answers: new Map(),
  });
  if (!built.ok) throw new Error(built.trouble.code);
  const { graft } = built.value;
  const view = graftChanges(donor, receiver, graft);

  test('is told patch by patch, and its sections hold every record of the receiver once', () => {
    expect(view.total).toBe(graft.patches.patches.length);
    expect(view.changes.map(({ kind, section }) => [kind, section])).toEqual(
      view.changes.map(() => ['added', 'tunnels']),
    );
    const held = view.sections.reduce((sum, { kept, replaced, removed }) => sum + kept + replaced + removed, 0);
    const units = unitsOf(receiver.backup.tree, receiver.reading).nodes;
    expect(held).toBe(units.filter((node) => node !== receiver.backup.tree.root).length);
    expect(view.sections.find(({ name }) => name === 'names')).toMatchObject({ kept: 1, added: 0, replaced: 0 });
  });

  test('never shows a secret of either file, not even a part of a long one', () => {
    const secrets = [donor, receiver].flatMap(({ backup: { tree }, reading }) =>
      reading.secrets.map(({ site }) => valueAt(tree, site)),
    );
    expect(secrets).toContain(key);
    const beside = compareGraft(donor, receiver, graft, '/box[1]/tunnels[1]', 100_000)!;
    const shown = [...view.changes.flatMap(({ before, after }) => [before, after]), beside.before, beside.after];
    expect(shown.join('\n')).toContain('quay');
    for (const secret of secrets) expect(shown.join('\n')).not.toContain(secret.slice(0, 12));
  });

  test('stands beside the receiver as it was, whole lines', () => {
    const beside = compareGraft(donor, receiver, graft, '/box[1]/names[1]', 1000)!;
    expect(beside.after).toBe(beside.before);
    expect(beside.afterLine - beside.beforeLine).toBe(2);
    expect(compareGraft(donor, receiver, graft, '/box[1]/nothing[1]', 1000)).toBeNull();
  });
});
