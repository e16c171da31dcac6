/** What the browser says was asked of a network since the page began. */
export interface Requests {
  /** Addresses outside the place that the page came from. */
  readonly elsewhere: readonly string[];
  /** Parts of this page, from the place that it came from. */
  readonly own: readonly string[];
  /** Attempts that the page's policy refused. */
  readonly refused: readonly string[];
}

let now: Requests = { elsewhere: [], own: [], refused: [] };
const listeners = new Set<() => void>();

function note(key: keyof Requests, address: string): void {
  now = { ...now, [key]: [...now[key], address] };
  for (const listener of listeners) listener();
}

/** Counts from the browser's own records (Resource Timing Level 2), those made before this call included. */
export function watchRequests(): void {
  const here = new URL('.', location.href).href;
  new PerformanceObserver((seen) => {
    for (const { name } of seen.getEntries()) {
      // Made inside the browser: nothing goes over a network.
      if (/^(?:blob|data):/.test(name)) continue;
      note(name.startsWith(here) ? 'own' : 'elsewhere', name);
    }
  }).observe({ type: 'resource', buffered: true });
  document.addEventListener('securitypolicyviolation', (event) => note('refused', event.blockedURI));
}

export const requests = {
  now: (): Requests => now,
  subscribe(listener: () => void): () => void {
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
};
