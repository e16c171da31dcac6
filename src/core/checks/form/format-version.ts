import type { Finding } from '../../views.ts';
import type { CheckInput } from '../input.ts';

const parts = (version: string) => (version.match(/\d+|[a-z]+/gi) ?? []).map((part) => part.toLowerCase());

/** Order of two version marks, part by part, numbers as numbers; null where they cannot be ordered. */
export function compareVersions(a: string, b: string): number | null {
  const [ours, theirs] = [parts(a), parts(b)];
  if (ours.length === 0 || theirs.length === 0) return null;
  for (let at = 0; at < Math.max(ours.length, theirs.length); at++) {
    const [one, other] = [ours[at] ?? '0', theirs[at] ?? '0'];
    if (one === other) continue;
    const [left, right] = [Number(one), Number(other)];
    if (Number.isNaN(left) || Number.isNaN(right)) return null;
    if (left !== right) return left - right;
  }
  return 0;
}

/** The donor's own mark of its format against the receiver's: boxes read older files better than newer ones. */
export function checkVersion({ reading, receiverVersion }: CheckInput): Finding[] {
  const donor = reading.about.version;
  if (donor === null || receiverVersion === null || donor === receiverVersion) return [];
  const order = compareVersions(donor, receiverVersion);
  if (order === 0) return [];
  return [
    {
      code: 'version-differs',
      severity: order !== null && order < 0 ? 'note' : 'warning',
      place: null,
      params: { donor, receiver: receiverVersion, order: order === null ? 'unlike' : order > 0 ? 'newer' : 'older' },
      byPlan: false,
    },
  ];
}
