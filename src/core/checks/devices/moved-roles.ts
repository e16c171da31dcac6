import type { RoleSeat } from '../../compile/seats.ts';
import type { Finding } from '../../views.ts';
import { type Site, TEXT } from '../../xml/site.ts';
import { siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { carry, causeOf } from '../repairs/repairs.ts';
import { moveBack } from './seats.ts';

type Seated = Pick<CheckInput, 'seats' | 'reading' | 'devices' | 'gone'>;

/** Where roles that the plan moves name their devices: what stands there in the donor no longer counts. */
export function movedSites({ seats }: Pick<CheckInput, 'seats'>): ReadonlySet<number> {
  const sites = new Set<number>();
  for (const { owner, binding } of seats) {
    if (owner === null || binding === null) continue;
    sites.add(siteKey(binding.site.node, binding.site.attr));
    if (binding.tag && binding.vlan === -1) sites.add(siteKey(binding.tag.node, binding.tag.attr));
  }
  return sites;
}

/** The donor's record of the device that a role sits on in the result, and the device's name; null where it has none. */
function recordOf({ reading, devices }: Seated, { seat }: RoleSeat): { node: number; device: string } | null {
  if (seat.on === 'none') return null;
  if (seat.on === 'tag') {
    const record = devices.record(seat.port, seat.tag)?.record;
    return record ? { node: record.node, device: record.device } : null;
  }
  const { port } = seat;
  const known =
    reading.aggregates.find(({ device }) => device === port) ??
    reading.deviceKeys.find(({ device, ofRoles }) => ofRoles && device === port);
  return known ? { node: known.node, device: port } : null;
}

/** Records that roles use by where the plan puts them. */
export function usedByMoves(input: Seated): ReadonlySet<number> {
  return new Set(
    input.seats.flatMap((one) => {
      const record = one.owner === null || input.gone(one.role.node) ? null : recordOf(input, one);
      return record === null ? [] : [record.node];
    }),
  );
}

/** Roles that the plan moves onto a device whose record it leaves out. */
export function checkMoved(input: CheckInput): Finding[] {
  const { seats, gone, place, devices, recordNamed } = input;
  return seats.flatMap((one) => {
    const { owner, role, binding } = one;
    const record = owner === null || gone(role.node) ? null : recordOf(input, one);
    if (record === null || record.node === role.node || !gone(record.node)) return [];
    const site: Site = binding?.site ?? { node: role.node, attr: TEXT };
    return [
      {
        code: 'reference-left-out' as const,
        severity: 'error' as const,
        place: place(site),
        params: { value: devices.renamed(record.device), field: role.name, target: recordNamed(record.node) },
        byPlan: true,
        cause: causeOf(input, record.node),
        repairs: [...carry(input, record.node, { name: recordNamed(record.node) }), ...moveBack(one)],
      },
    ];
  });
}
