import { expect, test } from 'vitest';
import { nameOf } from '../../src/core/xml/tree.ts';
import { open } from '../carry/files.ts';

// RFC 1918 and RFC 5737 addresses. Chains of rules that leave out what they do not need, each with a name of its own.
const chain = (name: string, ...lines: string[]) =>
  `<chain id="${name}">${lines.map((line, at) => `<line no="${(at + 1) * 10}" do="${at % 2 ? 'drop' : 'pass'}">${line}</line>`).join('')}</chain>`;
const chains = [
  chain('edge-in', '<from>bogons</from>', '<from>own</from>', '<proto>icmp</proto><rate>slow</rate>', '<to>own</to>'),
  chain('edge-out', '<from>own</from>', '<from>guests</from>', '<count>spoofed</count>'),
  chain('guest-in', '<to>own</to>', '<proto>tcp</proto><port>25</port>', '<from>guests</from>', ''),
  chain('far-in', '<from>own</from><proto>tcp</proto><port>22</port>', ''),
];
const sets = ['bogons', 'own', 'guests'].map((name, at) => `<set id="${name}"><prefix>10.${at}.0.0/16</prefix></set>`);

test('lists of rules are of one kind, though their rules say different things: what a few of them do names no rule', () => {
  const { reading, backup } = open(`<box><sets>${sets.join('')}</sets><chains>${chains.join('')}</chains></box>`);
  expect(new Set(reading.references.map(({ value }) => value))).toEqual(new Set(['bogons', 'own', 'guests']));
  expect(reading.dangling).toEqual([]);
  const fours = reading.collections.filter(({ records }) => records.length === chains.length);
  expect(fours.flatMap(({ records }) => records.map((node) => nameOf(backup.tree, node)))).toContain('chain');
});

// Parts of ports by number, 0 for what comes without a tag; two networks sit on parts of a bundle.
const port = (at: number, ...units: number[]) =>
  `<port id="ix${at}"><mac>00:00:5e:00:53:0${at}</mac>${units.map((no) => `<unit no="${no}"><label>u${at}-${no}</label></unit>`).join('')}</port>`;
const seats = ['ix0.0', 'ix1.0', 'ix1.40', 'ix2.0', 'ix2.200', 'pair1.10', 'pair1.20'];
const circuits = seats.map((on, at) => `<circuit id="c-${at}"><on>${on}</on><v4>10.30.${at}.1/24</v4></circuit>`);

test('parts of ports are called by their numbers, of which 0 is one, and those of a bundle as those of ports are', () => {
  const ports = [port(0, 0), port(1, 0, 40), port(2, 0, 200), port(3), port(4)].join('');
  const bundle = '<bundle id="pair1"><leg>ix3</leg><leg>ix4</leg><unit no="10"/><unit no="20"/></bundle>';
  const { reading } = open(`<box><ports>${ports}${bundle}</ports><circuits>${circuits.join('')}</circuits></box>`);
  expect(reading.bindings.map(({ role, port: on }) => `${role} ${on}`)).toEqual(seats.map((on, at) => `c-${at} ${on}`));
});
