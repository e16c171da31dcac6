import { describe, expect, it } from 'vitest';
import type { BackupView, Finding, PlanView, Receiver, Seat } from '../../src/core/index.ts';
import { layBay } from '../../src/panes/ports/bay-layout.ts';
import {
  allCords,
  bareWords,
  cablesOf,
  cablingOf,
  cordsOf,
  deviceTitle,
  endWords,
  nameTrouble,
  suggestions,
} from '../../src/panes/ports/cords.ts';
import { mendings } from '../../src/panes/ports/mend.ts';
import { dropOn, type Held, moveRole, tagBefore } from '../../src/panes/ports/moves.ts';
import { shownSockets } from '../../src/panes/ports/places.ts';
import { route } from '../../src/panes/ports/route.ts';
import { bareSocket, isFree, socketsOf } from '../../src/panes/ports/sockets.ts';

const place = (name: string) => ({ path: `/b[1]/${name}[1]`, line: 1, start: 0, end: 1 });
const role = (name: string, port: string | null) => ({
  name,
  label: null,
  port,
  tag: null,
  address: null,
  namedBy: [],
  follows: [],
  place: place(name),
});
const seats: Record<string, Seat> = {
  uplink: { on: 'port', port: 'igb2' },
  cards: { on: 'tag', port: 'igb10', tag: 30 },
  cctv: { on: 'tag', port: 'igb10', tag: 40 },
  tunnel: { on: 'none' },
};

/** A box with an uplink on one port and two tagged networks on another; renames and moves as a plan makes them. */
function marina(names: Record<string, string> = {}, moves: Record<string, Seat> = {}) {
  const ports = [
    { name: 'igb10', kind: 'physical', parent: null, tag: null, roles: [], mentions: 3, partOf: null },
    { name: 'igb2', kind: 'physical', parent: null, tag: null, roles: ['uplink'], mentions: 1, partOf: null },
    { name: 'igb10.40', kind: 'tagged', parent: 'igb10', tag: 40, roles: ['cctv'], mentions: 1 },
    { name: 'igb10.30', kind: 'tagged', parent: 'igb10', tag: 30, roles: ['cards'], mentions: 1 },
  ];
  const roles = [role('cctv', 'igb10.40'), role('cards', 'igb10.30'), role('uplink', 'igb2'), role('tunnel', null)];
  const backup = { ports, roles } as unknown as BackupView;
  const froms = ['igb10', 'igb2'];
  const toOf = (from: string) => names[from] ?? from;
  const view = {
    ports: froms.map((from) => ({
      from,
      to: toOf(from),
      clashes: froms.filter((other) => other !== from && toOf(other) === toOf(from)),
    })),
    roles: roles.map(({ name }) => {
      const seat = moves[name] ?? seats[name]!;
      const device = seat.on === 'none' ? null : toOf(seat.port) + (seat.on === 'tag' ? `.${seat.tag}` : '');
      return { path: place(name).path, seat, device, moved: name in moves, goes: true, adds: null };
    }),
  } as unknown as PlanView;
  return cablingOf(backup, view);
}

const box = (...names: string[]): Receiver => ({
  name: 'new',
  source: 'typed',
  version: null,
  sections: null,
  ports: names.map((name) => ({
    name,
    mac: null,
    speedMbit: null,
    label: null,
    up: null,
    kind: 'physical',
    parent: null,
  })),
});

describe('rows of ports', () => {
  it('come in the order of their numbers, with what hangs on them, and number the cords', () => {
    const { rows, portless } = marina({ igb10: 'ix0' });
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
    expect(portless.map(({ no, role }) => `${no} ${role.name}`)).toEqual(['4 tunnel']);
  });

  it('tell where each role ends, by the names of the new box', () => {
    const cabling = marina({ igb10: 'ix0' }, { cctv: { on: 'tag', port: 'igb2', tag: 40 }, uplink: { on: 'none' } });
    expect(allCords(cabling).map(({ role, end }) => `${role.name}: ${endWords(end)}`)).toEqual([
      'uplink: no port',
      'cards: ix0, tag 30',
      'cctv: igb2, tag 40',
      'tunnel: no port',
    ]);
  });

  it('make one cable of all that goes from one port to one port', () => {
    const cabling = marina({ igb10: 'ix0' }, { cctv: { on: 'tag', port: 'ix7', tag: 40 } });
    expect(cablesOf(cabling).map(({ from, to, cords }) => `${from} ${to} ${cords.map(({ no }) => no)}`)).toEqual([
      'igb2 igb2 1',
      'igb10 ix0 2',
      'igb10 ix7 3',
      'null null 4',
    ]);
  });

  it('say of a port without a role what it is for', () => {
    const { rows } = marina();
    const bare = { ...rows[0]!, devices: [{ ...rows[0]!.devices[0]!, roles: [] }] };
    expect([bare, { ...bare, partOf: 'lagg0' }, rows[1]!].map(bareWords)).toEqual([
      'no role',
      'part of lagg0',
      'trunk',
    ]);
  });

  it('suggest what goes on in a row begun, then the old names', () => {
    const { rows } = marina({ igb10: 'ix0' });
    expect(suggestions(rows, 'igb2')).toEqual(['ix1', 'igb2', 'igb10']);
    expect(suggestions(marina().rows, 'igb2')).toEqual(['igb2', 'igb10']);
  });

  it('suggest the ports of a known box, the free ones first', () => {
    expect(suggestions(marina({ igb10: 'ix0' }).rows, 'igb2', ['ix0', 'ix1'])).toEqual(['ix1', 'ix0', 'igb2']);
  });

  it('refuse names that no device has', () => {
    expect(nameTrouble('ix0')).toBeNull();
    expect(nameTrouble('0/3')).toBeNull();
    expect(nameTrouble('ix 0')).toMatch(/blanks/);
    expect(nameTrouble('ix<0')).toMatch(/none of/);
  });
});

const finding = (code: Finding['code'], params: Finding['params']): Finding => ({
  code,
  severity: 'error',
  place: null,
  params,
  byPlan: true,
});

describe('sockets of the new box', () => {
  it('are those of its description, and names that it lacks where something ends', () => {
    const { sockets } = socketsOf(marina({ igb10: 'ix0' }), box('ix0', 'ix1'), []);
    expect(sockets.map((socket) => `${socket.name} ${socket.port !== null} ${isFree(socket)}`)).toEqual([
      'ix0 true false',
      'ix1 true true',
      'igb2 false false',
    ]);
    expect(sockets[0]!.cords.map(({ role }) => role.name)).toEqual(['cards', 'cctv']);
  });

  it('keep names apart that differ in capital letters only', () => {
    const { sockets } = socketsOf(marina({ igb2: 'IX0', igb10: 'ix0' }), box('ix0', 'IX0'), []);
    expect(sockets.map(({ name, cords }) => `${name} ${cords.length}`)).toEqual(['ix0 2', 'IX0 1']);
  });

  it('are drawn as far as they are used, and free ones while there is room', () => {
    const many = box('igb2', ...Array.from({ length: 500 }, (_, at) => `ix${at}`), 'igb10');
    const { sockets } = socketsOf(marina(), many, []);
    expect(sockets).toHaveLength(502);
    const shown = shownSockets(sockets, 24);
    expect(shown).toHaveLength(24);
    expect(shown.map(({ name }) => name)).toEqual(expect.arrayContaining(['igb2', 'igb10', 'ix0', 'ix21']));
  });

  it('carry what is wrong with them', () => {
    const wrong = [
      finding('port-not-on-receiver', { port: 'igb2', role: 'uplink' }),
      finding('role-shares-device', { port: 'ix0.30', role: 'cctv', other: 'cards' }),
      finding('role-without-port', { role: 'tunnel' }),
      finding('reference-dangling', { value: 'x' }),
    ];
    const { sockets, ofRole } = socketsOf(marina({ igb10: 'ix0' }), box('ix0'), wrong);
    expect(sockets.map(({ name, wrong }) => `${name} ${wrong.map(({ code }) => code)}`)).toEqual([
      'igb2 port-not-on-receiver',
      'ix0 role-shares-device',
    ]);
    expect([...ofRole.keys()]).toEqual([place('tunnel').path]);
  });
});

describe('what cannot be done', () => {
  it('shows where the role ends, or at the role that has no end', () => {
    const noPlace = { role: 'tunnel', path: place('tunnel').path, what: 'port', trouble: 'plan-role-no-place' };
    const onPort = socketsOf(marina({}, { tunnel: { on: 'port', port: 'ix9' } }), box('ix9'), [
      finding('plan-entry', noPlace),
    ]);
    expect(onPort.sockets.find(({ name }) => name === 'ix9')!.wrong).toHaveLength(1);
    const nowhere = socketsOf(marina(), box('ix9'), [finding('plan-entry', noPlace)]);
    expect(nowhere.ofRole.get(place('tunnel').path)).toHaveLength(1);
  });

  it('shows at the port where it is about a port, and other troubles of a plan not at all', () => {
    const tag = { port: 'igb2', tag: 30, trouble: 'plan-tag-no-record' };
    const { sockets, ofRole } = socketsOf(marina({ igb2: 'ix9' }), box('ix9'), [
      finding('plan-entry', tag),
      finding('plan-entry', { path: '/b[1]/x[1]', trouble: 'plan-value-gone' }),
    ]);
    expect(sockets.map(({ name, wrong }) => `${name} ${wrong.length}`)).toEqual(['ix9 1', 'igb10 0']);
    expect(ofRole.size).toBe(0);
  });

  it('is told once for a port that the new box lacks, however many roles need it', () => {
    const wrong = ['cards', 'cctv'].map((role) => finding('port-not-on-receiver', { port: 'igb10', role }));
    const { sockets } = socketsOf(marina(), box('igb2'), wrong);
    expect(sockets[0]).toMatchObject({ name: 'igb10', wrong: [wrong[0]] });
  });
});

describe('what a drop does', () => {
  const dropped = (cabling: ReturnType<typeof marina>, held: Held, name: string, receiver: Receiver | null = null) => {
    const { sockets } = socketsOf(cabling, receiver, []);
    return dropOn(cabling, held, sockets.find((socket) => socket.name === name) ?? bareSocket(name));
  };
  const port = (cabling: ReturnType<typeof marina>, name: string): Held => ({
    kind: 'port',
    row: cabling.rows.find((row) => row.name === name)!,
  });
  const roleOf = (cabling: ReturnType<typeof marina>, name: string): Held => ({
    kind: 'role',
    cord: allCords(cabling).find((cord) => cord.role.name === name)!,
  });

  it('renames a port that goes to a free one, and takes the rename back where it returns', () => {
    const cabling = marina();
    expect(dropped(cabling, port(cabling, 'igb2'), 'ix0', box('ix0'))).toMatchObject({
      do: 'step',
      step: { decisions: [{ kind: 'rename-port', from: 'igb2', to: 'ix0' }], withdrawn: [] },
    });
    const moved = marina({ igb2: 'ix0' });
    expect(dropped(moved, port(moved, 'igb2'), 'igb2')).toMatchObject({
      do: 'step',
      step: { decisions: [], withdrawn: ['rename-port igb2'] },
    });
    expect(dropped(moved, port(moved, 'igb2'), 'ix0')).toEqual({ do: 'nothing' });
  });

  it('asks where another port is, and offers to swap', () => {
    const cabling = marina();
    const drop = dropped(cabling, port(cabling, 'igb2'), 'igb10');
    expect(drop).toMatchObject({ do: 'ask', holds: 'cards and cctv' });
    expect(drop.do === 'ask' && drop.choices.map(({ title, step }) => [title, step.decisions])).toEqual([
      [
        'Swap igb2 and igb10',
        [
          { kind: 'rename-port', from: 'igb2', to: 'igb10' },
          { kind: 'rename-port', from: 'igb10', to: 'igb2' },
        ],
      ],
      ['Put both on igb10', [{ kind: 'rename-port', from: 'igb2', to: 'igb10' }]],
    ]);
  });

  it('moves a role with its VLAN ID, by the old name of the port', () => {
    const cabling = marina({ igb2: 'ix0' });
    expect(dropped(cabling, roleOf(cabling, 'cards'), 'ix0')).toMatchObject({
      do: 'step',
      step: { decisions: [{ kind: 'move-role', to: { on: 'tag', port: 'igb2', tag: 30 } }] },
    });
  });

  it('asks where another role has the place, and swaps only the two', () => {
    const cabling = marina({}, { cctv: { on: 'port', port: 'ix7' } });
    const drop = dropped(cabling, roleOf(cabling, 'uplink'), 'ix7');
    expect(drop.do === 'ask' && drop.choices[0]!.step.decisions).toEqual([
      { kind: 'move-role', role: place('uplink').path, to: { on: 'port', port: 'ix7' } },
      { kind: 'move-role', role: place('cctv').path, to: { on: 'port', port: 'igb2' } },
    ]);
  });

  it('takes the port along with a role that is written in the record of its own port', () => {
    const cabling = marina();
    const cord = { ...allCords(cabling)[0]!, role: role('igb2', 'igb2') };
    const row = { ...cabling.rows[0]!, devices: [{ ...cabling.rows[0]!.devices[0]!, roles: [cord] }] };
    const own = { ...cabling, rows: [row, cabling.rows[1]!] };
    expect(dropOn(own, { kind: 'role', cord }, bareSocket('ix0'))).toMatchObject({
      do: 'step',
      step: { decisions: [{ kind: 'rename-port', from: 'igb2', to: 'ix0' }] },
    });
  });

  it('says why a role cannot have the name of a port that was put elsewhere', () => {
    const cabling = marina({ igb2: 'ix0' });
    const cord = allCords(cabling).find(({ role }) => role.name === 'cards')!;
    expect(moveRole(cabling, cord, 'igb2', 30)).toMatch(/belongs to a port that you put elsewhere/);
  });
});

describe('what mends a finding', () => {
  it('is a free port, or the way back', () => {
    const cabling = marina({}, { cctv: { on: 'port', port: 'igb2' } });
    const wrong = [finding('role-shares-device', { port: 'igb2', role: 'cctv', other: 'uplink' })];
    const { sockets } = socketsOf(cabling, box('igb2', 'igb10', 'ix5'), wrong);
    expect(mendings(wrong[0]!, cabling, sockets).map(({ name }) => name)).toEqual([
      'Move cctv to ix5',
      'Give cctv back to igb10.40',
    ]);
  });

  it('gives a clashing port another name', () => {
    const cabling = marina({ igb2: 'igb10' });
    const wrong = [finding('port-doubled', { port: 'igb10', from: 'igb2, igb10' })];
    const { sockets } = socketsOf(cabling, null, wrong);
    expect(mendings(wrong[0]!, cabling, sockets).map(({ decisions, withdrawn }) => [decisions, withdrawn])).toEqual([
      [[], ['rename-port igb2']],
    ]);
  });
});

describe('roles that say port and VLAN ID themselves', () => {
  it('stand on the old box as VLANs of the port', () => {
    const ports = [
      { name: 'igb10', kind: 'physical', parent: null, tag: null, roles: ['cctv', 'cards'], mentions: 2, partOf: null },
    ];
    const roles = [
      { ...role('cctv', 'igb10'), tag: 40 },
      { ...role('cards', 'igb10'), tag: 30 },
    ];
    const view = {
      ports: [{ from: 'igb10', to: 'ix0', clashes: [] }],
      roles: roles.map(({ name, tag }) => ({
        path: place(name).path,
        seat: { on: 'tag', port: 'igb10', tag },
        device: null,
        moved: false,
        goes: true,
        adds: null,
      })),
    } as unknown as PlanView;
    const { rows } = cablingOf({ ports, roles } as unknown as BackupView, view);
    expect(rows[0]!.devices.map((device) => [deviceTitle(device, 'igb10'), device.roles.map(({ no }) => no)])).toEqual([
      ['igb10', []],
      ['VLAN 30', [1]],
      ['VLAN 40', [2]],
    ]);
    expect(allCords({ rows, portless: [] }).map(({ role: { name }, end }) => [name, endWords(end)])).toEqual([
      ['cards', 'ix0, tag 30'],
      ['cctv', 'ix0, tag 40'],
    ]);
    expect(allCords({ rows, portless: [] }).map((cord) => tagBefore({ rows, portless: [] }, cord))).toEqual([30, 40]);
  });
});

describe('the patch bay', () => {
  const bayOf = (cabling: ReturnType<typeof marina>, ends: (name: string) => boolean = () => true) =>
    layBay(cabling, socketsOf(cabling, null, []).sockets, 970, (cord) => cord.end !== null && ends(cord.role.name));

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
    const bay = bayOf(marina({ igb2: 'ix9', igb10: 'ix0' }));
    expect(bay.fresh.map(({ socket }) => socket.name)).toEqual(['ix0', 'ix9']);
    const trunk = bay.bundles.find(({ key }) => key === 'igb10 > ix0')!;
    expect(trunk.sheath).not.toBeNull();
    expect(bay.bundles.find(({ key }) => key === 'igb2 > ix9')!.sheath).toBeNull();
    expect(trunk.strands.map(({ no }) => no)).toEqual([2, 3]);
    expect(bay.harnesses).toMatchObject([{ size: 2, whole: true }]);
    expect(bay.flags.map(({ cord }) => cord.no)).toEqual([1, 2, 3, 4]);
    expect(bay.height).toBeGreaterThan(4 * 37);
  });

  it('parts a harness where its roles go to two ports', () => {
    const bay = bayOf(marina({}, { cctv: { on: 'tag', port: 'igb2', tag: 40 } }));
    expect(bay.harnesses).toMatchObject([{ size: 2, whole: false }]);
    expect(bay.bundles.filter(({ key }) => key.startsWith('igb10 > ')).map(({ key }) => key)).toEqual([
      'igb10 > igb10',
      'igb10 > igb2',
    ]);
  });

  it('lets a role that stays behind hang down to a loose end', () => {
    const bay = bayOf(marina(), (name) => name !== 'cards');
    expect(bay.bundles.flatMap(({ loose }) => loose.map(({ no }) => no))).toEqual([2, 4]);
  });

  it('puts two ports that clash on one plate, one beside the other', () => {
    const bay = bayOf(marina({ igb2: 'igb10' }));
    expect(bay.fresh.map(({ socket }) => [socket.name, socket.rows.length])).toEqual([['igb10', 2]]);
    const ends = bay.bundles
      .filter(({ key }) => key.includes(' > '))
      .flatMap(({ strands }) => strands.map(({ d }) => Number(d.slice(d.lastIndexOf(' ')))));
    expect(new Set(ends).size).toBe(ends.length);
  });
});
