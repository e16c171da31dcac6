import { describe, expect, it } from 'vitest';
import type { BackupView, PlanView } from '../../src/core/index.ts';
import { layBay, route } from '../../src/panes/ports/bay-layout.ts';
import { cordsOf, nameTrouble, portRows, suggestions } from '../../src/panes/ports/cords.ts';

const place = { path: '/b[1]', line: 1, start: 0, end: 1 };
const role = (name: string, port: string | null) => ({ name, label: null, port, address: null, namedBy: [], place });

/** A box with an uplink on one port and two tagged networks on another. */
function marina(names: Record<string, string> = {}) {
  const ports = [
    { name: 'igb10', kind: 'physical', parent: null, tag: null, roles: [], mentions: 3 },
    { name: 'igb2', kind: 'physical', parent: null, tag: null, roles: ['uplink'], mentions: 1 },
    { name: 'igb10.40', kind: 'tagged', parent: 'igb10', tag: 40, roles: ['cctv'], mentions: 1 },
    { name: 'igb10.30', kind: 'tagged', parent: 'igb10', tag: 30, roles: ['cards'], mentions: 1 },
  ];
  const backup = {
    ports,
    roles: [role('cctv', 'igb10.40'), role('cards', 'igb10.30'), role('uplink', 'igb2'), role('tunnel', null)],
  } as unknown as BackupView;
  const view = {
    ports: ['igb10', 'igb2'].map((from) => ({ from, to: names[from] ?? from, clashes: [] })),
  } as unknown as PlanView;
  return portRows(backup, view);
}

describe('rows of ports', () => {
  it('come in the order of their numbers, with what hangs on them, and number the cords', () => {
    const rows = marina({ igb10: 'ix0' });
    expect(rows.map(({ name, to }) => `${name} ${to}`)).toEqual(['igb2 igb2', 'igb10 ix0']);
    expect(rows[1]!.devices.map(({ name, to }) => `${name} ${to}`)).toEqual([
      'igb10 ix0',
      'igb10.30 ix0.30',
      'igb10.40 ix0.40',
    ]);
    expect(rows.flatMap(cordsOf).map((cord) => `${cord.no} ${cord.role.name}`)).toEqual([
      '1 uplink',
      '2 cards',
      '3 cctv',
    ]);
  });

  it('suggest what goes on in a row begun, then the old names', () => {
    const rows = marina({ igb10: 'ix0' });
    expect(suggestions(rows, 'igb2')).toEqual(['ix1', 'igb2', 'igb10']);
    expect(suggestions(marina(), 'igb2')).toEqual(['igb2', 'igb10']);
  });

  it('refuse names that no device has', () => {
    expect(nameTrouble('ix0')).toBeNull();
    expect(nameTrouble('0/3')).toBeNull();
    expect(nameTrouble('ix 0')).toMatch(/blanks/);
    expect(nameTrouble('ix<0')).toMatch(/none of/);
  });
});

describe('the patch bay', () => {
  it('draws level and upright runs with corners at 45°', () => {
    const d = route([
      [0, 0],
      [100, 0],
      [100, 50],
      [200, 50],
    ]);
    expect(d).toBe('M0 0L94 0L100 6L100 44L106 50L200 50');
    const points = [...d.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
    for (const [at, [x, y]] of points.slice(1).entries()) {
      const [dx, dy] = [Math.abs(x - points[at]![0]), Math.abs(y - points[at]![1])];
      expect(dx === 0 || dy === 0 || dx === dy).toBe(true);
    }
  });

  it('gives every role a way to its new port, and a trunk one harness', () => {
    const bay = layBay(marina({ igb2: 'ix9', igb10: 'ix0' }), 970, () => true);
    expect(bay.fresh.map((plate) => plate.name)).toEqual(['ix0', 'ix9']);
    const [uplink, trunk] = bay.bundles;
    expect(uplink!.sheath).toBeNull();
    expect(trunk!.sheath).not.toBeNull();
    expect(trunk!.collars).toHaveLength(2);
    expect(new Set(trunk!.strands.map(({ no }) => no))).toEqual(new Set([2, 3]));
    expect(bay.height).toBeGreaterThan(4 * 37);
  });

  it('lets a role that stays behind hang down to a loose end', () => {
    const bay = layBay(marina(), 970, (cord) => cord.role.name !== 'cards');
    expect(bay.bundles.flatMap(({ loose }) => loose.map(({ no }) => no))).toEqual([2]);
  });

  it('puts two ports that clash on one plate, one beside the other', () => {
    const bay = layBay(marina({ igb2: 'igb10' }), 970, () => true);
    expect(bay.fresh.map((plate) => [plate.name, plate.rows.length])).toEqual([['igb10', 2]]);
  });
});
