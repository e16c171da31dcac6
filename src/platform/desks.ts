import type { WarmDesk } from '../worker/protocol.ts';

/** A worker that holds one backup. `end` stops it at once; whatever was asked of it is then refused. */
export interface DeskAtWork extends WarmDesk {
  end(): void;
}

let parts: Promise<() => DeskAtWork> | null = null;

/** Fetches the worker's code once; a fetch that failed is tried again the next time. */
export function loadDesk(): Promise<() => DeskAtWork> {
  parts ??= import('./desk.ts').then((module) => module.startDesk);
  parts.catch(() => {
    parts = null;
  });
  return parts;
}
