import type { Setting } from './settings-in-text.ts';

/** Objects deeper than this are documents, not settings. */
const DEEPEST = 4;

/**
 * The single values of a text that is an object of JSON (RFC 8259), each by the names that lead to it; the items of a list have
 * the list's name. A string is taken as it is written between its quotation marks. Null for any other text.
 */
export function settingsOfJson(text: string): Setting[] | null {
  if (!/^\s*\{/.test(text)) return null;
  const settings: Setting[] = [];
  let at = 0;
  const blank = () => {
    while (at < text.length && /\s/.test(text[at]!)) at++;
    return text[at];
  };
  /** Past a string; where its inside begins and ends. */
  const string = (): [from: number, to: number] | null => {
    if (text[at] !== '"') return null;
    const from = ++at;
    while (at < text.length && text[at] !== '"') at += text[at] === '\\' ? 2 : 1;
    return at++ < text.length ? [from, at - 1] : null;
  };
  /** Past what stands between two brackets; false where it is no JSON. */
  const items = (close: string, item: () => boolean): boolean => {
    at++;
    if (blank() === close) return at++ >= 0;
    for (;;) {
      if (!item()) return false;
      const next = blank();
      at++;
      if (next === close) return true;
      if (next !== ',') return false;
    }
  };
  const value = (name: string, depth: number): boolean => {
    const first = blank();
    if (depth > DEEPEST) return false;
    if (first === '[') return items(']', () => value(name, depth + 1));
    if (first === '{')
      return items('}', () => {
        blank();
        const key = string();
        if (!key || blank() !== ':') return false;
        at++;
        const own = text.slice(...key);
        return value(name === '' ? own : `${name}.${own}`, depth + 1);
      });
    const span = first === '"' ? string() : plain();
    if (!span) return false;
    if (name !== '' && span[1] > span[0]) settings.push({ name, from: span[0], to: span[1] });
    return true;
  };
  const plain = (): [from: number, to: number] | null => {
    const found = /^(?:true|false|null|-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?)(?![\w.])/.exec(text.slice(at, at + 40));
    if (!found) return null;
    at += found[0].length;
    return [at - found[0].length, at];
  };
  return value('', 0) && blank() === undefined ? settings : null;
}
