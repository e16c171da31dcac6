import { type ComponentType, lazy } from 'react';
import type { Sheet } from '../state/session.ts';

const loaders: Record<Sheet, () => Promise<{ default: ComponentType }>> = {
  reading: () => import('./reading/reading.tsx'),
  ports: () => import('./ports/ports.tsx'),
  carry: () => import('./carry/carry.tsx'),
  findings: () => import('./findings/findings.tsx'),
  changes: () => import('./changes/changes.tsx'),
  handover: () => import('./handover/handover.tsx'),
};

/** Each sheet is loaded when it is first shown. */
export const makePanes = (): Record<Sheet, ComponentType> => ({
  reading: lazy(loaders.reading),
  ports: lazy(loaders.ports),
  carry: lazy(loaders.carry),
  findings: lazy(loaders.findings),
  changes: lazy(loaders.changes),
  handover: lazy(loaders.handover),
});

/** Loads the sheets ahead, so that they are there without a network. */
export async function loadPanes(): Promise<void> {
  await Promise.all(Object.values(loaders).map((load) => load()));
}
