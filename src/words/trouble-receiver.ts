import { looks } from './looks.ts';
import { count, number } from './numbers.ts';
import { say, value } from './said.ts';
import type { TroubleTable } from './trouble-words.ts';

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

/** Of the new box: its pastes and its saved file. */
export const receiverTroubles = {
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
} satisfies Partial<TroubleTable>;
