import { useEffect, useRef, useState } from 'react';

/** Says a sentence to readers of the screen, at most once a second: the last one that stands then. */
export function Announcer({ text }: { text: string }) {
  const [said, setSaid] = useState('');
  const last = useRef(0);
  useEffect(() => {
    const wait = setTimeout(
      () => {
        last.current = performance.now();
        setSaid(text);
      },
      Math.max(50, last.current + 1000 - performance.now()),
    );
    return () => clearTimeout(wait);
  }, [text]);
  return (
    <div className="spoken" role="status">
      {said}
    </div>
  );
}
