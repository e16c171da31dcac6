import type { Source } from '../state/open.ts';
import { sourceOfBytes } from './handing.ts';

const declared = /^\s*<\?xml\s[^>]*?encoding\s*=\s*["']([A-Za-z0-9._:-]+)["']/;

/**
 * Pasted text has lost its bytes. Where its first line names an encoding other than UTF-8, a byte-order mark says that it
 * is UTF-8 now (XML 1.0, appendix F); otherwise the reader would take the letters for others.
 */
export function pasted(text: string): Source {
  const label = declared.exec(text)?.[1];
  const mark = label && !/^utf-?8$/i.test(label) ? '\uFEFF' : '';
  return sourceOfBytes(new TextEncoder().encode(mark + text), 'pasted-text.xml');
}
