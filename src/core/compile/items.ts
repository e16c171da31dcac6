import { XMLParser } from 'fast-xml-parser';
import { decodeReferences } from '../xml/escape.ts';

/** An item of the other reader's tree: one key that is the name, and the attributes beside it. */
export type Item = Record<string, unknown>;

export const TEXT_KEY = '#text';
export const CDATA_KEY = '#cdata';
export const COMMENT_KEY = '#comment';
/** No XML name begins with it; it keeps names that mean something to JavaScript from being refused. */
export const MARK = '~';

/** fast-xml-parser, told to leave everything as it is written. */
export const parser = new XMLParser({
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: MARK,
  parseTagValue: false,
  parseAttributeValue: false,
  trimValues: false,
  processEntities: false,
  commentPropName: COMMENT_KEY,
  cdataPropName: CDATA_KEY,
  ignoreDeclaration: true,
  // Nothing here asks for paths, and values stay as they are: said so, it does neither make nor look at them.
  jPath: false,
  tagValueProcessor: () => null as never,
  maxNestedTags: 5000,
  // Self-closed elements pass here twice.
  transformTagName: (name) => (name.startsWith(MARK) ? name : MARK + name),
});

export const isBlankText = (item: Item) => TEXT_KEY in item && String(item[TEXT_KEY]).trim() === '';

/** Character data between the other items: one entry more than there are such items. */
export function textRuns(items: Item[]): string[] {
  const runs = [''];
  for (const item of items) {
    if (TEXT_KEY in item) runs[runs.length - 1] += String(item[TEXT_KEY]);
    else runs.push('');
  }
  return runs;
}

/** Decoded. */
export function ownText(item: Item): string {
  if (TEXT_KEY in item) return decodeReferences(String(item[TEXT_KEY]), false);
  return CDATA_KEY in item ? String((item[CDATA_KEY] as Item[])[0]?.[TEXT_KEY] ?? '') : '';
}

/** The name of an item that is an element; other items have names that no element has. */
export function itemName(item: Item): string {
  for (const key in item) if (key !== ':@') return key;
  return '';
}

/** Attributes as written, their names with the mark. */
export const itemAttributes = (item: Item) => (item[':@'] ?? {}) as Record<string, string>;
