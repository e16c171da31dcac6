import { looksDrawn } from '../../values/ids.ts';
import { isPasswordHash } from '../../values/password-hash.ts';
import { kindOf as formOf } from '../names/literals.ts';
import type { Secret } from '../reading.ts';
import { nameSays } from './secret-names.ts';
import { isPlaceholder } from './secret-values.ts';

/** Longer texts are documents of their own; see secrets-in-text.ts. */
const LONGEST = 20_000;
/** Share of lines that are a name and a value, from which on a text is a list of settings and no remark. */
const SETTINGS = 0.8;

/** Several words, of which one is as long as what is drawn or hashed, or several lines. */
const mayHold = (text: string) => /\s/.test(text) && /\n|\S{10}/.test(text);

const setting = /^\s*([\p{L}_][\p{L}\p{M}\p{N}_.-]*)\s*[=:]\s*(\S.*?)\s*$/u;

/**
 * The secret that a text of several settings holds: lines of a name and a value each, or a command of words and values. Null
 * for a text that holds none, and for a single value, which is looked at by itself.
 */
export function secretInLines(text: string): Secret['kind'] | null {
  if (text.length > LONGEST || !mayHold(text)) return null;
  const words = text.split(/\s+/);
  if (words.some((word) => isPasswordHash(word))) return 'hash';
  for (let at = 1; at < words.length; at++) {
    const kind = looksDrawn(words[at]!) ? kindOf(words[at - 1]!) : null;
    if (kind) return kind;
  }
  if (!text.includes('\n')) return null;
  const lines = text.split('\n').filter((line) => line.trim() !== '');
  const pairs = lines.flatMap((line) => {
    const found = setting.exec(line);
    return found ? [{ name: found[1]!, value: found[2]! }] : [];
  });
  if (lines.length < 2 || pairs.length < lines.length * SETTINGS) return null;
  for (const { name, value } of pairs) {
    const kind = kindOf(name);
    if (kind && !isPlaceholder(value) && !isNumeric(value)) return kind;
  }
  return null;
}

/** An address or a number to begin with: what is called `pin` may fix an address. */
const isNumeric = (value: string) => {
  const kind = formOf(value.split(/\s/)[0]!);
  return kind === 'address' || kind === 'mac' || kind === 'integer' || kind === 'number';
};

function kindOf(name: string): Secret['kind'] | null {
  const says = name.length <= 40 ? nameSays(name) : null;
  return says === null || says === 'public' || says === 'about-secrets' ? null : says;
}
