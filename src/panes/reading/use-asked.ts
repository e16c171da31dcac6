import { useEffect, useState } from 'react';
import type { Plan } from '../../core/index.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';

/**
 * What the worker answers for the present plan; the last answer stands until the next one is there, null before the
 * first. `about` tells one question from another.
 */
export function useAsked<T>(about: string, ask: (plan: Plan) => Promise<T>): T | null {
  const { id, view } = useOpened();
  const plan = usePlan();
  const [answer, setAnswer] = useState<T | null>(null);
  useEffect(() => {
    let current = true;
    ask(plan).then(
      (value) => current && setAnswer(() => value),
      () => {},
    );
    return () => {
      current = false;
    };
  }, [id, view, about]);
  return answer;
}
