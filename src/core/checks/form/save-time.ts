import { earliest, toIso } from '../../values/time.ts';
import type { Finding } from '../../views.ts';
import { siteKey, siteOf } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';

/** Clocks of two boxes that keep time differ by less; common practice, no source. */
const SLACK = 5 * 60_000;

/** A backup that was saved at a time that has not come yet: one of two clocks is wrong, and maybe the box's. */
export function checkSaved(input: CheckInput): Finding[] {
  const { reading, now, place, set } = input;
  const { savedAt } = reading.about;
  const saved = savedAt === null ? null : earliest(savedAt);
  if (now === null || saved === null || saved <= new Date(now).getTime() + SLACK) return [];
  const site = siteIn(input, savedAt!);
  if (site && (input.gone(site.node) || set.has(siteKey(site.node, site.attr)))) return [];
  return [
    {
      code: 'saved-ahead',
      severity: 'note',
      place: site && place(site),
      params: { savedAt: savedAt! },
      byPlan: false,
    },
  ];
}

/** Where the time stands; asked for only where it is odd. */
function siteIn({ reading }: CheckInput, time: string) {
  for (const field of reading.values.fields) {
    const at = field.distinct.findIndex((value) => value === time || toIso(value) === time);
    if (at !== -1) return siteOf(field, field.which.indexOf(at));
  }
  return null;
}
