import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { type Encoding, inspect, openBackup, readMeaning } from '../../src/core/index.ts';
import { encode } from '../../src/core/text/encode.ts';

const utf8 = (text: string) => new TextEncoder().encode(text);
const latin1 = (text: string) => Uint8Array.from(text, (char) => char.charCodeAt(0));
const inEncoding = (text: string, encoding: Encoding, bom = false) => {
  const bytes = encode(text, { encoding, bom });
  if (!bytes.ok) throw new Error(bytes.trouble.code);
  return bytes.value;
};

function refusal(bytes: Uint8Array) {
  const opened = openBackup(bytes, 'kqm-gw1.xml');
  if (opened.ok) throw new Error('it was read');
  return opened.trouble;
}

describe('files that are no XML are named for what they look like', () => {
  test.each<[string, Uint8Array]>([
    ['gzip', gzipSync('<config/>')],
    ['zip', Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0, 0, 0)],
    ['png', Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13)],
    ['pdf', utf8('%PDF-1.7\n')],
    ['json', utf8('{"plan": 1, "ports": {}}')],
    ['json', utf8('[\n  {"name": "uplink"}]')],
    ['html', utf8('<!DOCTYPE html><html><body>Backup</body></html>')],
    ['html', utf8('\n<HTML>\n<p>Sign in</HTML>')],
    ['encrypted-openssl', utf8('Salted__\u0001\u0002\u0003\u0004')],
    ['encrypted-openssl', utf8('U2FsdGVkX18AAAAAAAAAAA==\n')],
    ['encrypted-pgp', utf8('-----BEGIN PGP MESSAGE-----\n\nhQEM')],
    ['encrypted-age', utf8('age-encryption.org/v1\n-> X25519')],
    ['pem', utf8('-----BEGIN CERTIFICATE-----\nMIIB')],
    ['text', utf8('hostname kqm-gw1\ninterface eth0\n')],
    ['binary', Uint8Array.from({ length: 512 }, (_, at) => (at * 197 + 31) % 256)],
    ['blank', utf8(' \n\t\r\n')],
  ])('%s', (look, bytes) => {
    expect(refusal(bytes)).toMatchObject({ code: 'other-format', params: { look } });
  });

  test('an empty file', () => {
    expect(refusal(new Uint8Array())).toMatchObject({ code: 'empty-file' });
  });
});

describe('bytes that do not fit their encoding have a place', () => {
  test('declared as UTF-8, written in ISO-8859-1', () => {
    const trouble = refusal(latin1('<?xml version="1.0" encoding="UTF-8"?>\n<a>\n  <b>Caf\u00e9 Wi-Fi</b>\n</a>'));
    expect(trouble).toMatchObject({
      code: 'byte-does-not-fit',
      line: 3,
      column: 9,
      offset: 51,
      params: { byte: 0xe9, encoding: 'utf-8' },
    });
  });

  test.each<[string, number[]]>([
    ['a trail byte alone', [0x80]],
    ['an overlong slash (RFC 3629, section 10)', [0xc0, 0xaf]],
    ['a surrogate half (RFC 3629, section 3)', [0xed, 0xa0, 0x80]],
    ['beyond U+10FFFF (RFC 3629, section 3)', [0xf4, 0x90, 0x80, 0x80]],
    ['a sequence cut short', [0xe2, 0x82]],
  ])('UTF-8: %s', (_, bytes) => {
    const file = Uint8Array.from([...utf8('<a>'), ...bytes, ...utf8('</a>')]);
    expect(refusal(file)).toMatchObject({ code: 'byte-does-not-fit', offset: 3 });
  });

  test('a byte without meaning in windows-1252', () => {
    const file = latin1('<?xml version="1.0" encoding="windows-1252"?><a>\u0081</a>');
    expect(refusal(file)).toMatchObject({ code: 'byte-does-not-fit', params: { byte: 0x81 } });
  });

  test('UTF-16 with half a character, and with half a pair', () => {
    const whole = inEncoding('<a>x</a>', 'utf-16le', true);
    expect(refusal(whole.subarray(0, whole.length - 1))).toMatchObject({ code: 'byte-does-not-fit' });
    expect(refusal(inEncoding('<a>\ud800</a>', 'utf-16be', true))).toMatchObject({ code: 'byte-does-not-fit' });
  });

  test('an encoding that is not known, and one that the bytes contradict', () => {
    expect(refusal(utf8('<?xml version="1.0" encoding="koi8-r"?><a/>'))).toMatchObject({
      code: 'encoding-unknown',
      params: { label: 'koi8-r' },
    });
    expect(refusal(utf8('<?xml version="1.0" encoding="UTF-16"?><a/>'))).toMatchObject({
      code: 'encoding-contradicts',
    });
  });

  test('NUL bytes', () => {
    expect(refusal(utf8('<a>x\0y</a>'))).toMatchObject({ code: 'not-well-formed', line: 1, column: 5 });
  });
});

describe('what is not well-formed has a line, a column, an excerpt and the last whole element', () => {
  test('a file that stops in the middle', () => {
    const trouble = refusal(utf8('<unit>\n  <host>kqm-gw1</host>\n  <roles>\n    <role>upl'));
    expect(trouble).toMatchObject({
      code: 'truncated',
      line: 4,
      params: { open: 'role' },
      lastIntact: { path: '/unit[1]/host[1]', line: 2 },
    });
  });

  test('cut inside a tag', () => {
    expect(refusal(utf8('<unit><host>x</host><ro'))).toMatchObject({
      code: 'truncated',
      lastIntact: { path: '/unit[1]/host[1]' },
    });
  });

  test('two roots', () => {
    expect(refusal(utf8('<unit/>\n<unit/>'))).toMatchObject({ code: 'second-root', line: 2, column: 1 });
  });

  test('the excerpt points at the place', () => {
    const { excerpt, line } = refusal(utf8('<a>\n  <b>fish & chips</b>\n</a>'));
    expect(line).toBe(2);
    expect(excerpt!.text.slice(0, excerpt!.caret + 1)).toMatch(/fish &$/);
  });

  test.each([
    ['a tag that closes another', '<a><b></c></a>'],
    ['an attribute twice', '<a x="1" x="2"/>'],
    ['an attribute without quotes', '<a x=1/>'],
    ['a bare ampersand', '<a>R&D</a>'],
    ['an entity that nothing declares', '<a>&nbsp;</a>'],
    ['a lower-than sign in a value', '<a x="<"/>'],
    ['text after the root', '<a/>x'],
    ['two hyphens in a comment', '<a><!-- -- --></a>'],
    ['a control character', '<a>\u0007</a>'],
    ['a control character by number', '<a>&#7;</a>'],
    ['the end of a CDATA section in text', '<a>]]></a>'],
    ['a declaration that is not first', ' <?xml version="1.0"?><a/>'],
    ['nothing but a comment', '<!-- empty -->'],
  ])('%s', (_, text) => {
    const trouble = refusal(utf8(text));
    expect(['not-well-formed', 'truncated']).toContain(trouble.code);
    expect(trouble.line).toBeGreaterThan(0);
    expect(trouble.excerpt).toBeDefined();
  });

  test('entities that would grow without end are refused with the declaration that holds them', () => {
    const entities = Array.from({ length: 9 }, (_, at) => `<!ENTITY e${at + 1} "${`&e${at};`.repeat(10)}">`);
    const bomb = `<!DOCTYPE a [<!ENTITY e0 "x">${entities.join('')}]><a>&e9;</a>`;
    expect(refusal(utf8(bomb))).toMatchObject({ code: 'doctype-with-subset', line: 1 });
  });

  test('a document type declaration without an internal subset is accepted', () => {
    expect(openBackup(utf8('<!DOCTYPE unit SYSTEM "unit.dtd"><unit/>'), 'x.xml').ok).toBe(true);
    expect(openBackup(utf8('<!DOCTYPE unit SYSTEM "[unit].dtd"><unit/>'), 'x.xml').ok).toBe(true);
    expect(openBackup(utf8('<!DOCTYPE unit PUBLIC "-//KQM//DTD unit//EN" "unit.dtd"><unit/>'), 'x.xml').ok).toBe(true);
  });
});

describe('more records than a call has room for arguments', () => {
  const COUNT = 130_000;
  const many = (make: (at: number) => string) => Array.from({ length: COUNT }, (_, at) => make(at)).join('');
  const address = (at: number) => `10.${at >> 16}.${(at >> 8) & 255}.${at & 255}`;
  const nets =
    '<nets><net><name>office</name><port>eth0</port><ip>10.0.0.1/8</ip></net><net><name>yard</name><port>eth1</port><ip>192.168.0.1/24</ip></net></nets>';

  test.each<[string, () => string]>([
    ['leases', () => `<ls>${many((at) => `<l><net>office</net><ip>${address(at + 2)}</ip></l>`)}</ls>`],
    ['lines of words', () => `<c>${many((at) => `<l>let h${at}(web, log) be a to b # on</l>`)}</c>`],
  ])('%s', { timeout: 120_000 }, (_, list) => {
    const opened = openBackup(utf8(`<box>${nets}${list()}</box>`), 'kqm-gw1.xml');
    if (!opened.ok) throw new Error(opened.trouble.code);
    const said = inspect(opened.value, readMeaning(opened.value.tree), { now: '2026-11-01T00:00:00Z' });
    expect(said.sections.map(({ records }) => records).sort()).toEqual([COUNT, 2].sort());
  });
});

describe('size and depth', () => {
  const nested = (levels: number) => utf8('<a>'.repeat(levels) + '</a>'.repeat(levels));

  test('30 levels are read', () => {
    expect(openBackup(nested(30), 'x.xml').ok).toBe(true);
  });

  test('30,000 levels are refused, with the limit', () => {
    expect(refusal(nested(30_000))).toMatchObject({ code: 'too-deep', params: { limit: 1000 } });
  });

  test('an element of 20,000 attributes is refused, with the limit', () => {
    const attributes = Array.from({ length: 20_000 }, (_, at) => ` a${at}=""`).join('');
    expect(refusal(utf8(`<a${attributes}/>`))).toMatchObject({
      code: 'too-many-attributes',
      params: { limit: 10_000 },
    });
  });

  test('50 MB are read, and progress is told', () => {
    const record = '  <rule><from>office</from><to>uplink</to><note>Harbour office</note></rule>\n';
    const text = `<unit>\n${record.repeat(Math.ceil(5e7 / record.length))}</unit>`;
    const told: number[] = [];
    const opened = openBackup(utf8(text), 'x.xml', (done) => told.push(done));
    expect(opened.ok && opened.value.tree.size).toBe(1 + 4 * Math.ceil(5e7 / record.length));
    expect(told.at(-1)).toBe(text.length);
    expect(told.length).toBeGreaterThan(50);
  });
});
