import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { build, loadPlan, openBackup, readMeaning } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { fixture, hasStandards, hasYanglint, knownOf, SITE, yanglint } from './support.ts';

/** The bytes that a plan makes of the marina, as text. */
function carried(plan: { ports?: Record<string, string>; leaveOut?: string[] }): string {
  const backup = openBackup(readFileSync(`${SITE}/marina-netconf.xml`), 'marina.xml');
  const loaded = loadPlan(JSON.stringify({ plan: 1, ...plan }));
  if (!backup.ok || !loaded.ok) throw new Error('not opened');
  const built = build(backup.value, readMeaning(backup.value.tree), loaded.value.plan);
  if (!built.ok) throw new Error(built.trouble.code);
  return new TextDecoder().decode(built.value.bytes);
}

const marina = fixture('marina-netconf.xml');
const { tree, known } = knownOf(marina);
/** Every port gets another name; two change places. */
const ports = { igc0: 'igc1', igc1: 'igc0', igc2: 'ixl0', igc3: 'eno1np0', lo0: 'lo7', ipsec0: 'vti9' };

/** Renamed by text alone: no name in the marina's remarks is that of a port. */
const byText = marina.replace(/\b(?:igc[0-3]|lo0|ipsec0)\b/g, (name) => ports[name as keyof typeof ports]);

describe('the marina, carried over', () => {
  it('has every port renamed where the schema has an interface, and nothing else changed', () => {
    expect(carried({ ports })).toBe(byText);
  });
});

describe.skipIf(!hasYanglint || !hasStandards)('the marina, carried over, against yanglint', () => {
  it('is valid with its ports renamed', () => {
    expect(yanglint(carried({ ports }))).toBe('');
  });

  // Entries of lists that stand directly under a section or its list container.
  const records = known.collections.flatMap(({ parent, records: all }) =>
    pathOf(tree, parent).split('/').length <= 4 ? all.map((record) => pathOf(tree, record)) : [],
  );

  it.each(records)('breaks a reference by leaving out %s exactly where yanglint says so', (path) => {
    const text = carried({ leaveOut: [path] });
    const broken = knownOf(text).known.dangling.some(({ tier }) => tier === 'certain');
    expect([path, broken]).toEqual([path, /Invalid leafref value/.test(yanglint(text))]);
  });
});
