import { XMLValidator } from 'fast-xml-parser';
import { describe, expect, test } from 'vitest';
import { faults, readPaths } from './check.ts';
import { generateDialect, SCHOOL_NAMES } from './generate.ts';
import type { PortMap } from './ports.ts';

const SEEDS = Array.from({ length: 90 }, (_, i) => i + 1);

function renamed(text: string, ports: PortMap): string {
  const names = Object.keys(ports).sort((a, b) => b.length - a.length);
  for (const n of names) if (text.startsWith(n)) return ports[n] + text.slice(n.length);
  return text;
}

describe('generated dialects', () => {
  test('are well formed for two readers, and every truth path resolves', () => {
    for (const seed of SEEDS) {
      const g = generateDialect(seed);
      // fast-xml-parser's validator and saxes are both independent of the writer under test.
      expect(XMLValidator.validate(g.xml), `seed ${seed} ${g.school}`).toBe(true);
      expect(faults(g.xml, g.truth), `seed ${seed} ${g.school}`).toEqual([]);
    }
  });

  test('are the same for the same seed', () => {
    for (const seed of [1, 2, 3, 17, 40]) {
      expect(generateDialect(seed).xml).toBe(generateDialect(seed).xml);
      expect(generateDialect(seed).truth).toEqual(generateDialect(seed).truth);
    }
  });

  test('differ for other ports at the ports of the truth, and nowhere else', () => {
    for (const seed of SEEDS) {
      const g = generateDialect(seed);
      const before = [...readPaths(g.xml)];
      for (const ports of [g.truth.moved, g.truth.swapped]) {
        const after = [...readPaths(g.render(ports).xml)];
        expect(after.length).toBe(before.length);
        const wanted = new Map<string, string[]>();
        for (const p of g.truth.ports) wanted.set(p.at, [...(wanted.get(p.at) ?? []), p.value]);
        for (const [i, [path, text]] of before.entries()) {
          // From the end, and never behind what was replaced: a new name must not be taken for an old one.
          let want = text;
          let end = text.length;
          for (const value of [...(wanted.get(path) ?? [])].reverse()) {
            end = text.lastIndexOf(value, end - value.length);
            want = want.slice(0, end) + renamed(value, ports) + want.slice(end + value.length);
          }
          expect(after[i]?.[1], `seed ${seed} ${path}`).toBe(want);
        }
      }
    }
  });

  test('hold what a technician has to find: references, 2 to 8 dangling ones, ports, secrets, certificates', () => {
    for (const seed of SEEDS) {
      const { truth } = generateDialect(seed);
      expect(truth.refs.length, `seed ${seed}`).toBeGreaterThan(15);
      expect(truth.dangling.length, `seed ${seed}`).toBeGreaterThanOrEqual(1);
      expect(truth.dangling.length, `seed ${seed}`).toBeLessThanOrEqual(8);
      expect(truth.bindings.length, `seed ${seed}`).toBeGreaterThanOrEqual(3);
      expect(truth.certificates.length, `seed ${seed}`).toBeGreaterThanOrEqual(2);
      expect(truth.secrets.length, `seed ${seed}`).toBeGreaterThanOrEqual(3);
      expect(truth.hardware.length, `seed ${seed}`).toBeGreaterThanOrEqual(1);
    }
  });

  test('come from every school', () => {
    for (const school of SCHOOL_NAMES)
      for (const seed of [2, 3, 5]) {
        const g = generateDialect(seed, { school });
        expect(g.school).toBe(school);
        expect(faults(g.xml, g.truth), `${school} seed ${seed}`).toEqual([]);
      }
  });
});
