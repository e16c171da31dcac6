import { useEffect, useState } from 'react';

/** The answer to the latest question; an earlier one shows until it comes. Null before the first. */
export function useAsked<T>(ask: () => Promise<T>, about: readonly unknown[]): T | null {
  const [answer, setAnswer] = useState<T | null>(null);
  useEffect(() => {
    let late = false;
    ask().then(
      (given) => {
        if (!late) setAnswer(given);
      },
      () => {},
    );
    return () => {
      late = true;
    };
  }, about);
  return answer;
}
