import type { Dangling, Reading } from '../../reading/reading.ts';
import type { Finding, Repair } from '../../views.ts';
import { movedSites } from '../devices/moved-roles.ts';
import { siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { recordsByName, renameRecord, usesOf } from '../repairs/renames.ts';
import { carry, causeOf, leaveOut, recordAround, setTo } from '../repairs/repairs.ts';

/** References without a target: those that the donor already had, and those whose target the plan leaves out. */
export function checkReferences(input: CheckInput): Finding[] {
  const { reading, gone, place, recordNamed, lost } = input;
  const findings: Finding[] = [];
  const near = nearRecords(input);
  for (const dangling of reading.dangling) {
    const { site, value, from, field, tier, nearest } = dangling;
    if (gone(site.node)) continue;
    const byPlan = lost.has(dangling);
    const close = near.get(dangling);
    const name = close?.name ?? nearest;
    const isCase = close !== undefined && isSameFolded(close.name, value);
    const setName = (code: Repair['code'], to: string) =>
      setTo(input, code, { to }, [{ site, was: value, value: to, from }]);
    const recurs = !isCase && tier === 'possible';
    findings.push({
      code: isCase ? 'reference-case' : recurs ? 'reference-recurring' : 'reference-dangling',
      severity: recurs ? 'note' : 'warning',
      place: place(site),
      params: {
        value,
        field: reading.fields[field]?.name ?? '',
        ...(name !== null && { [isCase ? 'written' : 'nearest']: name }),
      },
      byPlan,
      cause: { key: `${value}\n${name ?? ''}`, decision: null, lost: null },
      repairs: [
        ...(close && !byPlan ? renameAsNamed(input, close, value) : []),
        ...(name === null ? [] : setName(isCase ? 'name-as-written' : 'name-nearest', name)),
      ],
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

/** The record that a name without one was meant for, by what it is called. */
interface Near {
  readonly record: number;
  readonly name: string;
  /** How many places name it otherwise, all alike. */
  readonly asNamed: number;
}

const isSameFolded = (a: string, b: string) => a.toLowerCase() === b.toLowerCase();

const nearIn = new WeakMap<Reading, ReadonlyMap<Dangling, Near>>();

/** For names without a record the one whose letters are the same in another case, else the nearest. */
function nearRecords(input: CheckInput): ReadonlyMap<Dangling, Near> {
  const { reading } = input;
  const known = nearIn.get(reading);
  if (known) return known;
  const found = new Map<Dangling, { record: number; name: string }>();
  const wanted = new Map<number, Map<string, Dangling[]>>();
  for (const dangling of reading.dangling)
    for (const target of reading.fields[dangling.field]?.targets ?? []) {
      const names = wanted.get(target) ?? new Map<string, Dangling[]>();
      for (const name of new Set([dangling.value.toLowerCase(), dangling.nearest?.toLowerCase() ?? ''])) {
        const list = names.get(name);
        if (list) list.push(dangling);
        else names.set(name, [dangling]);
      }
      wanted.set(target, names);
    }
  for (const [target, names] of wanted)
    for (const [name, records] of recordsByName(input, target))
      for (const dangling of names.get(name.toLowerCase()) ?? []) {
        if (name === dangling.value || records.length === 0) continue;
        const isCase = isSameFolded(name, dangling.value);
        const before = found.get(dangling);
        if (before && (!isCase || isSameFolded(before.name, dangling.value))) continue;
        if (isCase || name === dangling.nearest) found.set(dangling, { record: records[0]!, name });
      }
  const counts = new Map<string, number>();
  const keyOf = (dangling: Dangling) => `${found.get(dangling)!.record} ${dangling.value}`;
  for (const dangling of found.keys()) counts.set(keyOf(dangling), (counts.get(keyOf(dangling)) ?? 0) + 1);
  const near = new Map(
    [...found].map(([dangling, own]) => [dangling, { ...own, asNamed: counts.get(keyOf(dangling))! }]),
  );
  nearIn.set(reading, near);
  return near;
}

const digits = (name: string) => name.replace(/\D+/g, ' ').trim();

/**
 * The record called as others call it, where more of them do than not: then its own name is the odd one. Names that differ
 * by a number are those of two things.
 */
function renameAsNamed(input: CheckInput, { record, name, asNamed }: Near, to: string): Repair[] {
  if (asNamed < 2 || asNamed <= usesOf(input, record, name) || digits(name) !== digits(to)) return [];
  return renameRecord(input, record, name, to, { as: asNamed });
}
