/** One line of a paste, without colours and without blanks at its ends. */
export interface PasteLine {
  /** From 1, as pasted. */
  readonly number: number;
  readonly text: string;
  /** Whether it began with a blank. */
  readonly inset: boolean;
}

export interface Paste {
  /** Lines with something on them; prompts and commands are left out. */
  readonly lines: readonly PasteLine[];
  /** The commands that stand in the paste, without the prompt. */
  readonly commands: readonly string[];
  /** The box's name where a prompt shows it, `root@kqm-gw2:~#`. */
  readonly host: string | null;
}

const ESCAPE = String.fromCharCode(27);
const BELL = String.fromCharCode(7);
/** Control sequences of a terminal: colours, cursor, the window's title (ECMA-48, 5.4; from memory). */
const sequences = new RegExp(`${ESCAPE}(?:\\[[0-?]*[ -/]*[@-~]|\\][^${ESCAPE}${BELL}]*(?:${BELL}|${ESCAPE}\\\\))`, 'g');
const names = 'ip|ifconfig|dmesg|journalctl|cat|grep|zgrep|less|more|ls|echo';
const command = new RegExp(
  `^(?:\\S[^#$%>]*[#$%>]\\s+|[#$%>]\\s+)?(?:sudo\\s+|doas\\s+)?((?:/[\\w./-]*/)?(?:${names})(?:\\s+[^:]*)?)$`,
);
/** A prompt that names who and where, whatever the command. */
const prompted = /^\[?[\w.-]+@[\w.-]+(?::|\s)[^#$%>]{0,80}[#$%>]\s+(.*)$/;
/** A prompt with nothing after it. */
const bare = /^(?:[^\s<>{}"]+[ :]?[^\s<>{}"]*)?[#$%>]$/;
const host = /^\[?[\w.-]+@([\w.-]+)[\s:]/;
/** Longer lines are no commands. */
const LONGEST = 300;

/** Takes a paste apart: line ends of every kind, colours, prompts and the command itself. */
export function takeApart(text: string): Paste {
  const lines: PasteLine[] = [];
  const commands: string[] = [];
  let name: string | null = null;
  const raw = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
  for (const [at, whole] of raw.entries()) {
    const clean = (whole.includes(ESCAPE) ? whole.replace(sequences, '') : whole).replaceAll('\u00A0', ' ');
    const line = clean.trim();
    if (line === '') continue;
    if (line.length <= LONGEST) {
      const asked = command.exec(line) ?? prompted.exec(line);
      if (asked || bare.test(line)) {
        if (asked) commands.push(asked[1]!);
        name ??= host.exec(line)?.[1] ?? null;
        continue;
      }
    }
    lines.push({ number: at + 1, text: line, inset: /^\s/.test(clean) });
  }
  return { lines, commands, host: name };
}

/** A name that a kernel would take: no blank, no slash, no colon; and no marks that no one uses. */
const legal = /^[^\s/:,;<>"'`()[\]{}|=\\!?*&^%$#~]{1,15}$/;

export const isLegalName = (text: string): boolean => legal.test(text);
