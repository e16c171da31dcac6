import fc from 'fast-check';

/**
 * Documents of every style that a backup may be written in: one line or indented, LF, CRLF, CR or a mixture, CDATA and
 * references, comments above and beside elements, empty elements both ways, attributes in both quotes, instructions,
 * prefixes, other scripts.
 */
const names = fc.constantFrom(
  'a',
  'item',
  'rule',
  'ns:port',
  'Größe',
  '配置',
  'host-name',
  '_x.1',
  'constructor',
  '__proto__',
);
const words = fc.constantFrom(
  'eth0',
  'igb2.30',
  '10.20.0.1',
  'Café & till',
  '<x>',
  ']]>',
  '"quoted" \'too\'',
  '  padded ',
  '',
  'line\nbreak',
  'тест',
  '𝔘',
  '\t',
);

const escapeText = (text: string) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll(']]>', ']]&gt;');

interface Style {
  readonly end: string;
  readonly step: string;
  readonly spaced: boolean;
}

type Element = { name: string; attrs: [string, string, string][]; children: Item[] };
type Item =
  | { kind: 'text'; value: string }
  | { kind: 'cdata'; value: string }
  | { kind: 'comment'; value: string; above: boolean }
  | { kind: 'element'; element: Element }
  | { kind: 'instruction' };

const { element } = fc.letrec<{ element: Element; item: Item }>((tie) => ({
  item: fc.oneof(
    { maxDepth: 4, depthIdentifier: 'doc' },
    fc.record({ kind: fc.constant('text' as const), value: words }),
    fc.record({ kind: fc.constant('cdata' as const), value: words }),
    fc.record({
      kind: fc.constant('comment' as const),
      value: fc.constantFrom(' kept by hand, <b> & all ', 'x'),
      above: fc.boolean(),
    }),
    fc.constant({ kind: 'instruction' as const }),
    { arbitrary: fc.record({ kind: fc.constant('element' as const), element: tie('element') }), weight: 5 },
  ),
  element: fc.record({
    name: names,
    attrs: fc.uniqueArray(fc.tuple(names, words, fc.constantFrom('"', "'")), {
      maxLength: 3,
      selector: ([name]) => name,
    }),
    children: fc.array(tie('item'), { maxLength: 5, depthIdentifier: 'doc' }),
  }),
}));

function writeElement(element: Element, style: Style, depth: number): string {
  const attrs = element.attrs.map(([name, value, quote]) => {
    const escaped = escapeText(value).replaceAll(quote, quote === '"' ? '&quot;' : '&#39;');
    return ` ${name}=${quote}${escaped}${quote}`;
  });
  const open = `<${element.name}${attrs.join('')}`;
  if (element.children.length === 0) return style.spaced ? `${open} />` : `${open}></${element.name}>`;
  const structural = element.children.every((child) => child.kind !== 'text' && child.kind !== 'cdata');
  const pad = structural ? style.end + style.step.repeat(depth + 1) : '';
  const inner = element.children.map((child) => pad + writeItem(child, style, depth + 1)).join('');
  return `${open}>${inner}${structural ? style.end + style.step.repeat(depth) : ''}</${element.name}>`;
}

function writeItem(item: Item, style: Style, depth: number): string {
  switch (item.kind) {
    case 'text':
      return escapeText(item.value);
    case 'cdata':
      return `<![CDATA[${item.value.replaceAll(']]>', ']]')}]]>`;
    case 'comment':
      return `<!--${item.value}-->`;
    case 'instruction':
      return '<?note keep this?>';
    default:
      return writeElement(item.element, style, depth);
  }
}

const style = fc.record({
  end: fc.constantFrom('', '\n', '\r\n', '\r', '\n\n'),
  step: fc.constantFrom('', '  ', '\t', '    '),
  spaced: fc.boolean(),
});

export const documents = fc
  .record({
    element,
    style,
    head: fc.constantFrom(
      '',
      '<?xml version="1.0"?>',
      '<?xml version="1.0" standalone="yes"?>\n<!-- top -->\n',
      '<!DOCTYPE a SYSTEM "x.dtd">',
    ),
    tail: fc.constantFrom('', '\n', '\r\n', '\n<!-- end -->\n\n'),
  })
  .map(({ element, style, head, tail }) => head + writeElement(element, style, 0) + tail);
