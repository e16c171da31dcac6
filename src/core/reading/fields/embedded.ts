import { decodeBase64, looksBase64 } from '../../values/base64.ts';
import type { Embedded } from '../reading.ts';
import type { FieldData } from './fields.ts';
import type { SiteSet } from './site-set.ts';

/** Longer JSON is told by its two ends. */
const PARSED = 1 << 18;
/** Base64 of text says so within this many units; of anything else it has to be long to be told from a word. */
const LOOK = 3000;
const LEAST_TEXT = 24;
const LEAST_DATA = 120;

/**
 * Values that hold a document of another kind: recognised, and never rewritten inside.
 * @param known places that are certificates, keys or secrets.
 */
export function readEmbedded(fields: readonly FieldData[], known: SiteSet): readonly Embedded[] {
  const embedded: Embedded[] = [];
  for (const { tag, begins, nodes, attrs, distinct, kinds, which } of fields) {
    if (tag || begins) continue;
    const formats = new Map<number, Embedded['format']>();
    for (const [at, value] of distinct.entries()) {
      const format = value.length < 8 || kinds[at] === 'opaque' ? null : formatOf(value);
      if (format) formats.set(at, format);
    }
    if (formats.size === 0) continue;
    for (const [place, at] of which.entries()) {
      const format = formats.get(at);
      const site = { node: nodes[place]!, attr: attrs[place]! };
      if (format && !known.has(site.node, site.attr)) embedded.push({ site, format });
    }
  }
  return embedded;
}

export function formatOf(value: string): Embedded['format'] | null {
  switch (value.charCodeAt(0)) {
    case 60: // <
      return value.endsWith('>') && /^<(?:\?xml|!--|[A-Za-z_][\w.:-]*[\s/>])/.test(value) && isClosed(value)
        ? 'xml'
        : null;
    case 123: // {
    case 91: // [
      return isJson(value) ? 'json' : null;
  }
  return value.length >= LEAST_TEXT && looksBase64(value, LEAST_TEXT) ? base64Format(value) : null;
}

/** A last tag that closes something, so that a remark such as `<see logbook>` is none. */
function isClosed(value: string): boolean {
  return value.endsWith('/>') || value.endsWith('-->') || value.lastIndexOf('</') > 0;
}

function isJson(value: string): boolean {
  const last = value.charCodeAt(value.length - 1);
  if (last !== 125 && last !== 93) return false;
  if (!value.includes('"')) return false;
  if (value.length > PARSED) return true;
  try {
    return typeof JSON.parse(value) === 'object';
  } catch {
    return false;
  }
}

function base64Format(value: string): 'base64-text' | 'base64-data' | null {
  const bytes = decodeBase64(value, 0, Math.min(value.length, LOOK) & ~3);
  if (!bytes) return null;
  let printable = 0;
  for (const byte of bytes)
    if ((byte >= 32 && byte < 127) || byte === 9 || byte === 10 || byte === 13 || byte >= 0xc2) printable++;
  const plain = bytes.every((byte) => byte !== 0) && printable >= bytes.length * 0.98;
  if (plain) return 'base64-text';
  return value.length >= LEAST_DATA ? 'base64-data' : null;
}
