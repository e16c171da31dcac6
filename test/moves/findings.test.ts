import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { type Decision, emptyPlan, type Finding, planOf, planView, type Seat } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { corpusBytes, opened } from '../corpus/files.ts';
import { pathOfRole } from './support.ts';

const a01 = { name: 'a01', ...opened(corpusBytes('a01')) };
const role = (name: string) =>
  pathOfRole(
    a01,
    a01.reading.roles.findIndex((one) => one.name === name),
  );
const move = (name: string, to: Seat): Decision => ({ kind: 'move-role', role: role(name), to });
const findings = (decisions: readonly Decision[], receiver: readonly string[] | null = null): readonly Finding[] =>
  planView(a01.backup, a01.reading, planOf(decisions), { receiver }).findings;
const coded = (code: string, decisions: readonly Decision[], receiver: readonly string[] | null = null) =>
  findings(decisions, receiver).filter((finding) => finding.code === code);

/** A file of our own with one tagged device for each line of `devices`. */
function withDevices(devices: readonly string[]): readonly Finding[] {
  const good = ['eth1 10 eth1.10', 'eth1 20 eth1.20', 'eth1 40 eth1.40', 'eth2 50 eth2.50'];
  const records = [...good, ...devices].map((line) => {
    const [parent, tag, name] = line.split(' ');
    return `<vlan><parent>${parent}</parent><tag>${tag}</tag><device>${name}</device></vlan>`;
  });
  const roles = ['quay eth0', 'office eth1.10', 'guests eth1.20', 'berths eth2.50'].map((line, at) => {
    const [name, device] = line.split(' ');
    return `<role><name>${name}</name><device>${device}</device><address>10.20.${at}.1/24</address></role>`;
  });
  const rules = ['quay', 'office', 'guests', 'berths', 'office'].map((from) => `<rule><from>${from}</from></rule>`);
  const xml = `<box><vlans>${records.join('')}</vlans><roles>${roles.join('')}</roles><rules>${rules.join('')}</rules></box>`;
  const { backup, reading } = opened(new TextEncoder().encode(xml));
  expect(reading.tagging[0]?.records.length).toBe(records.length);
  return planView(backup, reading, emptyPlan).findings;
}

describe('findings about where roles sit', () => {
  test('the file as it is has none of them', () => {
    const codes = new Set(findings([]).map(({ code }) => code));
    for (const code of [
      'role-shares-device',
      'role-without-port',
      'port-in-aggregate',
      'tag-doubled',
      'tag-name-differs',
    ])
      expect(codes).not.toContain(code);
  });

  test('two roles untagged on one port: told while it is so, gone when the other moves away', () => {
    const shared = [move('guest', { on: 'port', port: 'eth1' })];
    expect(coded('role-shares-device', shared)).toMatchObject([
      { severity: 'error', byPlan: true, params: { port: 'eth1' }, place: expect.anything() },
    ]);
    expect(coded('role-shares-device', [...shared, move('office', { on: 'port', port: 'eth3' })])).toHaveLength(1);
    const mended = [...shared, move('office', { on: 'tag', port: 'eth2', tag: 50 })];
    expect(coded('role-shares-device', mended)).toEqual([]);
  });

  test('two roles on one tagged device, the one there already or both new', () => {
    expect(coded('role-shares-device', [move('office', { on: 'tag', port: 'eth2', tag: 50 })])).toHaveLength(1);
    const both = [
      move('office', { on: 'tag', port: 'eth3', tag: 77 }),
      move('guest', { on: 'tag', port: 'eth3', tag: 77 }),
    ];
    expect(coded('role-shares-device', both)).toHaveLength(1);
    expect(coded('role-shares-device', [both[0]!, move('guest', { on: 'tag', port: 'eth3', tag: 78 })])).toEqual([]);
  });

  test('two roles that change places share nothing', () => {
    const swap = [move('office', { on: 'port', port: 'eth0' }), move('uplink', { on: 'port', port: 'eth1' })];
    expect(coded('role-shares-device', swap)).toEqual([]);
  });

  test('a port that an aggregate has taken', () => {
    expect(coded('port-in-aggregate', [move('office', { on: 'port', port: 'eth4' })])).toMatchObject([
      { severity: 'error', params: { role: 'office', port: 'eth4', aggregate: 'lagg0' } },
    ]);
    expect(coded('port-in-aggregate', [move('office', { on: 'tag', port: 'eth4', tag: 9 })])).toHaveLength(1);
    expect(coded('port-in-aggregate', [move('office', { on: 'port', port: 'lagg0' })])).toEqual([]);
  });

  test('a role without a port', () => {
    expect(coded('role-without-port', [move('office', { on: 'none' })])).toMatchObject([
      { severity: 'warning', byPlan: true, params: { role: 'office' } },
    ]);
  });

  test('ports that the new box does not have, by their names in the result', () => {
    const has = ['ix0', 'ix1', 'eth2', 'eth3'];
    expect(coded('port-not-on-receiver', [], has).map(({ params }) => params)).toEqual([
      { role: 'uplink', port: 'eth0' },
      { role: 'office', port: 'eth1' },
    ]);
    const renames: Decision[] = [
      { kind: 'rename-port', from: 'eth0', to: 'ix0' },
      { kind: 'rename-port', from: 'eth1', to: 'ix1' },
    ];
    expect(coded('port-not-on-receiver', renames, has)).toEqual([]);
    expect(
      coded('port-not-on-receiver', [...renames, move('office', { on: 'port', port: 'lagg0' })], has),
    ).toHaveLength(2);
    expect(coded('port-not-on-receiver', [move('office', { on: 'port', port: 'ix1' }), renames[0]!], has)).toEqual([]);
    expect(coded('port-not-on-receiver', [])).toEqual([]);
    // What no socket is needed for is not missed.
    const wg = { kind: 'rename-port', from: 'eth0', to: 'ix0' } as const;
    const onTunnel = move('office', { on: 'port', port: 'wg0' });
    expect(coded('port-not-on-receiver', [wg, onTunnel], has)).toEqual([]);
  });

  test('a composed name that is longer than the systems take', () => {
    const long: Decision = { kind: 'rename-port', from: 'eth3', to: 'enp101s0f3np1' };
    const moved = move('office', { on: 'tag', port: 'eth3', tag: 3001 });
    expect(coded('port-name-long', [long, moved]).map(({ params }) => params.port)).toContain('enp101s0f3np1.3001');
    expect(coded('port-name-long', [moved])).toEqual([]);
  });
});

describe('findings about what moves leave behind', () => {
  const vlan = (tag: number) => {
    const { records } = a01.reading.tagging[0]!;
    return pathOf(a01.backup.tree, records.find((record) => record.tag === tag)!.node);
  };
  const leaveOut = (tag: number): Decision => ({ kind: 'leave-out', path: vlan(tag) });
  const onTag = (name: string, tag: number) => move(name, { on: 'tag', port: 'eth2', tag });

  test('a role that moves onto a VLAN that stays behind', () => {
    // The one that sat there goes elsewhere, so only the move is wrong.
    const plan = [leaveOut(50), onTag('office', 50), move('guest', { on: 'port', port: 'eth3' })];
    expect(coded('reference-left-out', plan)).toMatchObject([
      { severity: 'error', byPlan: true, params: { field: 'office', value: 'eth2.50' }, place: expect.anything() },
    ]);
    expect(coded('reference-left-out', plan.slice(1))).toEqual([]);
    const [repair] = coded('reference-left-out', plan)[0]!.repairs!;
    expect(repair).toMatchObject({ code: 'carry', withdraws: [`leave-out ${vlan(50)}`] });
  });

  test('a role that moves away from a VLAN that stays behind is no fault any more', () => {
    expect(coded('reference-left-out', [leaveOut(50)])).toHaveLength(1);
    expect(coded('reference-left-out', [leaveOut(50), move('guest', { on: 'port', port: 'eth3' })])).toEqual([]);
  });

  test('the record of a VLAN that its role left is listed, until a role sits there again', () => {
    const away = move('guest', { on: 'port', port: 'eth3' });
    expect(coded('record-unused', [away])).toMatchObject([{ severity: 'note', place: { path: vlan(50) } }]);
    expect(coded('record-unused', [away, onTag('office', 50)])).toEqual([]);
    expect(coded('record-unused', [away, leaveOut(50)])).toEqual([]);
    expect(coded('record-unused', [onTag('guest', 50)])).toEqual([]);
  });
});

describe('findings about tagged devices', () => {
  test('all well', () => {
    expect(withDevices([]).filter(({ code }) => code.startsWith('tag-'))).toEqual([]);
  });

  test('one VLAN ID twice on one port, but not on two', () => {
    const found = withDevices(['eth1 20 eth1.20b', 'eth2 20 eth2.20']).filter(({ code }) => code === 'tag-doubled');
    expect(found).toMatchObject([
      { params: { tag: 20, port: 'eth1' }, place: { path: '/box[1]/vlans[1]/vlan[5]/tag[1]' } },
    ]);
  });

  test('a name that says another number than the record', () => {
    const found = withDevices(['eth1 60 eth1.61']).filter(({ code }) => code === 'tag-name-differs');
    expect(found).toMatchObject([
      { params: { device: 'eth1.61', port: 'eth1', tag: 60 }, place: { path: '/box[1]/vlans[1]/vlan[5]/device[1]' } },
    ]);
  });

  test.each([0, 4095, 5000])('VLAN ID %d', (tag) => {
    const found = withDevices([`eth1 ${tag} eth1.${tag}`]).filter(({ code }) => code === 'tag-out-of-range');
    expect(found).toMatchObject([{ params: { tag }, place: { path: '/box[1]/vlans[1]/vlan[5]/tag[1]' } }]);
  });
});

/** ieee802-dot1q-types, typedef vlanid (IEEE Std 802.1Q), as kept beside the project. */
const ranges = fileURLToPath(new URL('../../../shared/standards/tables/ranges.json', import.meta.url));

describe.skipIf(!existsSync(ranges))('VLAN IDs as IEEE 802.1Q has them', () => {
  const { vlan } = existsSync(ranges)
    ? (JSON.parse(readFileSync(ranges, 'utf8')) as {
        vlan: { usable: [number, number]; reserved: Record<string, string> };
      })
    : { vlan: { usable: [1, 1] as [number, number], reserved: {} } };
  const refused = (tag: number) =>
    coded('plan-entry', [move('office', { on: 'tag', port: 'eth3', tag })]).some(
      ({ params }) => params.trouble === 'plan-tag-out-of-range',
    );

  test('the first and the last that are usable are taken', () => {
    for (const tag of vlan.usable) expect([tag, refused(tag)]).toEqual([tag, false]);
  });

  test('those that are reserved, and what is no VLAN ID at all, are refused', () => {
    for (const tag of [...Object.keys(vlan.reserved).map(Number), vlan.usable[1] + 2, -1, 1.5])
      expect([tag, refused(tag)]).toEqual([tag, true]);
  });
});
