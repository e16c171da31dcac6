import { useEffect, useRef } from 'react';
import type { Source } from '../state/open.ts';
import { pasted } from './pasted.ts';
import { dialogIsOpen } from './use-keys.ts';

/** Ctrl+V anywhere outside of fields opens what is on the clipboard, a file or text. */
export function usePaste(
  takeData: (data: DataTransfer | null) => boolean,
  take: (source: Source) => void,
  off: boolean,
): void {
  const latest = useRef({ takeData, take, off });
  latest.current = { takeData, take, off };
  useEffect(() => {
    const paste = (event: ClipboardEvent) => {
      const { takeData, take, off } = latest.current;
      const { target, clipboardData } = event;
      if (
        off ||
        dialogIsOpen() ||
        (target instanceof HTMLElement && target.closest('input, textarea, [contenteditable], .monaco-editor'))
      )
        return;
      if (takeData(clipboardData)) return event.preventDefault();
      const text = clipboardData?.getData('text/plain') ?? '';
      if (!text.trim()) return;
      event.preventDefault();
      take(pasted(text));
    };
    window.addEventListener('paste', paste);
    return () => window.removeEventListener('paste', paste);
  }, []);
}
