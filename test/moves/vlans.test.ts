import { expect, test } from 'vitest';
import { build, emptyPlan, planOf, planView, type Seat } from '../../src/core/index.ts';
import { pathOf } from '../../src/core/xml/path.ts';
import { valueAt } from '../../src/core/xml/site.ts';
import { nameOf } from '../../src/core/xml/tree.ts';
import { type File, open } from '../carry/files.ts';
import { opened } from '../corpus/files.ts';
import { generateDialect, isHeldBack } from '../dialects/generate.ts';

// IEEE 802.1Q: frames of several VLANs share a port and are told apart by the VLAN ID. How files write it is common
// practice, no source.

const ports = ['igb0', 'igb1', 'igb2'];
const names = ['sea', 'office', 'cards', 'cctv', 'guests'];
const rules = [...names, ...names].map((name) => `<rule><from>${name}</from><do>pass</do></rule>`).join('');
const address = (at: number) => `<ip>10.20.${at}.1</ip><size>24</size>`;
const socket = (at: number, inside = '') => `<socket><dev>${ports[at]}</dev><speed>auto</speed>${inside}</socket>`;
const box = (...parts: string[]) => open(`<box>${parts.join('')}<rules>${rules}</rules></box>`);

/** Ports that list their networks, of which some have a VLAN ID. */
const listed = (tag: (at: number) => string) =>
  box(
    `<sockets>${socket(0, '<net>sea</net>')}${socket(1, '<net>office</net>')}${socket(2, '<net>cards,cctv,guests</net>')}</sockets>`,
    `<nets>${names.map((name, at) => `<net><name>${name}</name>${tag(at)}${address(at)}</net>`).join('')}</nets>`,
  );

/** Networks that name a VLAN, which has ports with and without its number. */
const vlans = [
  ['amber', 10, 'plain', 'igb0'],
  ['birch', 20, 'plain', 'igb1'],
  ['cobalt', 30, 'marked', 'igb2'],
  ['dune', 40, 'marked', 'igb2'],
  ['ember', 50, 'marked', 'igb2'],
] as const;
const onVlans = box(
  `<sockets>${ports.map((_, at) => socket(at)).join('')}</sockets>`,
  `<vlans>${vlans.map(([name, id, way, port]) => `<vlan><called>${name}</called><id>${id}</id><${way}>${port}</${way}></vlan>`).join('')}</vlans>`,
  `<nets>${names.map((name, at) => `<net><name>${name}</name><link>${vlans[at]![0]}</link>${address(at)}</net>`).join('')}</nets>`,
);

const seats = ({ backup: { tree }, reading }: File) =>
  reading.bindings.map(({ role, port, tag }) => `${role} ${port}${tag ? ` ${valueAt(tree, tag)}` : ''}`);
const shared = ({ backup, reading }: File) =>
  planView(backup, reading, emptyPlan).findings.filter(({ code }) => code === 'role-shares-device');
const pathOfRole = ({ backup, reading }: File, name: string) =>
  pathOf(backup.tree, reading.roles.find((role) => role.name === name)!.node);
const moved = (file: File, role: string, to: Seat) =>
  build(file.backup, file.reading, planOf([{ kind: 'move-role', role: pathOfRole(file, role), to }]));

test('networks that a port lists are told apart by their own VLAN IDs', () => {
  const file = listed((at) => (at > 1 ? `<mark>${at}0</mark>` : ''));
  expect(seats(file)).toEqual(['sea igb0', 'office igb1', 'cards igb2 20', 'cctv igb2 30', 'guests igb2 40']);
  expect(shared(file)).toEqual([]);
});

test('networks that a port lists and that nothing tells apart are said to share it', () => {
  const file = listed((at) => `<mark>${at > 2 ? 7 : at}</mark>`);
  expect(shared(file)).toHaveLength(2);
});

test('networks that name a VLAN have its number, but on ports that have one VLAN without it', () => {
  expect(seats(onVlans)).toEqual(['sea igb0', 'office igb1', 'cards igb2 30', 'cctv igb2 40', 'guests igb2 50']);
  const { tree } = onVlans.backup;
  expect(onVlans.reading.bindings.map(({ vlan }) => nameOf(tree, vlan))).toEqual(names.map(() => 'vlan'));
  expect(shared(onVlans)).toEqual([]);
});

test('such a network goes where another VLAN is, and the records of VLANs stay as they are', () => {
  const out = moved(onVlans, 'cards', { on: 'port', port: 'igb1' });
  if (!out.ok) throw new Error(out.trouble.code);
  const text = new TextDecoder().decode(out.value.bytes);
  expect(text).toBe(onVlans.backup.tree.text.replace('<link>cobalt</link>', '<link>birch</link>'));
  const none = moved(onVlans, 'cards', { on: 'tag', port: 'igb1', tag: 30 });
  expect(none.ok ? null : none.trouble.code).toBe('plan-role-on-vlan');
});

test('two networks of one VLAN share it', () => {
  const { backup, reading } = onVlans;
  const plan = planOf([
    { kind: 'move-role', role: pathOfRole(onVlans, 'cards'), to: { on: 'tag', port: 'igb2', tag: 40 } },
  ]);
  const { findings } = planView(backup, reading, plan);
  expect(findings.filter(({ code }) => code === 'role-shares-device')).toMatchObject([{ byPlan: true }]);
});

test('a role that names its port by the key of its record does so after a move, its VLAN ID beside', () => {
  const keyed = `<sockets>${ports.map((dev, at) => `<socket><key>s-${at}a</key><dev>${dev}</dev></socket>`).join('')}</sockets>`;
  const at = [0, 1, 2, 2, 2];
  const nets = names.map(
    (name, k) =>
      `<net><name>${name}</name><link>s-${at[k]}a</link><vlan>${k > 1 ? k * 10 : ''}</vlan>${address(k)}</net>`,
  );
  const file = box(keyed, `<nets>${nets.join('')}</nets>`);
  expect(seats(file)).toContain('cctv igb2 30');
  const out = moved(file, 'cctv', { on: 'tag', port: 'igb1', tag: 77 });
  if (!out.ok) throw new Error(out.trouble.code);
  expect(new TextDecoder().decode(out.value.bytes)).toBe(
    file.backup.tree.text.replace('<link>s-2a</link><vlan>30</vlan>', '<link>s-1a</link><vlan>77</vlan>'),
  );
});

test('a role that names its port, and the record of a tagged device beside it, has the VLAN ID of that', () => {
  const tables = [
    ports.map((dev, at) => `<port><no>${at + 1}</no><dev>${dev}</dev></port>`),
    [30, 40, 60].map((id, at) => `<tag><no>${at + 11}</no><port>3</port><id>${id}</id><label>mast ${at}</label></tag>`),
    names.map((name, at) => {
      const tag = at < 2 ? '' : at + 9;
      return `<net><name>${name}</name><port>${Math.min(at + 1, 3)}</port><tag>${tag}</tag>${address(at)}</net>`;
    }),
  ];
  const file = box(...tables.map((rows, at) => `<table${at}>${rows.join('')}</table${at}>`));
  expect(seats(file)).toEqual(['sea igb0', 'office igb1', 'cards igb2 30', 'cctv igb2 40', 'guests igb2 60']);
  expect(shared(file)).toEqual([]);
  const out = moved(file, 'cctv', { on: 'tag', port: 'igb1', tag: 77 });
  expect(out.ok ? null : out.trouble.code).toBe('plan-role-on-vlan');
});

test('VLAN IDs of generated files are those that were meant, and hardly any is missed', { timeout: 120_000 }, () => {
  let right = 0;
  let missed = 0;
  for (const seed of Array.from({ length: 40 }, (_, k) => 300 + k).filter((one) => !isHeldBack(one))) {
    const { bytes, truth, name } = generateDialect(seed, { meeting: true });
    const { reading, backup } = opened(bytes, name);
    const meant = new Map(truth.vlans.map(({ role, tag }) => [role, tag]));
    const bound = new Set(truth.bindings.map(({ role, port }) => `${role} ${port}`));
    const below = new Map(reading.ports.map((port) => [port.name, port.tag]));
    for (const { records } of reading.tagging) for (const { device, tag } of records) below.set(device, tag);
    for (const { role, port, tag } of reading.bindings) {
      if (!bound.has(`${role} ${port}`)) continue;
      const said = tag ? Number(valueAt(backup.tree, tag)) : (below.get(port) ?? null);
      if (said === null && meant.has(role)) missed++;
      else {
        expect([name, role, said]).toEqual([name, role, meant.get(role) ?? null]);
        right++;
      }
    }
  }
  expect(right).toBeGreaterThan(150);
  expect(missed).toBeLessThan(right / 50);
});
