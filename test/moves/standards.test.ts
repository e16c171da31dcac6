import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { build, planOf, planView, type Seat } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { textOf } from '../../src/core/xml/site.ts';
import { opened } from '../corpus/files.ts';
import { hasStandards, hasYanglint, SITE, STANDARDS, yanglint } from '../standards/support.ts';
import { differences, pathOfRole, treeOf } from './support.ts';

const marina = { name: 'marina', ...opened(readFileSync(`${SITE}/marina-netconf.xml`), 'marina-netconf.xml') };

function attempt(name: string, to: Seat) {
  const at = marina.reading.roles.findIndex((role) => role.name === name);
  return build(marina.backup, marina.reading, planOf([{ kind: 'move-role', role: pathOfRole(marina, at), to }]));
}

function moved(name: string, to: Seat): Uint8Array {
  const built = attempt(name, to);
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  return built.value.bytes;
}

const onIgc2: Seat = { on: 'tag', port: 'igc2', tag: 77 };

// RFC 8343, appendix C: `base-interface` and `vlan-id` say what a sub-interface is; its name is what others refer to.
describe('a sub-interface of the marina moves', () => {
  test('its parent, its VLAN ID and its name change, and whoever names it follows', () => {
    const { tree } = marina.backup;
    const { changed, added } = differences(tree, treeOf(moved('igc3.30', onIgc2)));
    const now = treeOf(moved('igc3.30', onIgc2));
    const before = changed.map(({ node }) => textOf(tree, node));
    const named = marina.reading.mentions.filter(({ value }) => value === 'igc3.30').length;
    expect(added).toEqual([]);
    expect(named).toBeGreaterThan(1);
    expect(before.sort()).toEqual(['30', 'igc3', ...Array(named).fill('igc3.30')].sort());
    const values = changed.map(({ node }) => textOf(now, node));
    expect(values.sort()).toEqual(['77', 'igc2', ...Array(named).fill('igc2.77')].sort());
  });

  test.each([
    ['a sub-interface, to be a port that has an entry of its own', 'igc3.30', { on: 'port', port: 'igc1' }],
    ['a port, out of its own entry', 'igc1', { on: 'tag', port: 'igc2', tag: 5 }],
    ['a sub-interface, to nowhere', 'igc3.30', { on: 'none' }],
  ] as const)('%s, is refused', (_, name, to) => {
    expect(attempt(name, to)).toMatchObject({ ok: false, trouble: { code: 'plan-role-is-port' } });
  });

  test('is shown under the name that it gets, on a port that is renamed as well', () => {
    const at = marina.reading.roles.findIndex(({ name }) => name === 'igc3.30');
    const plan = planOf([
      { kind: 'move-role', role: pathOfRole(marina, at), to: onIgc2 },
      { kind: 'rename-port', from: 'igc2', to: 'ix1' },
    ]);
    expect(planView(marina.backup, marina.reading, plan).roles[at]).toMatchObject({
      device: 'ix1.77',
      moved: true,
      adds: null,
    });
  });

  test('onto a VLAN ID that another has is refused', () => {
    expect(attempt('igc3.30', { on: 'tag', port: 'igc3', tag: 40 })).toMatchObject({
      ok: false,
      trouble: { code: 'plan-tag-taken' },
    });
  });
});

describe.skipIf(!hasYanglint || !hasStandards)('the moved marina, against yanglint', () => {
  test('is valid, and so is every other sub-interface moved', () => {
    for (const { device } of marina.reading.tagging[0]!.records)
      expect([device, yanglint(new TextDecoder().decode(moved(device, onIgc2)))]).toEqual([device, '']);
  });
});

describe.skipIf(!hasStandards)('the example of RFC 8343, appendix D', () => {
  test('is read as VLAN 10 on eth1', () => {
    const { backup, reading } = opened(readFileSync(`${STANDARDS}/examples/rfc8343-appendix-d-get-config.xml`));
    const [record] = reading.tagging[0]!.records;
    expect(record).toMatchObject({ device: 'eth1.10', parent: 'eth1', tag: 10 });
    expect(record!.spots.map(({ site, holds }) => [holds, pathOf(backup.tree, site.node).split('/').at(-1)])).toEqual([
      ['device', 'name[1]'],
      ['parent', 'vlan:base-interface[1]'],
      ['tag', 'vlan:vlan-id[1]'],
    ]);
  });
});
