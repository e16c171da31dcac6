import { SaxesParser } from 'saxes';
import { excerptAt, Lines } from '../text/lines.ts';
import { bad, good, type Result, type Trouble } from '../trouble.ts';
import { bareAmpersand, faultOf } from './faults.ts';
import { isName } from './name.ts';
import { pathOf } from './path.ts';
import { Kind, type Tree } from './tree.ts';
import { TreeBuilder } from './tree-builder.ts';

/** Limits that a real backup does not come near; beyond them the file is more likely made to do harm. */
export const MAX_DEPTH = 1000;
export const MAX_ATTRIBUTES = 10_000;

/** Units read between two calls of `progress`. */
const STEP = 1 << 19;

/** Name and external identifier (XML 1.0, productions 11, 12, 13, 28 and 75). */
const doctype =
  /^\s+([^\s"'<>[\]]+)(?:\s+(?:SYSTEM|PUBLIC\s+(?:"[ \r\n\w'()+,./:=?;!*#@$%-]*"|'[ \r\n\w()+,./:=?;!*#@$%-]*'))\s+(?:"[^"]*"|'[^']*'))?\s*$/;

class Refusal extends Error {
  constructor(readonly trouble: Pick<Trouble, 'code' | 'offset' | 'params'>) {
    super(trouble.code);
  }
}

/**
 * Reads a whole document in one strict pass: XML 1.0 (fifth edition) or 1.1 well-formedness, names and prefixes as
 * written. A document type declaration is accepted where it has no internal subset, since with one the entities could
 * change what the text means.
 * @param progress is told the number of units read so far, out of `text.length`.
 */
export function readXml(text: string, progress: (units: number) => void = () => {}): Result<Tree> {
  const builder = new TreeBuilder(text);
  const parser = makeParser();
  /** One past the last construct: whatever lies between it and the next `<` is character data. */
  let cursor = 0;
  const next = () => text.indexOf('<', cursor);
  const close = (kind: Kind, name: string, mark: string) => {
    const start = next();
    cursor = text.indexOf(mark, start + 2) + mark.length;
    builder.single(kind, name, start, cursor);
  };
  const refuse = (code: Trouble['code'], offset: number, params?: Trouble['params']): never => {
    throw new Refusal({ code, offset, ...(params && { params }) });
  };
  parser.on('error', (error) => {
    const reason = error.message.replace(/^(?:\d+:\d+: |undefined:\s*)/, '').replace(/\.$/, '');
    const offset = Math.max(0, Math.min(text.length, parser.position - 1));
    if (/^documents may contain only one root/.test(reason)) refuse('second-root', next());
    const ampersand = bareAmpersand(text, cursor);
    if (ampersand !== -1 && /^(?:unclosed tag|unexpected end)|entity/.test(reason)) {
      refuse('not-well-formed', ampersand, { fault: 'bare-ampersand', reason });
    }
    const open = builder.openName();
    if (/^(?:unclosed tag|unexpected end)/.test(reason)) refuse('truncated', text.length, { open });
    refuse('not-well-formed', offset, { fault: faultOf(reason), reason, open, found: text.slice(offset, offset + 1) });
  });
  parser.on('xmldecl', () => {
    cursor = text.indexOf('?>') + 2;
  });
  parser.on('doctype', (content) => {
    const start = next();
    if (content.replace(/"[^"]*"|'[^']*'/g, '').includes('[')) refuse('doctype-with-subset', start);
    const name = doctype.exec(content)?.[1];
    if (name === undefined || !isName(name)) {
      refuse('not-well-formed', start, { reason: 'the document type declaration is not complete' });
    }
    cursor = parser.position;
  });
  parser.on('opentag', (tag) => {
    const start = next();
    cursor = parser.position;
    if (builder.depth >= MAX_DEPTH) refuse('too-deep', start, { limit: MAX_DEPTH });
    const attributes = builder.open(tag.name, start, cursor);
    if (attributes > MAX_ATTRIBUTES) refuse('too-many-attributes', start, { limit: MAX_ATTRIBUTES, element: tag.name });
  });
  parser.on('closetag', (tag) => {
    if (tag.isSelfClosing) {
      builder.close(cursor, cursor);
      return;
    }
    const start = next();
    cursor = parser.position;
    builder.close(start, cursor);
  });
  parser.on('cdata', () => close(Kind.cdata, '', ']]>'));
  parser.on('comment', () => close(Kind.comment, '', '-->'));
  parser.on('processinginstruction', ({ target }) => close(Kind.instruction, target, '?>'));
  try {
    for (let at = 0; at < text.length; at += STEP) {
      parser.write(text.slice(at, at + STEP));
      progress(Math.min(text.length, at + STEP));
    }
    parser.close();
    return good(builder.tree());
  } catch (error) {
    if (error instanceof Refusal) return bad(placed(text, builder, error.trouble));
    throw error;
  }
}

/**
 * `on` stores its handlers by computed key, and past a dozen of those the engine turns the parser into a dictionary,
 * six times slower. A first store by written name keeps it fast.
 */
function makeParser() {
  const parser = new SaxesParser({ xmlns: false, position: false });
  const slots = parser as unknown as Record<string, undefined>;
  slots.errorHandler = undefined;
  slots.xmldeclHandler = undefined;
  slots.doctypeHandler = undefined;
  slots.openTagHandler = undefined;
  slots.closeTagHandler = undefined;
  slots.cdataHandler = undefined;
  slots.commentHandler = undefined;
  slots.piHandler = undefined;
  return parser;
}

function placed(text: string, builder: TreeBuilder, trouble: Pick<Trouble, 'code' | 'offset' | 'params'>): Trouble {
  const lines = new Lines(text);
  const offset = trouble.offset ?? text.length;
  const place = { ...trouble, ...lines.at(offset), excerpt: excerptAt(text, offset) };
  const last = builder.lastClosed;
  if (last === -1) return place;
  const tree = builder.tree();
  return { ...place, lastIntact: { path: pathOf(tree, last), line: lines.at(tree.end[last]! - 1).line } };
}
