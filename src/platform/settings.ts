/** What a person set for this browser. It holds nothing of any file. */
export interface Settings {
  readonly theme: 'system' | 'light' | 'dark';
  /** Whether a single key, such as 2 for the second sheet, does something. */
  readonly singleKeys: boolean;
}

const KEY = 'carryover-settings';
const standard: Settings = { theme: 'system', singleKeys: true };

/** A browser may refuse to keep anything; then the settings last as long as the page. */
export function readSettings(): Settings {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? '{}');
    const { theme, singleKeys } = { ...standard, ...(kept as Partial<Settings>) };
    return {
      theme: theme === 'light' || theme === 'dark' ? theme : 'system',
      singleKeys: singleKeys !== false,
    };
  } catch {
    return standard;
  }
}

export function keepSettings(settings: Settings): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(settings));
  } catch {
    // Not kept; nothing is lost but the comfort.
  }
}
