/** What is wrong where a document is not well-formed; words are made of it in src/words. */
export type Fault =
  | 'bare-ampersand'
  | 'entity-unknown'
  | 'attribute-doubled'
  | 'attribute-without-quotes'
  | 'attribute-without-value'
  | 'attributes-without-space'
  | 'character-not-allowed'
  | 'close-of-another'
  | 'close-of-nothing'
  | 'comment-hyphens'
  | 'cdata-end-in-text'
  | 'declaration-not-first'
  | 'text-outside-root'
  | 'no-root'
  | 'other';

/** The strict reader's own messages (saxes 6), each with what it means. */
const messages: [RegExp, Fault][] = [
  [
    /^undefined entity|^malformed character entity|^empty entity name|^disallowed character in entity/,
    'entity-unknown',
  ],
  [/^duplicate attribute/, 'attribute-doubled'],
  [/^unquoted attribute value/, 'attribute-without-quotes'],
  [/^attribute without value/, 'attribute-without-value'],
  [/^no whitespace between attributes/, 'attributes-without-space'],
  [/^disallowed character$/, 'character-not-allowed'],
  [/^unexpected close tag|^weird empty close tag/, 'close-of-another'],
  [/^unmatched closing tag/, 'close-of-nothing'],
  [/^malformed comment/, 'comment-hyphens'],
  [/^the string "]]>"/, 'cdata-end-in-text'],
  [/^an XML declaration must be at|^the XML declaration must appear/, 'declaration-not-first'],
  [/^text data outside/, 'text-outside-root'],
  [/^document must contain a root/, 'no-root'],
];

export function faultOf(message: string): Fault {
  return messages.find(([pattern]) => pattern.test(message))?.[1] ?? 'other';
}

/**
 * Offset of an ampersand that stands for itself in the character data or the open tag right after `from`; -1 for none.
 * The strict reader goes on to the next semicolon, or to the end, before it minds one.
 */
export function bareAmpersand(text: string, from: number): number {
  const tag = text.indexOf('<', from);
  const inTag = tag !== -1 && !/[!?]/.test(text[tag + 1] ?? '');
  const stop = tag === -1 ? text.length : inTag ? endOfTag(text, tag) : tag;
  const found = /&(?!(?:[A-Za-z_:][\w.:-]*|#\d+|#x[0-9a-fA-F]+);)/.exec(text.slice(from, stop));
  return found ? from + found.index : -1;
}

function endOfTag(text: string, tag: number): number {
  const next = /[<>]/.exec(text.slice(tag + 1, tag + 65_536));
  return next ? tag + 1 + next.index : Math.min(text.length, tag + 65_536);
}
