import { useEffect, useRef } from 'react';
import { redo, undo } from '../state/decide.ts';
import { openedOf, sheets, useDesk } from '../state/session.ts';

const writes = (target: EventTarget | null) =>
  target instanceof HTMLElement && (target.isContentEditable || /^(?:INPUT|TEXTAREA|SELECT)$/.test(target.tagName));

const isText = (target: EventTarget | null) =>
  writes(target) && !(target instanceof HTMLInputElement && /^(?:checkbox|radio|button)$/.test(target.type));

/** Sheets have dialogs of their own. */
export const dialogIsOpen = (): boolean => document.querySelector('dialog[open]') !== null;

/** Shortcuts of the whole page. Single keys work outside of fields, and only where they are switched on. */
export function useKeys(singleKeys: boolean, onKeys: () => void, busy: boolean): void {
  const latest = useRef({ singleKeys, onKeys, busy });
  latest.current = { singleKeys, onKeys, busy };
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      const { singleKeys, onKeys, busy } = latest.current;
      if (busy || event.defaultPrevented || isText(event.target) || dialogIsOpen()) return;
      if (event.target instanceof Element && event.target.closest('.monaco-editor')) return;
      const { session } = useDesk.getState();
      const opened = openedOf(session);
      if ((event.ctrlKey || event.metaKey) && !event.altKey) {
        const letter = event.key.toLowerCase();
        const back = letter === 'z' && !event.shiftKey;
        const forward = (letter === 'z' && event.shiftKey) || letter === 'y';
        if (!opened || !(back || forward)) return;
        event.preventDefault();
        if (back) undo();
        else redo();
        return;
      }
      if (!singleKeys || event.altKey || event.ctrlKey || event.metaKey) return;
      if (event.key === '?') {
        event.preventDefault();
        onKeys();
      } else if (event.key === '/') {
        const search = document.querySelector<HTMLElement>('main input[type="search"]');
        if (!search) return;
        event.preventDefault();
        search.focus();
      } else if (session.phase === 'open' && /^[1-6]$/.test(event.key)) {
        event.preventDefault();
        useDesk.setState({ sheet: sheets[Number(event.key) - 1] });
      }
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, []);
}
