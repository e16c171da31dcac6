import { describe, expect, it } from 'vitest';
import { namedSets as list, sets } from './named-sets.ts';
import { findingsOf, fixtures, opened, openedFile, said, sentence } from './support.ts';

const family =
  /^(?:character-unseen|blank-in-value|reference-case|reference-dangling|reference-recurring|key-doubled|prefix-unbound)$/;
const say = (xml: string) =>
  findingsOf(opened(xml))
    .filter(({ code }) => family.test(code))
    .map((finding) => `${finding.code} ${finding.place?.line}: ${sentence(finding)}`);

const rules = [...sets, ...sets];

describe('the form of a file', () => {
  it('a healthy list: nothing', () => {
    expect(say(list(sets, rules))).toEqual([]);
  });

  // XML 1.0, 2.4: names and values are compared letter by letter.
  it('a reference in other capitals names the record that is meant', () => {
    expect(say(list(sets, [...rules, 'Tills']))).toEqual([
      'reference-case 32: “rule/from” names “Tills”, and the record is written “tills”.',
    ]);
  });

  it('a reference to nothing stays one', () => {
    expect(say(list(sets, [...rules, 'kiosk']))).toEqual([
      'reference-dangling 32: “rule/from” names “kiosk”, and no such record is there.',
    ]);
  });

  it('a reference to nothing that comes back is a note', () => {
    const thrice = list(sets, [...rules, ...rules, 'kiosk', 'kiosk', 'kiosk']);
    const found = findingsOf(opened(thrice)).filter(({ code }) => code.startsWith('reference-'));
    expect(found.map(({ code, severity, place }) => [code, severity, place?.line])).toEqual([
      ['reference-recurring', 'note', 50],
      ['reference-recurring', 'note', 51],
      ['reference-recurring', 'note', 52],
    ]);
  });

  it('a key twice', () => {
    expect(say(list([...sets, 'crew'], rules))).toEqual([
      'key-doubled 12: Two records of one list have the same key “crew”.',
    ]);
  });

  // XML 1.0, 2.2, advises against U+007F to U+0084 and U+0086 to U+009F; U+200B is of no width by the Unicode Standard.
  it.each([
    ['\u0096', 'U+0096'],
    ['\u200b', 'U+200B'],
    ['\ufeff', 'U+FEFF'],
    ['&#x7f;', null],
  ])('an unseen character %j', (char, shown) => {
    const found = say(list(sets, rules).replace('<host>10.20.0.12', `<host>${char}10.20.0.12`));
    if (shown === null) expect(found).toEqual([]);
    else
      expect(found[0]).toBe(
        `character-unseen 5: 1 character “${shown}” that nobody sees stands in values of the file.`,
      );
  });

  it('none in a comment, and none in the French of a remark', () => {
    const text = list(sets, rules).replace('<sets>', '<!-- a\u200bb --><sets>');
    expect(say(text)).toEqual([]);
  });

  it('blanks around one value of many, and a value broken over two lines', () => {
    expect(say(list(sets, rules).replace('<host>10.20.0.12<', '<host> 10.20.0.12<'))).toEqual([
      'blank-in-value 5: This value of “host” has blanks around it, unlike the others of its field.',
    ]);
    expect(say(list(sets, rules).replace('<host>10.20.0.12<', '<host>10.20.\n    0.12<'))).toEqual([
      'blank-in-value 5: This value of “host” is broken over two lines, unlike the others of its field.',
    ]);
    // Two of them on two lines are a list.
    expect(say(list(sets, rules).replace('<host>10.20.0.12<', '<host>10.20.0.12\n    10.20.0.99<'))).toEqual([]);
    expect(say(list(sets, rules).replaceAll(/<host>([^<]+)</g, '<host>\n    $1\n    <'))).toEqual([]);
  });

  it('each broken variant of the marina: what yanglint says of form and references, and no more', () => {
    // Source: test/fixtures/site/broken/expected.md, printed by yanglint. Faults that only a schema tells are not named here.
    const lines = (name: string) => said(findingsOf(openedFile(`${fixtures}site/broken/${name}.xml`)), family);
    expect(lines('01-dangling-leafref')).toEqual(['reference-dangling 688']);
    expect(lines('02-duplicate-list-key')).toEqual(['key-doubled 213']);
    expect(lines('09-dangling-predicate-leafref')).toEqual(['reference-dangling 1069']);
  });
});
