import { looks } from './looks.ts';
import { encodingName, number, size } from './numbers.ts';
import { type Said, say, value } from './said.ts';
import type { Params, TroubleTable } from './trouble-words.ts';

/** Names of a byte as people write them: `0xE9`. */
const byteName = (byte: string | number | undefined) =>
  `0x${Number(byte ?? 0)
    .toString(16)
    .toUpperCase()
    .padStart(2, '0')}`;

const saveAgain = 'Copy the file from the old box again; if it breaks at the same place, save a new backup there.';

/** What is wrong where a document is not well-formed. */
function faultWords({ fault, reason, open, found }: Params): Said {
  switch (fault) {
    case 'bare-ampersand':
      return say`An ampersand stands for itself here. XML wants it written as ${value('&amp;')}.`;
    case 'entity-unknown':
      return say`A reference that begins with ${value('&')} names nothing that XML knows.`;
    case 'attribute-doubled':
      return say`One tag has the same attribute twice: ${value(String(reason).replace(/^.*: /, ''))}.`;
    case 'attribute-without-quotes':
      return say`The value of an attribute is not in quotes.`;
    case 'attribute-without-value':
      return say`An attribute has no value.`;
    case 'attributes-without-space':
      return say`Two attributes stand together without a blank.`;
    case 'character-not-allowed':
      return say`A character is not allowed here: ${value(charName(String(found)))}.`;
    case 'close-of-another':
    case 'close-of-nothing':
      return open ? say`A closing tag does not fit: ${value(open)} is still open.` : say`A closing tag closes nothing.`;
    case 'comment-hyphens':
      return say`Two hyphens stand inside a comment, or it is not closed.`;
    case 'cdata-end-in-text':
      return say`The mark ${value(']]>')} stands in plain text.`;
    case 'declaration-not-first':
      return say`The XML declaration is not at the very start of the file.`;
    case 'text-outside-root':
      return say`Text stands outside the outermost element.`;
    case 'no-root':
      return say`The file holds no element.`;
    default:
      return say`The reader says: ${value(reason)}.`;
  }
}

/** A character as people name it: itself, or its number where it cannot be seen. */
function charName(char: string): string {
  const code = char.codePointAt(0) ?? 0;
  return code > 0x20 && code !== 0x7f ? char : `U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
}

/** Of opening a backup. */
export const fileTroubles = {
  'empty-file': () => ({
    title: 'This file is empty',
    sentence: say`It holds no byte at all. The copy may have stopped before it began.`,
    advice: saveAgain,
  }),
  'other-format': ({ look }) => {
    const [what, advice] = looks[String(look)] ?? looks.binary!;
    return { title: 'This is not an XML file', sentence: say`It looks like ${what}.`, advice };
  },
  'byte-does-not-fit': ({ byte, encoding }) => ({
    title: 'A byte does not fit the encoding',
    sentence: say`The file says it is ${encodingName(String(encoding ?? '').toLowerCase())}, and there the byte ${value(byteName(byte))} means nothing. A guess could change a password or a name, so we do not guess.`,
    advice:
      'The file may have been saved by an editor in another encoding. Take the copy that came from the box, or correct the encoding named in its first line.',
  }),
  'byte-nul': () => ({
    title: 'This file holds a zero byte',
    sentence: say`XML has no zero byte. The file was damaged on its way, or it is not text.`,
    advice: saveAgain,
  }),
  'encoding-unknown': ({ label }) => ({
    title: 'We do not know this encoding',
    sentence: say`The first line names the encoding ${value(label)}. Carryover reads UTF-8, UTF-16, ISO 8859-1, ISO 8859-15 and windows-1252.`,
    advice: 'Convert the file to UTF-8 with a text tool that names both encodings, and correct its first line.',
  }),
  'encoding-contradicts': ({ label, found }) => ({
    title: 'The file is not in the encoding it names',
    sentence: say`The first line names ${value(label)}, but the bytes are ${String(found ?? 'of another kind')}.`,
    advice: 'Take the copy that came from the box, or correct the encoding named in its first line.',
  }),
  'not-well-formed': (params) => ({
    title: 'This file breaks a rule of XML',
    sentence: faultWords(params),
    advice:
      'If someone edited the file by hand, look at this place first. A box would refuse it too, or read only a part of it.',
  }),
  truncated: ({ open }) => ({
    title: 'This file stops in the middle',
    sentence: open ? say`It ends inside ${value(`<${open}>`)}.` : say`It ends before its last element is closed.`,
    advice: saveAgain,
  }),
  'doctype-with-subset': () => ({
    title: 'This file carries its own definitions',
    sentence: say`Its document type declaration has an internal subset. With that, entities could change what the text means, so we do not read it.`,
    advice:
      'A backup does not need it. Find out who added it; if you trust the file, remove the part in square brackets.',
  }),
  'too-deep': ({ limit }) => ({
    title: 'Elements are nested too deep',
    sentence: say`More than ${number(Number(limit ?? 0))} stand inside one another. No real backup does that.`,
    advice: 'The file may be damaged or made to do harm. Save a new backup on the old box.',
  }),
  'too-large': ({ size: bytes, limit }) => ({
    title: 'This file is too large',
    sentence: say`It has ${size(Number(bytes ?? 0))}; we read up to ${size(Number(limit ?? 0))}.`,
    advice: 'A backup of that size often holds logs or images. Save one on the old box without them.',
  }),
  'too-many-attributes': ({ limit, element }) => ({
    title: 'An element has too many attributes',
    sentence: say`${value(`<${element}>`)} has more than ${number(Number(limit ?? 0))}. No real backup does that.`,
    advice: 'The file may be damaged or made to do harm. Save a new backup on the old box.',
  }),
  'character-does-not-fit': ({ char, encoding }) => ({
    title: 'A new name does not fit the file’s encoding',
    sentence: say`The character ${value(char)} cannot be written in ${encodingName(String(encoding ?? 'this encoding').toLowerCase())}.`,
    advice: 'Choose a name with plain letters and digits.',
  }),
} satisfies Partial<TroubleTable>;
