import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readDevices } from '../../src/core/index.ts';
import { plain } from '../../src/words/said.ts';
import { placeWords, troubleWords } from '../../src/words/trouble.ts';
import { runs } from '../laws/seed.ts';
import { devices, refused, sample, short } from './support.ts';

describe('a paste that is something else', () => {
  test.each([
    ['<!DOCTYPE html><html><body>eth0</body></html>', 'html'],
    ['<?xml version="1.0"?><box><port>eth0</port></box>', 'xml'],
    ['{"name": "eth0", "up": true}', 'json'],
    ['[1, 2, 3]', 'json'],
    ['{"plan": 1, "ports": {"igb0": "ix0"}}', 'saved-plan'],
    ['{"receiver": 1, "ports": []}', 'saved-receiver'],
    [sample('ip-j-link.json').slice(0, 700), 'json-cut'],
    [sample('ip-j-route.json'), 'routes'],
    [sample('ip-route.txt'), 'routes'],
    [
      'Destination        Gateway            Flags     Netif Expire\ndefault            192.0.2.1          UGS        igb0',
      'routes',
    ],
    ['? (192.0.2.1) at 00:00:5e:00:53:01 on igb0 expires in 1200 seconds [ethernet]', 'neighbours'],
    ['192.0.2.1 dev eth0 lladdr 00:00:5e:00:53:01 REACHABLE', 'neighbours'],
    ['00:00:5e:00:53:01\n00:00:5e:00:53:02', 'addresses'],
    ['[Match]\nName=eth0\n\n[Network]\nDHCP=yes', 'settings'],
    ['auto = eth0\niface = "lan"\n# comment here', 'settings'],
    ['-bash: ip: command not found', 'command-failed'],
    ['Device "eth9" does not exist.', 'command-failed'],
    ['ifconfig: interface em9 does not exist', 'command-failed'],
    [sample('ip-help.txt'), 'command-failed'],
    ['root@kqm-gw2:~# ip -br link\nroot@kqm-gw2:~#', 'command-only'],
    ['-----BEGIN CERTIFICATE-----\nMIIB\n-----END CERTIFICATE-----', 'pem'],
    ['The new box has four sockets. Two of them are fast.', 'text'],
    ['Please send the list, it is due', 'text'],
    ['\u0000\u0001\u0002\u0003\u0004\u0005', 'binary'],
  ])('%j', (text, look) => {
    const trouble = refused(text);
    expect(trouble).toMatchObject({ code: 'paste-not-devices', params: { look } });
    const { sentence, advice } = troubleWords(trouble);
    expect(plain(sentence)).not.toMatch(/undefined|another kind/);
    expect(advice).not.toBe('');
  });

  test('each look has words of its own', () => {
    const source = readFileSync(
      fileURLToPath(new URL('../../src/core/receiver/from-paste/other-text.ts', import.meta.url)),
      'utf8',
    );
    const looks = [.../type PasteLook =([^;]+);/.exec(source)![1]!.matchAll(/'([^']+)'/g)].map(([, look]) => look!);
    expect(looks.length).toBeGreaterThan(8);
    const said = looks.map((look) => plain(troubleWords({ code: 'paste-not-devices', params: { look } }).sentence));
    expect(new Set(said).size).toBe(looks.length);
    expect(said.join()).not.toContain('another kind');
  });

  test.each(['', ' ', '\r\n\t\n', '\uFEFF', '\uFEFF \n'])('empty: %j', (text) => {
    expect(refused(text).code).toBe('paste-empty');
  });
});

describe('ports that do not fit together', () => {
  test('none but loopback and tunnels', () => {
    const trouble = refused('1: lo: <LOOPBACK,UP,LOWER_UP> mtu 65536\n2: tun0: <POINTOPOINT,NOARP> mtu 1500');
    expect(trouble).toMatchObject({ code: 'receiver-no-ports', params: { shape: 'ip-long', ignored: 2 } });
    expect(plain(troubleWords(trouble).sentence)).toContain('2 devices');
  });

  test('one name twice in a list', () => {
    const trouble = refused('igb0\nigb1\nigb0');
    expect(trouble).toMatchObject({ code: 'receiver-port-doubled', line: 3, params: { port: 'igb0', first: 1 } });
    expect(placeWords(trouble)).toBe('line 3');
  });

  test('one name with two hardware addresses: two boxes in one paste', () => {
    expect(refused('eth0 UP 00:00:5e:00:53:01 <UP>\neth0 UP 00:00:5e:00:53:02 <UP>')).toMatchObject({
      code: 'receiver-port-doubled',
      line: 2,
    });
  });

  test('names that differ in case only are two ports, and said to be alike', () => {
    const read = devices('eth0, ETH0, eth1');
    expect(short(read.receiver.ports)).toEqual(['eth0', 'ETH0', 'eth1']);
    expect(read.troubles).toEqual([{ code: 'receiver-ports-alike', line: 1, params: { port: 'ETH0', other: 'eth0' } }]);
  });

  test('names that JavaScript calls its own', () => {
    const names = ['constructor', 'constructor1', '__proto__', 'toString', 'hasOwnProperty'];
    const read = devices(names.map((name) => `${name} UP 00:00:5e:00:53:01 <UP>`).join('\n'));
    expect(short(read.receiver.ports)).toEqual(names.map((name) => `${name} up`));
    const made = devices('1: eth0: <UP> mtu 1500\n    link/ether 00:00:5e:00:53:01\n    constructor x');
    expect(short(made.receiver.ports)).toEqual(['eth0']);
    const info = devices('[{"ifname": "eth0", "linkinfo": {"info_kind": "constructor"}}]');
    expect(short(info.receiver.ports)).toEqual(['eth0']);
  });
});

describe('size', () => {
  test('500 ports of each shape', () => {
    const names = Array.from({ length: 500 }, (_, at) => `eth${at}`);
    const texts = [
      names.join(' '),
      names.map((name) => `${name} UP 00:00:5e:00:53:01 <UP>`).join('\n'),
      names.map((name, at) => `${at}: ${name}: <UP> mtu 1500 state UP\n    link/ether 00:00:5e:00:53:01`).join('\n'),
      JSON.stringify(names.map((ifname) => ({ ifname, flags: ['UP'], address: '00:00:5e:00:53:01' }))),
      names.map((name) => `${name}: flags=8843<UP> mtu 1500\n\tether 00:00:5e:00:53:01`).join('\n'),
      names.map((name) => `igb 0000:01:00.0 ${name}: Link is Up - 1Gbps/Full`).join('\n'),
    ];
    for (const text of texts) expect(devices(text).receiver.ports.map(({ name }) => name)).toEqual(names);
  });

  test('too long is refused before it is read', () => {
    expect(refused('x'.repeat(8_000_001))).toMatchObject({ code: 'paste-too-large', params: { limit: 8_000_000 } });
  });

  // Long runs of what a pattern may repeat: each must take time in the order of its length.
  test.each(['1', 'a', ' ', 'a ', '0:', '1/', '<', '# ', 'a, ', '[', 'eth0: ', '0000:'])(
    'no pattern runs away on a long line of %j',
    (piece) => {
      const start = performance.now();
      readDevices(piece.repeat(1_000_000 / piece.length));
      expect(performance.now() - start).toBeLessThan(20_000);
    },
  );
});

describe('laws', () => {
  const names = fc.uniqueArray(fc.stringMatching(/^[a-z]{1,6}[0-9]{1,3}$/), { minLength: 1, maxLength: 20 });
  const words = fc.constantFrom(
    'eth0',
    'lo',
    'UP',
    'DOWN',
    '<UP,LOWER_UP>',
    '00:00:5e:00:53:01',
    '1:',
    'igb0:',
    'flags=8843<UP>',
    'link/ether',
    'mtu',
    '\n',
    '\r\n',
    '[',
    '{',
    '}',
    ']',
    '"ifname":',
    '"eth0"',
    ',',
    ':',
    'media:',
    '1000baseT',
    '@',
    '#',
    '$ ip',
    'renamed from',
    'e1000e 0000:00:1f.6 eth0:',
    'Link is Up',
  );

  test('no paste breaks the reader, and no two ports have one name', () => {
    fc.assert(
      fc.property(fc.array(words, { maxLength: 40 }), fc.string(), (parts, tail) => {
        const read = readDevices(parts.join(' ') + tail);
        if (!read.ok) {
          expect(plain(troubleWords(read.trouble).sentence)).not.toContain('undefined');
          return;
        }
        const all = read.value.receiver.ports.map(({ name }) => name);
        expect(all.length).toBeGreaterThan(0);
        expect(new Set(all).size).toBe(all.length);
      }),
      runs(2000),
    );
  });

  test('a list comes back in its order, or all of it is accounted for', () => {
    fc.assert(
      fc.property(names, fc.constantFrom(', ', ' ', '\n', '\r\n', ','), (list, between) => {
        const read = readDevices(list.join(between));
        if (!read.ok) {
          expect(read.trouble.code).toBe('receiver-no-ports');
          return;
        }
        const { receiver, ignored } = read.value;
        const gone = new Set(ignored.map(({ name }) => name));
        expect(receiver.ports.map(({ name }) => name)).toEqual(list.filter((name) => !gone.has(name)));
        expect(receiver.ports.length + ignored.length).toBe(list.length);
      }),
      runs(300),
    );
  });
});
