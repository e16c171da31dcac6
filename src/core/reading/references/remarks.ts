import type { Tree } from '../../xml/tree.ts';
import type { FieldData } from '../fields/fields.ts';
import { leadOf } from '../fields/spans.ts';
import type { RemarkMention } from '../reading.ts';

const MAX = 2000;

/** Finds names as whole words, the longest first; null for none. */
export function wordsPattern(of: ReadonlySet<string>): RegExp | null {
  const names = [...of].filter((name) => name.length >= 2).sort((a, b) => b.length - a.length);
  if (names.length === 0) return null;
  const escaped = names.slice(0, 2000).map((name) => name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  return new RegExp(`(?<![\\p{L}\\p{N}_])(?:${escaped.join('|')})(?![\\p{L}\\p{N}_])`, 'gu');
}

/** Free text in which the name of a port stands as a word. */
export function remarksOf(
  tree: Tree,
  fields: readonly FieldData[],
  ports: ReadonlySet<string>,
  portFields: ReadonlySet<number>,
): RemarkMention[] {
  const found: RemarkMention[] = [];
  const pattern = wordsPattern(ports);
  if (!pattern) return found;
  for (const field of fields) {
    if (portFields.has(field.index) || field.tag) continue;
    const matches = new Map<number, readonly RegExpExecArray[]>();
    for (let at = 0; at < field.distinct.length; at++) {
      const value = field.distinct[at]!;
      // Most texts name none: to go through the matches of each would copy the pattern every time.
      if (value.length <= MAX && /[\s,;]/.test(value) && value.search(pattern) !== -1)
        matches.set(at, [...value.matchAll(pattern)]);
    }
    if (matches.size === 0) continue;
    for (let place = 0; place < field.which.length; place++) {
      for (const match of matches.get(field.which[place]!) ?? []) {
        const site = { node: field.nodes[place]!, attr: field.attrs[place]! };
        const from = match.index + (field.begins?.[place] ?? leadOf(tree, site, field));
        found.push({ site, from, to: from + match[0].length, port: match[0] });
      }
    }
  }
  return found;
}
