import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';

// RFC 1918 addresses. A box whose ports are called by letters, as are its yes and no.
const letters = [...'ABCDEF'];
const ports = letters.map((name, at) => `<socket><ident>64424${at}2f1c</ident><name>${name}</name></socket>`);
const tags = [20, 30, 40].map(
  (tag) => `<tagged><name>C.${tag}</name><below>C</below><vlan>${tag}</vlan><off>F</off></tagged>`,
);
const on = ['A', 'B', 'C.20', 'C.30', 'D'];
const nets = ['uplink', 'office', 'tills', 'cctv', 'slip'].map(
  (name, at) => `<net><ident>${name}</ident><device>${on[at]}</device><off>F</off><ip>10.20.${at}.1/24</ip></net>`,
);
const people = ['F', 'F', 'T'].map((off, at) => `<person><login>kq${at}</login><off>${off}</off></person>`);

test('yes and no are no ports that are called by the same letter', () => {
  const lists = [ports, tags, nets, people].map((list, at) => `<list${at}>${list.join('')}</list${at}>`);
  const { reading } = open(`<box>${lists.join('')}</box>`);
  expect(reading.fields.filter(({ name }) => name.endsWith('off'))).toEqual([]);
  expect(reading.mentions.filter(({ port }) => port === 'F')).toEqual([]);
  expect(reading.dangling).toEqual([]);
});
