import { leastOf } from '../lists.ts';

const FIRST = Date.UTC(2000, 0, 1) / 1000;
const LAST = Date.UTC(2100, 0, 1) / 1000;

/** Seconds since 1970 between the years 2000 and 2100; ten digits, maybe with a fraction. */
export function isEpoch(text: string): boolean {
  if (text.length < 9 || text.length > 20 || !/^\d{9,10}(?:\.\d{1,9})?$|^\d{12,13}$/.test(text)) return false;
  const seconds = text.length > 11 && !text.includes('.') ? Number(text) / 1000 : Number(text);
  return seconds >= FIRST && seconds < LAST;
}

const iso = /^(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d):(\d\d)(?::(\d\d)(?:[.,]\d+)?)?(?:Z|[+-]\d\d:?\d\d)?)?$/;
const numeric = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})(?:,? (\d{1,2}):(\d\d)(?::(\d\d))?)?$/;

function isDay(year: number, month: number, day: number): boolean {
  return (
    year >= 1970 &&
    year < 2200 &&
    month >= 1 &&
    month <= 12 &&
    day >= 1 &&
    day <= new Date(Date.UTC(year, month, 0)).getUTCDate()
  );
}

function isClock(hour: string | undefined, minute: string | undefined, second: string | undefined): boolean {
  return Number(hour ?? 0) <= 24 && Number(minute ?? 0) < 60 && Number(second ?? 0) <= 60;
}

/** A date, maybe with a time of day: ISO 8601 and RFC 3339, or day and month as numbers before the year. */
export function isDate(text: string): boolean {
  const code = text.charCodeAt(0);
  if (text.length < 8 || text.length > 40 || code < 48 || code > 57) return false;
  const whole = iso.exec(text);
  if (whole)
    return isDay(Number(whole[1]), Number(whole[2]), Number(whole[3])) && isClock(whole[4], whole[5], whole[6]);
  const parts = numeric.exec(text);
  if (!parts) return false;
  const [a, b, year] = [Number(parts[1]), Number(parts[3]), Number(parts[4])];
  return (isDay(year, b, a) || isDay(year, a, b)) && isClock(parts[5], parts[6], parts[7]);
}

/** A time as a seconds-or-date value in ISO 8601 UTC, or null where its zone is not told. */
export function toIso(text: string): string | null {
  if (isEpoch(text)) {
    const value = Number(text);
    return new Date(value > LAST ? value : value * 1000).toISOString().replace(/\.000Z$/, 'Z');
  }
  if (!isDate(text) || !/(?:Z|[+-]\d\d:?\d\d)$/.test(text) || !iso.test(text)) return null;
  const time = new Date(text.replace(' ', 'T').replace(/([+-]\d\d)(\d\d)$/, '$1:$2'));
  return Number.isNaN(time.getTime()) ? null : time.toISOString().replace(/\.000Z$/, 'Z');
}

/** The zone that is furthest ahead, in milliseconds: UTC+14. From memory, IANA time zone database. */
const AHEAD = 14 * 3_600_000;

/**
 * The earliest moment that a time may mean, in milliseconds since 1970; null for what is none. Where no zone is told it is
 * that of the zone furthest ahead, and of two readings of day and month the earlier one.
 */
export function earliest(text: string): number | null {
  const told = toIso(text);
  if (told !== null) return new Date(told).getTime();
  if (!isDate(text)) return null;
  const whole = iso.exec(text);
  const parts = whole ?? numeric.exec(text)!;
  const clock = (whole ? whole.slice(4, 7) : parts.slice(5, 8)).map((part) => Number(part ?? 0)) as [
    number,
    number,
    number,
  ];
  const [a, b] = [Number(parts[whole ? 2 : 1]), Number(parts[3])];
  const year = Number(parts[whole ? 1 : 4]);
  const days = (
    whole
      ? [[a, b]]
      : [
          [a, b],
          [b, a],
        ]
  ) as [number, number][];
  const times = days
    .filter(([month, day]) => isDay(year, month, day))
    .map(([month, day]) => Date.UTC(year, month - 1, day, ...clock));
  return leastOf(times) - AHEAD;
}

/** A time of day, `8:30` or `08:30:00`; or a span of two, `08:00-20:00`. */
export function isTimeOfDay(text: string): boolean {
  const parts = /^(\d{1,2}):(\d\d)(?::(\d\d))?(?: ?[-–] ?(\d{1,2}):(\d\d)(?::(\d\d))?)?$/.exec(text);
  return parts !== null && isClock(parts[1], parts[2], parts[3]) && isClock(parts[4], parts[5], parts[6]);
}
