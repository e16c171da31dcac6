import { describe, expect, test } from 'vitest';
import { build, CarryView, emptyPlan, inspect, planOf } from '../../src/core/index.ts';
import { lastStep } from '../../src/words/decisions.ts';
import { open } from './files.ts';

const object = (id: number, kind: string, fields: Record<string, string>) =>
  `<object id="o${id}" class="quay.${kind}">${Object.entries(fields)
    .map(([name, value]) => `<field name="${name}">${value}</field>`)
    .join('')}</object>`;
const names = ['Office', 'Cards', 'Guests'];
const ports = names.map((_, at) => object(10 + at, 'Port', { device: `re${at}` }));
const segments = names.map((name, at) =>
  object(20 + at, 'Segment', { label: name, port: `o${10 + at}`, address: `10.20.${at}.1` }),
);
const rules = names.map((_, at) => object(30 + at, 'Rule', { segment: `o${20 + at}`, verdict: 'pass' }));
const clock = object(9, 'Clock', { zone: 'Europe/Dublin', server: '192.0.2.123' });
/** Records of all kinds under one tag, side by side. */
const graph = (...objects: readonly string[]) => `<graph>\n${objects.join('\n')}\n</graph>\n`;
const all = graph(clock, ...ports, ...segments, ...rules);

describe('records of several kinds under one tag', () => {
  const file = open(all);
  const view = new CarryView(file.backup, file.reading, emptyPlan);
  const tops = view.children(null, 0, 20).rows;

  test('are a section each, called by their kind', () => {
    expect(inspect(file.backup, file.reading).sections.map(({ name, path }) => `${name} ${path}`)).toEqual([
      'quay.Clock /graph[1]/object[1]',
      'quay.Port /graph[1]/object{quay.Port}[*]',
      'quay.Segment /graph[1]/object{quay.Segment}[*]',
      'quay.Rule /graph[1]/object{quay.Rule}[*]',
    ]);
    expect(lastStep('/graph[1]/object{quay.Port}[*]')).toBe('all quay.Port');
  });

  test('have a row each, with their own records in it', () => {
    const inside = tops.slice(1).map(({ id, name }) => [name, ...view.children(id, 0, 20).rows.map((row) => row.name)]);
    expect(inside).toEqual([
      ['quay.Port', 'o10', 'o11', 'o12'],
      ['quay.Segment', ...names],
      ['quay.Rule', 'o30', 'o31', 'o32'],
    ]);
  });

  test.each([
    ['quay.Port', graph(clock, ...segments, ...rules)],
    ['quay.Rule', graph(clock, ...ports, ...segments)],
  ])('stay behind by themselves: %s', (kind, left) => {
    const path = tops.find(({ name }) => name === kind)!.id;
    const built = build(file.backup, file.reading, planOf([{ kind: 'leave-out', path }]));
    expect(built.ok && new TextDecoder().decode(built.value.bytes)).toBe(left);
  });

  test('a path without a kind means all of them', () => {
    const built = build(file.backup, file.reading, planOf([{ kind: 'leave-out', path: '/graph[1]/object[*]' }]));
    expect(built.ok && new TextDecoder().decode(built.value.bytes)).toBe(graph(clock));
  });
});
