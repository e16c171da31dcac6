import { useEffect, useRef, useState } from 'react';

const carries = (event: DragEvent, type: string) => event.dataTransfer?.types.includes(type) ?? false;

/** Makes the whole window a drop target. Tells whether something that can be dropped hangs over it. */
export function useDrop(take: (data: DataTransfer) => void): boolean {
  const [over, setOver] = useState(false);
  const latest = useRef(take);
  latest.current = take;
  useEffect(() => {
    // Every element that is entered or left on the way reports it; the pointer is outside when the two balance.
    let depth = 0;
    const wanted = (event: DragEvent) => carries(event, 'Files');
    const enter = (event: DragEvent) => {
      if (!wanted(event)) return;
      event.preventDefault();
      depth++;
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (!wanted(event)) return;
      depth = Math.max(0, depth - 1);
      if (depth === 0) setOver(false);
    };
    const hover = (event: DragEvent) => {
      if (!wanted(event)) return;
      event.preventDefault();
      event.dataTransfer!.dropEffect = 'copy';
    };
    const drop = (event: DragEvent) => {
      if (!wanted(event)) return;
      event.preventDefault();
      depth = 0;
      setOver(false);
      latest.current(event.dataTransfer!);
    };
    window.addEventListener('dragenter', enter);
    window.addEventListener('dragleave', leave);
    window.addEventListener('dragover', hover);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragenter', enter);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('dragover', hover);
      window.removeEventListener('drop', drop);
    };
  }, []);
  return over;
}
