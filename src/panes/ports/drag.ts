import { type PointerEvent as Press, type RefObject, useEffect, useRef, useState } from 'react';
import type { Held } from './moves.ts';
import type { NewPlate } from './plates.ts';

/** Way of the pointer that makes a press a drag; strip at the edge that scrolls; its steps. Units of CSS. */
const SLACK = 5;
const EDGE = 36;
const STEP = 9;
/** How far left of a plate its socket is still met. */
const REACH = 46;

/** A cord's end on its way, in the floor's own units. */
export interface Drag {
  readonly held: Held;
  /** Where the end was. */
  readonly from: { readonly x: number; readonly y: number };
  readonly x: number;
  readonly y: number;
  /** The plate that it would go to. */
  readonly over: NewPlate | null;
}

/** Pulls the end of a cord by the pointer. Escape, or letting go beside a plate, gives it back. */
export function useDrag(
  floor: RefObject<HTMLElement | null>,
  plates: readonly NewPlate[],
  left: number,
  onDrop: (held: Held, plate: NewPlate) => void,
): { readonly drag: Drag | null; start(event: Press, held: Held, from: Drag['from']): void } {
  const [drag, setDrag] = useState<Drag | null>(null);
  const end = useRef<(() => void) | null>(null);
  const latest = useRef({ plates, left, onDrop });
  latest.current = { plates, left, onDrop };
  useEffect(() => () => end.current?.(), []);

  const start = (press: Press, held: Held, from: Drag['from']) => {
    if (press.button !== 0 || !press.isPrimary || end.current) return;
    const { clientX, clientY, pointerId } = press;
    let now: Drag | null = null;
    let pointer = { x: clientX, y: clientY };
    let frame = 0;
    const show = () => {
      const box = floor.current!.getBoundingClientRect();
      const x = pointer.x - box.left;
      const y = pointer.y - box.top;
      const { plates, left } = latest.current;
      const over =
        x < left - REACH ? null : (plates.find(({ top, height }) => y >= top - 2 && y <= top + height + 3) ?? null);
      now = { held, from, x, y, over };
      setDrag(now);
    };
    const roll = () => {
      const scroller = floor.current?.closest('.scroll');
      if (!scroller) return;
      const { top, bottom } = scroller.getBoundingClientRect();
      const by = pointer.y < top + EDGE ? -STEP : pointer.y > bottom - EDGE ? STEP : 0;
      if (by !== 0) {
        scroller.scrollBy(0, by);
        show();
      }
      frame = requestAnimationFrame(roll);
    };
    const move = (event: PointerEvent) => {
      if (event.pointerId !== pointerId) return;
      pointer = { x: event.clientX, y: event.clientY };
      if (now === null) {
        if (Math.hypot(pointer.x - clientX, pointer.y - clientY) < SLACK) return;
        frame = requestAnimationFrame(roll);
      }
      show();
    };
    const stop = (event?: PointerEvent) => {
      if (event && event.pointerId !== pointerId) return;
      cancelAnimationFrame(frame);
      for (const [name, listener] of listeners) window.removeEventListener(name, listener as EventListener, true);
      end.current = null;
      setDrag(null);
    };
    const drop = (event: PointerEvent) => {
      if (event.pointerId !== pointerId) return;
      const last = now;
      stop();
      if (!last) return;
      // What the browser makes of the press is no choice.
      window.addEventListener('click', swallow, { capture: true, once: true });
      setTimeout(() => window.removeEventListener('click', swallow, true), 0);
      if (last.over) latest.current.onDrop(held, last.over);
    };
    const key = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return;
      event.preventDefault();
      event.stopPropagation();
      stop();
    };
    const listeners = [
      ['pointermove', move],
      ['pointerup', drop],
      ['pointercancel', stop],
      ['keydown', key],
    ] as const;
    for (const [name, listener] of listeners) window.addEventListener(name, listener as EventListener, true);
    end.current = () => stop();
  };
  return { drag, start };
}

function swallow(event: MouseEvent) {
  event.preventDefault();
  event.stopPropagation();
}
