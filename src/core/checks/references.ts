import type { Dangling, Reading } from '../reading/reading.ts';
import type { Finding } from '../views.ts';
import type { CheckInput } from './input.ts';
import { movedSites } from './moved.ts';
import { carry, causeOf, leaveOut, recordAround, setTo } from './repairs.ts';
import { keyIn } from './set-value.ts';
import { siteKey } from './tables.ts';

/** References without a target: those that the donor already had, and those whose target the plan leaves out. */
export function checkReferences(input: CheckInput): Finding[] {
  const { reading, gone, place, recordNamed, lost } = input;
  const findings: Finding[] = [];
  const folded = otherCase(input);
  for (const dangling of reading.dangling) {
    const { site, value, from, field, tier, nearest } = dangling;
    if (gone(site.node)) continue;
    const written = folded.get(dangling);
    if (written !== undefined) {
      findings.push({
        code: 'reference-case',
        severity: 'warning',
        place: place(site),
        params: { value, field: reading.fields[field]?.name ?? '', written },
        byPlan: lost.has(dangling),
        repairs: setTo(input, 'name-as-written', { to: written }, [{ site, was: value, value: written, from }]),
      });
      continue;
    }
    findings.push({
      code: 'reference-dangling',
      severity: tier === 'possible' ? 'note' : 'warning',
      place: place(site),
      params: { value, field: reading.fields[field]?.name ?? '', ...(nearest !== null && { nearest }) },
      byPlan: lost.has(dangling),
      repairs:
        nearest === null
          ? []
          : setTo(input, 'name-nearest', { to: nearest }, [{ site, was: value, value: nearest, from }]),
    });
  }
  if (!input.leaves) return findings;
  const moved = movedSites(input);
  for (const { site, value, to, field, tier } of reading.references) {
    if (tier === 'possible' || gone(site.node) || !gone(to) || moved.has(siteKey(site.node, site.attr))) continue;
    findings.push({
      code: 'reference-left-out',
      severity: tier === 'certain' ? 'error' : 'warning',
      place: place(site),
      params: { value, field: reading.fields[field]?.name ?? '', target: recordNamed(to) },
      byPlan: true,
      cause: causeOf(input, to),
      repairs: [
        ...carry(input, to, { name: recordNamed(to) }),
        ...leaveOut(input, recordAround(input, site.node), 'leave-out', { too: 1 }),
      ],
    });
  }
  return findings;
}

const caseOf = new WeakMap<Reading, ReadonlyMap<Dangling, string>>();

/** References without a target whose letters are those of an existing name in another case, with that name. */
function otherCase({ tree, reading, set }: CheckInput): ReadonlyMap<Dangling, string> {
  const known = caseOf.get(reading);
  if (known) return known;
  const wanted = new Map<number, Map<string, Dangling[]>>();
  for (const dangling of reading.dangling) {
    for (const target of reading.fields[dangling.field]?.targets ?? []) {
      const names = wanted.get(target) ?? new Map<string, Dangling[]>();
      const folded = dangling.value.toLowerCase();
      names.set(folded, [...(names.get(folded) ?? []), dangling]);
      wanted.set(target, names);
    }
  }
  const found = new Map<Dangling, string>();
  for (const [target, names] of wanted) {
    const { key, label, records } = reading.collections[target]!;
    for (const node of records)
      for (const by of label ? [key, label] : [key]) {
        const name = keyIn(tree, set, by, node);
        for (const dangling of names.get(name.toLowerCase()) ?? [])
          if (name !== dangling.value && !found.has(dangling)) found.set(dangling, name);
      }
  }
  caseOf.set(reading, found);
  return found;
}
