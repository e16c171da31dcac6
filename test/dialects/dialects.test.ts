import { XMLValidator } from 'fast-xml-parser';
import { describe, expect, test } from 'vitest';
import { faults, readPaths } from './check.ts';
import { type Generated, generateDialect, SCHOOL_NAMES } from './generate.ts';
import type { PortMap } from './ports.ts';

const SEEDS = Array.from({ length: 60 }, (_, i) => i + 1);

const UNIFORM_TAGS = new Set(['rows', 'properties', 'pairs']);

function renamed(text: string, ports: PortMap): string {
  const names = Object.keys(ports).sort((a, b) => b.length - a.length);
  for (const n of names) if (text.startsWith(n)) return ports[n] + text.slice(n.length);
  return text;
}

describe.each([
  ['generated dialects', {}],
  ['generated dialects whose networks meet their ports in further ways', { meeting: true }],
] as const)('%s', { timeout: 60_000 }, (_, options) => {
  const all = new Map(SEEDS.map((seed) => [seed, generateDialect(seed, options)]));
  const made = (seed: number): Generated => all.get(seed) as Generated;

  test('are well formed for two readers, and every truth path resolves', () => {
    for (const seed of SEEDS) {
      const g = made(seed);
      // fast-xml-parser's validator and saxes are both independent of the writer under test.
      expect(XMLValidator.validate(g.xml), `seed ${seed} ${g.school}`).toBe(true);
      expect(faults(g.xml, g.truth), `seed ${seed} ${g.school}`).toEqual([]);
    }
  });

  test('are the same for the same seed', () => {
    for (const seed of [1, 2, 3, 17, 40]) {
      expect(generateDialect(seed, options).xml).toBe(generateDialect(seed, options).xml);
      expect(generateDialect(seed, options).truth).toEqual(generateDialect(seed, options).truth);
    }
  });

  test('differ for other ports at the ports of the truth, and nowhere else', () => {
    for (const seed of SEEDS) {
      const g = made(seed);
      const before = [...readPaths(g.xml)];
      for (const ports of [g.truth.moved, g.truth.swapped]) {
        const after = [...readPaths(g.render(ports).xml)];
        const wanted = new Map<string, string[]>();
        for (const p of g.truth.ports) wanted.set(p.at, [...(wanted.get(p.at) ?? []), p.value]);
        const wrong = before.find(([path, text], i) => {
          // From the end, and never behind what was replaced: a new name must not be taken for an old one.
          let want = text;
          let end = text.length;
          for (const value of [...(wanted.get(path) ?? [])].reverse()) {
            end = text.lastIndexOf(value, end - value.length);
            want = want.slice(0, end) + renamed(value, ports) + want.slice(end + value.length);
          }
          return after[i]?.[0] !== path || after[i]?.[1] !== want;
        });
        expect(wrong, `seed ${seed}`).toBeUndefined();
        expect(after.length).toBe(before.length);
      }
    }
  });

  test('hold what a technician has to find: references, 2 to 8 dangling ones, ports, secrets, certificates', () => {
    for (const seed of SEEDS) {
      const { truth } = made(seed);
      expect(truth.refs.length, `seed ${seed}`).toBeGreaterThan(15);
      expect(truth.dangling.length, `seed ${seed}`).toBeGreaterThanOrEqual(2);
      expect(truth.dangling.length, `seed ${seed}`).toBeLessThanOrEqual(8);
      expect(truth.bindings.length, `seed ${seed}`).toBeGreaterThanOrEqual(3);
      expect(truth.certificates.length, `seed ${seed}`).toBeGreaterThanOrEqual(2);
      expect(truth.secrets.length, `seed ${seed}`).toBeGreaterThanOrEqual(3);
      // Where words say nothing a console is not told from any other pair of numbers.
      if (!['opaque', 'letters'].includes(String(truth.dialect.fields)))
        expect(truth.hardware.length, `seed ${seed}`).toBeGreaterThanOrEqual(1);
    }
  });

  test('say the same of the same value wherever one field holds it', () => {
    for (const seed of SEEDS) {
      const { xml, truth } = made(seed);
      const field = (path: string): string => path.replace(/\[\d+\]/g, '');
      const named = new Map<string, Set<string>>();
      const marked = new Set<string>();
      for (const r of [...truth.refs, ...truth.dangling]) {
        const f = field(r.at);
        named.set(f, (named.get(f) ?? new Set()).add(r.value));
        marked.add(r.at);
      }
      const unmarked = [...readPaths(xml)].filter(
        ([path, text]) => !marked.has(path) && named.get(field(path))?.has(text.trim()) === true,
      );
      // Where one tag serves all fields, the field is not told by the path.
      if (!UNIFORM_TAGS.has(made(seed).school))
        expect(unmarked.map(([path, text]) => `${path} ${text}`).slice(0, 3), `seed ${seed}`).toEqual([]);
    }
  });

  test('come from every school', () => {
    for (const school of SCHOOL_NAMES)
      for (const seed of [2, 3, 5]) {
        const g = generateDialect(seed, { ...options, school });
        expect(g.school).toBe(school);
        expect(faults(g.xml, g.truth), `${school} seed ${seed}`).toEqual([]);
      }
  });
});
