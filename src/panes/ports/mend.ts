import type { Finding } from '../../core/index.ts';
import { allCords, type Cabling, type Cord, roleTitle } from './cords.ts';
import { backStep, moveRole, putStep, type Step } from './moves.ts';
import { isFree, type Socket } from './sockets.ts';

/** Steps that would mend what a finding tells, the least first; empty where only a person can tell what is meant. */
export function mendings(finding: Finding, cabling: Cabling, sockets: readonly Socket[]): Step[] {
  const { role, port, path } = finding.params;
  const free = sockets.find((socket) => isFree(socket) && socket.port?.kind === 'physical');
  const cord = allCords(cabling).find((one) => one.role.name === String(role) || one.state.path === String(path));
  switch (finding.code) {
    case 'port-doubled': {
      const rows = cabling.rows.filter(({ to }) => to === String(port));
      return rows.flatMap((row) => {
        const own = row.name !== row.to && !cabling.rows.some(({ to }) => to === row.name);
        const to = free?.name ?? (own ? row.name : null);
        return to === null ? [] : [putStep(row.name, to)];
      });
    }
    case 'port-not-on-receiver': {
      const row = cabling.rows.find(({ to }) => to === String(port));
      if (!free) return cord?.state.moved ? [backStep(cord)] : [];
      if (row) return [putStep(row.name, free.name)];
      return cord ? moved(cabling, cord, free) : [];
    }
    case 'role-shares-device':
    case 'port-in-aggregate':
    case 'role-without-port':
      if (!cord) return [];
      return [...(free ? moved(cabling, cord, free) : []), ...(cord.state.moved ? [backStep(cord)] : [])];
    case 'plan-entry':
      return cord?.state.moved ? [backStep(cord)] : [];
    default:
      return [];
  }
}

function moved(cabling: Cabling, cord: Cord, { name }: Socket): Step[] {
  const step = moveRole(cabling, cord, name, cord.end?.tag ?? null);
  return typeof step === 'string' ? [] : [{ ...step, name: `Move ${roleTitle(cord.role)} to ${name}` }];
}
