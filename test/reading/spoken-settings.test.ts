import { expect, test } from 'vitest';
import { open } from '../carry/files.ts';
import { linksOf } from './links.ts';

// RFC 1918 addresses at the marina. Records have a name, and a sentence that says the rest.
const nets = ['office', 'tills', 'cctv', 'guests', 'yard', 'fuel'];
const sockets = nets.map((_, at) => `<socket><name>em${at}</name><mac>00:00:5e:00:53:2${at}</mac></socket>`);
const networks = nets.map(
  (name, at) => `<network><name>${name}</name><line>on em${at} with 10.40.${at}.1/24</line></network>`,
);
const hosts = ['till-1', 'till-2', 'recorder', 'printer', 'pump', 'crane'];
const people = hosts.map((name, at) => `<who><name>${name}</name><ip>10.40.${at}.7</ip></who>`);
const talks = ['web-pages', 'live-video', 'printing', 'lookups'];
const speech = talks.map((name, at) => `<talk><name>${name}</name><port>${8000 + at}</port></talk>`);
const says = [
  'allow office to reach printer by printing',
  'allow office to reach recorder by live-video or web-pages',
  'allow tills to reach anyone by web-pages or lookups',
  'allow cctv to reach recorder by live-video',
  'allow yard to reach crane by web-pages',
  'allow fuel to reach pump by web-pages',
  'forbid guests to reach office by web-pages',
  'forbid yard to reach gopher by web-pages',
];
const orders = says.map((text, at) => `<order no="${at * 5}">${text}</order>`);
const box = (rules: readonly string[]) =>
  `<book><a>${sockets.join('')}</a><b>${networks.join('')}</b><c>${people.join('')}</c><d>${speech.join('')}</d><e>${rules.join('')}</e></book>`;

test('sentences beside names say which port a network is on', () => {
  const { reading } = open(box(orders));
  expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual(
    nets.map((name, at) => `${name} em${at}`),
  );
});

test('sentences of rules name records, also where an attribute stands beside them', () => {
  const { names, gone } = linksOf(box(orders));
  expect(names).toContain('allow/or lookups -> talk');
  expect(names).toContain('allow/reach recorder -> who');
  expect(names.filter((name) => name.startsWith('forbid')).sort()).toEqual([
    'forbid/by web-pages -> talk',
    'forbid/by web-pages -> talk',
    'forbid/forbid guests -> network',
    'forbid/forbid yard -> network',
    'forbid/reach office -> network',
  ]);
  expect(gone).toEqual(['gopher']);
});

test('remarks that say a name each are no settings', () => {
  const notes = [2, 3, 4, 1].map((at) => `<note when="2026-0${at}-01">swapped the cable of em${at}</note>`);
  const { reading } = open(box([...orders, ...notes]));
  expect(reading.values.fields.filter(({ template }) => /swapped|cable/.test(template))).toEqual([]);
  expect(reading.mentions.every(({ value }) => value.startsWith('em'))).toBe(true);
  expect(reading.remarks.map(({ port }) => port)).toEqual(['em2', 'em3', 'em4', 'em1']);
});

// Lines that are rules by themselves: lists, names in brackets, words that say yes, remarks behind them.
const rules = [
  'let office(printer) to gate for lookups, web-pages log',
  'let office to gate for lookups, web-pages',
  'let tills, yard to gate for lookups',
  'let tills(till-1) to office(printer) for printing  # until the new one is there',
  'bar tills to office, cctv log',
  'let office to cctv(recorder) for live-video, web-pages',
  'let yard(crane) to office(printer) for web-pages off',
  'bar yard, guests to office, tills, cctv, fuel',
  'let attic to gate for web-pages off  # gone since the flood',
  'let guests to gate for web-pages, faxes',
  'bar guests to guests log',
];
const lines = rules.map((text, at) => `<line n="${at * 10}">${text}</line>`);

test('lines with lists, brackets and remarks name records, and what is gone', () => {
  const { names, gone } = linksOf(box(lines));
  const of = (kind: string) => names.filter((name) => name.startsWith(`phrase/${kind} `));
  expect(of('let')).toEqual(
    'office office tills yard tills office yard guests'.split(' ').map((name) => `phrase/let ${name} -> network`),
  );
  expect(of('let()')).toEqual(['printer', 'till-1', 'crane'].map((name) => `phrase/let() ${name} -> who`));
  expect(of('to')).toEqual(
    'office office cctv cctv office office tills cctv fuel guests'
      .split(' ')
      .map((name) => `phrase/to ${name} -> network`),
  );
  expect(of('for')).toHaveLength(11);
  expect(gone.toSorted()).toEqual(['attic', 'faxes']);
});

test('texts beside others are no lines of rules', () => {
  const notes = lines.map((line, at) => `<order><name>order-${at}</name>${line.replaceAll('line', 'says')}</order>`);
  expect(linksOf(box(notes)).names.filter((name) => name.startsWith('phrase/'))).toEqual([]);
});
