import type { Settings } from '../platform/settings.ts';

/** Puts the chosen colours on the page; `system` leaves them to the browser. */
export function showTheme(theme: Settings['theme']): void {
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
}

export const isNight = (theme: Settings['theme']): boolean =>
  theme === 'dark' || (theme === 'system' && matchMedia('(prefers-color-scheme: dark)').matches);
