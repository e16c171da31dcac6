import { useEffect, useState } from 'react';
import type { BuildView, Plan } from '../../core/index.ts';
import { build } from '../../state/open.ts';

export type Building =
  | { readonly state: 'building' }
  | { readonly state: 'failed'; readonly message: string }
  | { readonly state: 'built'; readonly plan: Plan; readonly view: BuildView };

/** The result of the present plan, built and read again by the second reader; a late answer is dropped. */
export function useBuild(id: number, plan: Plan): Building {
  const [building, setBuilding] = useState<Building>({ state: 'building' });
  useEffect(() => {
    let late = false;
    setBuilding({ state: 'building' });
    build(plan).then(
      (view) => {
        if (!late) setBuilding({ state: 'built', plan, view });
      },
      (error: Error) => {
        if (!late) setBuilding({ state: 'failed', message: error.message });
      },
    );
    return () => {
      late = true;
    };
  }, [id, plan]);
  return building.state === 'built' && building.plan !== plan ? { state: 'building' } : building;
}
