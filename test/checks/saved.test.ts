import { describe, expect, it } from 'vitest';
import { earliest } from '../../src/core/values/time.ts';
import { groundOf, isTimed } from '../../src/words/grounds.ts';
import { box } from './box.ts';
import { findingsOf, opened, sentence } from './support.ts';

const now = '2026-11-28T12:00:00Z';
const savedAt = (time: string) => opened(box({ more: `<saved><time>${time}</time><by>mara</by></saved>\n` }));
const found = (time: string, clock: string | null = now) =>
  findingsOf(savedAt(time), { now: clock }).filter(({ code }) => code === 'saved-ahead');

// Source of the moments: RFC 3339, 5.6; the zone furthest ahead is UTC+14 (IANA time zone database, from memory).
describe('a time of saving that has not come', () => {
  it.each([
    ['2026-11-28T11:59:00Z', 0],
    ['2026-11-28T12:04:00Z', 0],
    ['2026-11-28T12:06:00Z', 1],
    ['2026-11-28T14:06:00+02:00', 1],
    ['2026-11-28T12:06:00+02:00', 0],
    // 2026-11-28T12:16:40Z and a year before.
    ['1795868200', 1],
    ['1764332200', 0],
    // Where no zone is told, 14 hours may lie between.
    ['2026-11-29 01:59:00', 0],
    ['2026-11-29 02:10:00', 1],
    // The third of December, or the twelfth of March.
    ['03.12.2026', 0],
    ['30.12.2026', 1],
  ])('%s', (time, count) => {
    expect(found(time)).toHaveLength(count);
  });

  it('is told at its place with the clock, and not where no clock is', () => {
    const [finding] = found('2027-01-05T08:00:00Z');
    expect(finding!.place!.path).toBe('/box[1]/saved[1]/time[1]');
    expect(sentence(finding!)).toBe(
      'The file says that it was saved at “2027-01-05T08:00:00Z”, and that time has not come yet.',
    );
    expect(isTimed('saved-ahead')).toBe(true);
    expect(groundOf('saved-ahead')).toContain('clock');
    expect(found('2027-01-05T08:00:00Z', null)).toEqual([]);
  });

  it('no time is none', () => {
    expect(earliest('yesterday')).toBeNull();
    expect(earliest('2026-11-31')).toBeNull();
  });
});
