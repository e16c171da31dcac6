import type { Trouble, TroubleCode } from '../core/index.ts';
import { count, encodingName, number, size } from './numbers.ts';
import { type Said, say, value } from './said.ts';

/** What happened, in a few words; where and why; what you can do. */
export interface TroubleWords {
  readonly title: string;
  readonly sentence: Said;
  readonly advice: string;
}

type Params = Readonly<Record<string, string | number>>;

export const looks: Record<string, readonly [what: string, advice: string]> = {
  gzip: ['a file packed with gzip', 'Unpack it, then open the XML file that is in it.'],
  zip: ['a zip archive', 'Unpack it, then open the XML file that is in it.'],
  xz: ['a file packed with xz', 'Unpack it, then open the XML file that is in it.'],
  bzip2: ['a file packed with bzip2', 'Unpack it, then open the XML file that is in it.'],
  '7z': ['a 7z archive', 'Unpack it, then open the XML file that is in it.'],
  zstd: ['a file packed with Zstandard', 'Unpack it, then open the XML file that is in it.'],
  tar: ['a tar archive', 'Unpack it, then open the XML file that is in it.'],
  png: ['a PNG picture', 'Open the backup that the box saved.'],
  jpeg: ['a JPEG picture', 'Open the backup that the box saved.'],
  gif: ['a GIF picture', 'Open the backup that the box saved.'],
  pdf: ['a PDF document', 'Open the backup that the box saved, not the report.'],
  sqlite: ['an SQLite database', 'Save a backup as XML on the old box and open that.'],
  'encrypted-openssl': [
    'a file encrypted with a passphrase',
    'Decrypt it first, or save a backup without encryption on the old box.',
  ],
  'encrypted-pgp': ['a file encrypted with OpenPGP', 'Decrypt it first, then open the XML file that comes out.'],
  'encrypted-age': ['a file encrypted with age', 'Decrypt it first, then open the XML file that comes out.'],
  pem: ['a certificate or key', 'Open the backup of the whole box; its certificates are in there.'],
  json: ['JSON', 'If it is a saved plan, open the backup first, then load the plan on sheet 6.'],
  html: ['a web page', 'Your browser may have saved the page around the backup. Save the backup itself and open that.'],
  text: ['plain text, not XML', 'Save the backup as XML on the old box and open that.'],
  binary: [
    'binary data, perhaps packed or encrypted',
    'Unpack or decrypt it first, then open the XML file that comes out.',
  ],
  blank: ['a file of blanks only', 'Save the backup again on the old box.'],
};

/** What a paste is that speaks of no network devices; looks that it shares with a file stand above. */
const pasteLooks: Record<string, readonly [what: string, advice: string]> = {
  xml: ['XML', 'If it is a backup of the new box, save it as a file and open that as the new box’s backup.'],
  html: ['a web page', 'Copy the text that the command printed, not the page around it.'],
  json: ['JSON of something else', 'Paste what “ip -j link” prints.'],
  'json-cut': [
    'the JSON of “ip -j link”, cut or broken',
    'Copy it from the first square bracket to the last, or paste what “ip -br link” prints.',
  ],
  'saved-plan': ['a saved plan', 'Load it on sheet 6.'],
  'saved-receiver': ['a new box that was saved before', 'Load it as a file; it needs no paste.'],
  routes: ['a table of routes', 'Paste what “ip -br link” or “ifconfig -a” prints.'],
  neighbours: ['a table of neighbours', 'Paste what “ip -br link” or “ifconfig -a” prints.'],
  addresses: ['addresses without the names of ports', 'Paste the names of the ports, too.'],
  settings: ['a file of settings', 'Paste what “ip -br link” or “ifconfig -a” prints, or type the names of the ports.'],
  'command-failed': [
    'the answer of a command that did not work',
    'Try “ip -br link” on Linux and “ifconfig -a” elsewhere, or type the names of the ports.',
  ],
  'command-only': ['a command without its output', 'Copy the lines that follow it, too.'],
  binary: ['binary data', 'Copy the text that the command printed.'],
};
const pasteAdvice = 'Paste what “ip -br link” or “ifconfig -a” prints on the new box, or type the names of its ports.';

/** Names of a byte as people write them: `0xE9`. */
const byteName = (byte: string | number | undefined) =>
  `0x${Number(byte ?? 0)
    .toString(16)
    .toUpperCase()
    .padStart(2, '0')}`;

const saveAgain = 'Copy the file from the old box again; if it breaks at the same place, save a new backup there.';

/** What the second reader found, in words. */
const second: Record<string, string> = {
  refused: 'that it cannot read it',
  bytes: 'that the bytes do not come back as they were',
  value: 'another value',
  text: 'another text',
  children: 'more or fewer elements',
  content: 'another comment or instruction',
  name: 'another element',
  attributes: 'other attributes',
};

/** Every trouble has words; a new code does not compile without. */
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

const words: Record<TroubleCode, (params: Params, trouble: Trouble) => TroubleWords> = {
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
  'second-root': () => ({
    title: 'Two documents stand in one file',
    sentence: say`A second outermost element begins here. An XML file has one.`,
    advice: 'Two backups may have been joined. Keep each in a file of its own and open the one you need.',
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
  'plan-not-json': ({ reason }) => ({
    title: 'This is not a saved plan',
    sentence: say`A plan is a JSON file, and this is not JSON: ${value(reason)}.`,
    advice: 'Choose the file that “Save the plan” made.',
  }),
  'plan-not-a-plan': () => ({
    title: 'This is not a saved plan',
    sentence: say`It is JSON, but not of a plan: the number ${value('plan')} is missing.`,
    advice: 'Choose the file that “Save the plan” made.',
  }),
  'plan-newer': ({ version, known }) => ({
    title: 'This plan was saved by a newer Carryover',
    sentence: say`It has version ${number(Number(version ?? 0))}; this page knows up to ${number(Number(known ?? 0))}.`,
    advice: 'Open it with the Carryover that saved it.',
  }),
  'plan-entry-unknown': ({ key, entry }) => ({
    title: 'The plan holds an entry that we do not know',
    sentence: say`${value(key)}: ${value(entry)}. It has no effect.`,
    advice: 'It may come from a newer Carryover, or from a slip in an edit by hand.',
  }),
  'plan-path-missing': ({ path }) => ({
    title: 'Nothing to leave out here',
    sentence: say`The plan leaves out ${value(path)}, and this file has no such place.`,
    advice: 'The place may have moved or gone since the plan was made. Tick it again on sheet 3 if it still matters.',
  }),
  'plan-port-missing': ({ port }) => ({
    title: 'This file does not name that port',
    sentence: say`The plan gives ${value(port)} a new name, and nothing in this file names it.`,
    advice: 'Check the port’s name on sheet 2.',
  }),
  'plan-port-doubled': ({ port, from }) => ({
    title: 'Two ports would have one name',
    sentence: say`${value(from)} would all be called ${value(port)}.`,
    advice: 'Give each its own name on sheet 2.',
  }),
  'plan-root-left-out': () => ({
    title: 'The whole file cannot be left out',
    sentence: say`The plan leaves out the outermost element.`,
    advice: 'Leave out sections or records instead.',
  }),
  'plan-role-missing': ({ path }) => ({
    title: 'No network role stands here',
    sentence: say`The plan moves the role at ${value(path)}, and this file has none there.`,
    advice: 'The role may have moved or gone since the plan was made. Move it again on sheet 2 if it still matters.',
  }),
  'plan-role-no-place': ({ role, what }) => ({
    title: what === 'tag' ? 'This role has no place for a VLAN ID' : 'This role has no place for a port',
    sentence:
      what === 'tag'
        ? say`The record of ${value(role)} has no field for the VLAN ID that other roles have.`
        : say`The record of ${value(role)} has no field that names a port, and we make up none.`,
    advice: 'Assign the role on the new box, or to its present port here, and change it there.',
  }),
  'plan-role-many-ports': ({ role, count: ports }) => ({
    title: 'This role sits on several ports',
    sentence: say`${value(role)} names ${count(Number(ports ?? 0), 'port')}, so it cannot be moved as one.`,
    advice: 'Give the ports new names instead.',
  }),
  'plan-role-is-port': ({ role }) => ({
    title: 'This role is the port itself',
    sentence: say`${value(role)} is written in the record of its own device, so it cannot leave it.`,
    advice: 'Give the port a new name on sheet 2. A tagged device can move to another port or VLAN ID.',
  }),
  'plan-tag-no-record': ({ port, tag }) => ({
    title: 'No pattern for a tagged device',
    sentence: say`Nothing defines VLAN ${tag ?? 0} on ${value(port)}, and the file has no tagged device to write it like.`,
    advice: 'Define one VLAN on the old box and save a new backup, or set this one up on the new box.',
  }),
  'plan-tag-out-of-range': ({ port, tag }) => ({
    title: 'This is no VLAN ID',
    sentence: say`The plan asks for VLAN ${tag ?? 0} on ${value(port)}; VLAN IDs go from 1 to 4094.`,
    advice: 'IEEE 802.1Q keeps 0 and 4095 for itself. Choose another number.',
  }),
  'plan-tag-taken': ({ role, port, tag }) => ({
    title: 'This VLAN ID is taken',
    sentence: say`${value(role)} is to be VLAN ${tag ?? 0} on ${value(port)}, and another tagged device is that already.`,
    advice: 'Choose another VLAN ID or another port.',
  }),
  'plan-port-no-record': ({ port }) => ({
    title: 'This port has no record',
    sentence: say`Roles name a port by the key of its record, and ${value(port)} has none in this file.`,
    advice: 'Choose a port that the file has a record of, and give it its new name on sheet 2.',
  }),
  'plan-keep-missing': ({ path }) => ({
    title: 'Nothing to keep here',
    sentence: say`The plan keeps ${value(path)}, and this file has no such place.`,
    advice: 'The place may have moved or gone since the plan was made. Tick it again on sheet 3 if it still matters.',
  }),
  'plan-value-missing': ({ path }) => ({
    title: 'No value to change here',
    sentence: say`The plan sets the value at ${value(path)}, and this file has no such place.`,
    advice: 'The place may have moved or gone since the plan was made. Set the value again if it still matters.',
  }),
  'plan-value-other': ({ path, was }) => ({
    title: 'Another value stands here',
    sentence: say`The plan changes ${value(was)} at ${value(path)}, and that is not what this file says there.`,
    advice: 'Look at the place, and change it again if it still matters.',
  }),
  'plan-value-crossed': ({ path }) => ({
    title: 'Two changes meet in one value',
    sentence: say`At ${value(path)} two decisions change the same letters.`,
    advice: 'Take one of them back.',
  }),
  'value-holds-elements': ({ path }) => ({
    title: 'This element has no value of its own',
    sentence: say`${value(path)} holds other elements.`,
    advice: 'Change the values inside it.',
  }),
  'value-not-allowed': ({ path }) => ({
    title: 'XML cannot hold this value',
    sentence: say`The new value at ${value(path)} has a control character that no XML file may hold.`,
    advice: 'Type the value again instead of pasting it.',
  }),
  'graft-no-receiver': () => ({
    title: 'The new box’s backup is not open',
    sentence: say`A graft goes into the new box’s own backup, and none is here.`,
    advice: 'Open it on sheet 3, or take the whole file instead.',
  }),
  'graft-nothing-picked': () => ({
    title: 'Nothing is ticked yet',
    sentence: say`A graft takes what you tick, and nothing that is ticked is in this backup.`,
    advice: 'Tick sections or records of the old backup first.',
  }),
  'graft-other-root': ({ donor, receiver }) => ({
    title: 'The new box writes another kind of backup',
    sentence: say`The old backup begins with ${value(donor)}, the new one with ${value(receiver)}, so nothing of one has a place in the other.`,
    advice: 'Take a backup from a box of the same kind, or carry the settings over by hand; the swap sheet lists them.',
  }),
  'graft-other-form': ({ path, percent }) => ({
    title: 'The new backup is written in another form',
    sentence: say`It shares ${number(Number(percent ?? 0))} percent of its form with the old one, so ${value(path)} has no sure place in it.`,
    advice: 'Only whole sections can go over. Pick the section, and check it on the new box before it is in use.',
  }),
  'graft-spread-record': ({ path }) => ({
    title: 'This record is no single piece',
    sentence: say`${value(path)} is written as several lines side by side, so it cannot be taken out alone.`,
    advice: 'Carry the whole file instead, and leave out what you do not want.',
  }),
  'graft-no-key': () => ({
    title: 'No free key was found',
    sentence: say`Every new key that we tried for the clashing records is taken on the new box.`,
    advice: 'Keep or replace the records instead.',
  }),
  'plan-other-file': ({ name }) => ({
    title: 'This plan was made for another file',
    sentence: name ? say`It was made for ${value(name)}.` : say`It was made for a file with another content.`,
    advice: 'What fits this file is used. Go through sheets 2 and 3 before you trust it.',
  }),
  'value-in-two-pieces': () => ({
    title: 'A value is written in pieces',
    sentence: say`A comment or a marked section cuts it in two, so it cannot be changed in one place.`,
    advice: 'Join the value by hand in a copy of the backup, then open that.',
  }),
  'name-not-allowed': ({ name }) => ({
    title: 'XML does not allow this name',
    sentence: say`${value(name)} stands as an element’s own name here, so its letters are limited.`,
    advice: 'Begin with a letter and use letters, digits, dots, hyphens and underscores.',
  }),
  'second-reader-differs': ({ what, path, reason }) => ({
    title: 'The second reader disagrees',
    sentence: say`It read the result again and found ${second[String(what)] ?? 'something that your plan does not say'}${path ? say`, at ${value(path)}` : ''}${reason ? say`: ${value(reason)}` : ''}. It may be our fault.`,
    advice:
      'So that nothing wrong reaches a box, the file stays here. Save the plan, and undo your decisions one by one to find the one.',
  }),
  'paste-empty': () => ({
    title: 'Nothing was pasted',
    sentence: say`The paste holds blanks only.`,
    advice: pasteAdvice,
  }),
  'paste-too-large': ({ size: units, limit }) => ({
    title: 'This paste is too long',
    sentence: say`It has ${count(Number(units ?? 0), 'character')}; we read up to ${number(Number(limit ?? 0))}.`,
    advice: 'Paste only the part that is about the network devices.',
  }),
  'paste-not-devices': ({ look }) => {
    const [what, advice] = pasteLooks[String(look)] ?? [
      looks[String(look)]?.[0] ?? 'text of another kind',
      pasteAdvice,
    ];
    return {
      title: 'We find no network devices in this paste',
      sentence: look === 'text' ? say`It is text that names none in a way we know.` : say`It looks like ${what}.`,
      advice,
    };
  },
  'receiver-no-ports': ({ shape, ignored }) => ({
    title: 'The new box has no ports here',
    sentence:
      shape === 'backup'
        ? say`Its backup names no port that we recognise.`
        : Number(ignored ?? 0) > 0
          ? say`What is listed is ${count(Number(ignored), 'device')} without a socket: loopback, tunnels and the like.`
          : say`The list of its ports is empty.`,
    advice: pasteAdvice,
  }),
  'receiver-port-doubled': ({ port, first }) => ({
    title: 'One port stands there twice',
    sentence: first
      ? say`${value(port)} is on line ${number(Number(first))} already.`
      : say`${value(port)} is in the list already.`,
    advice: 'Give each port once. If two boxes are in one paste, paste them one after the other.',
  }),
  'receiver-ports-alike': ({ port, other }) => ({
    title: 'Two ports differ in capital letters only',
    sentence: say`${value(port)} and ${value(other)} are two names to a box, and easily mistaken.`,
    advice: 'If they are one port, correct the name.',
  }),
  'receiver-not-json': ({ reason }) => ({
    title: 'This is not a saved new box',
    sentence: say`A saved new box is a JSON file, and this is not JSON: ${value(reason)}.`,
    advice: 'Choose the file in which the new box was saved.',
  }),
  'receiver-not-a-receiver': () => ({
    title: 'This is not a saved new box',
    sentence: say`It is JSON, but not of a new box: the number ${value('receiver')} is missing.`,
    advice: 'Choose the file in which the new box was saved.',
  }),
  'receiver-newer': ({ version, known }) => ({
    title: 'This new box was saved by a newer Carryover',
    sentence: say`It has version ${number(Number(version ?? 0))}; this page knows up to ${number(Number(known ?? 0))}.`,
    advice: 'Open it with the Carryover that saved it.',
  }),
  'receiver-entry-unknown': ({ key, entry }) => ({
    title: 'The saved new box holds an entry that we do not know',
    sentence: say`${value(key)}: ${value(entry)}. It has no effect.`,
    advice: 'It may come from a newer Carryover, or from a slip in an edit by hand.',
  }),
};

export function troubleWords(trouble: Trouble): TroubleWords {
  return words[trouble.code](trouble.params ?? {}, trouble);
}

/** `line 1162, column 24`; empty where the trouble has no place. */
export function placeWords({ line, column, offset, code }: Trouble): string {
  if (line !== undefined)
    return column === undefined ? `line ${number(line)}` : `line ${number(line)}, column ${number(column)}`;
  if (offset === undefined) return '';
  return code.startsWith('byte-') ? `byte ${number(offset + 1)}` : `after ${count(offset, 'character')}`;
}

/** Every code that has words, for tests. */
export const troubleCodes = Object.keys(words) as TroubleCode[];
