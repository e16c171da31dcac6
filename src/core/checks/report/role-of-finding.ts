import type { Finding } from '../../views.ts';
import { nodeAround } from '../../xml/around.ts';
import type { Tree } from '../../xml/tree.ts';
import { rowsByElement } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { contextOf } from '../networks/networks.ts';

/** Puts to each finding the role that it is about: the one it names, that of its place, or the one that its record names. */
export function withRoles({ tree, reading }: CheckInput, findings: readonly Finding[]): Finding[] {
  const { roles } = reading;
  if (roles.length === 0) return [...findings];
  const names = new Set(roles.map(({ name }) => name));
  const { within, linked } = contextOf(reading);
  const rows = rowsByElement(reading);
  return findings.map((finding) => {
    const { params, place } = finding;
    if (typeof params.role === 'string' && names.has(params.role)) return { ...finding, role: params.role };
    if (!place) return finding;
    const row = rowAround(tree, rows, nodeAround(tree, place.start));
    if (row === -1) return finding;
    const own = within(row);
    const role = own === -1 ? linked(row) : own;
    return role === -1 ? finding : { ...finding, role: roles[role]!.name };
  });
}

function rowAround(tree: Tree, rows: ReturnType<typeof rowsByElement>, start: number): number {
  for (let node = start; node !== -1; node = tree.parent[node]!) {
    const row = rows.get(node);
    if (row !== undefined) return row;
  }
  return -1;
}
