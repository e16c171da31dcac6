/** Line speeds of serial consoles in bits per second; common practice, no source. */
const speeds = new Set('1200 2400 4800 9600 19200 38400 57600 115200 230400 460800 921600'.split(' '));
/** A disk or a medium that a machine starts from, as kernels name it; from memory. */
const disk =
  /^(?:\/dev\/)?(?:(?:ada|da|nvd|nda|vtbd|mmcsd|mfid|xbd|acd|cd)\d{1,2}(?:[ps]\d{1,2})?[a-h]?|(?:sd|hd|vd|xvd)[a-z]\d{0,2}|nvme\d{1,2}n\d{1,2}(?:p\d{1,2})?|mmcblk\d(?:p\d)?)$/;
/** With its speed, parity and bits behind it as the Linux kernel takes them (its guide, serial-console: `ttyS0,115200n8`; from memory). */
const terminal =
  /^(?:\/dev\/)?(?:tty(?:S|u|v|d|AMA|USB|O)?\d{1,2}|cua[ud]?\d{1,2}|hvc\d|com[1-8]|COM[1-8]|(?:com|vid|dual|efi)console)(?:,\d{4,6}(?:[noe](?:[78]r?)?)?)?$/;
const flow = /^(?:rts[/-]?cts|xon[/-]?xoff|hardware|[5-8][noeNOE][12])$/;

export type MachinePart = 'speed' | 'disk' | 'terminal' | 'flow';

/** Tells values that only a machine's own console and boot settings have; null for any other. */
export function machinePart(text: string): MachinePart | null {
  if (text.length < 3 || text.length > 24) return null;
  if (speeds.has(text)) return 'speed';
  if (terminal.test(text)) return 'terminal';
  if (disk.test(text)) return 'disk';
  return flow.test(text) ? 'flow' : null;
}

/** Three or more groups of four to six capital letters and digits, as licences are written; common practice, no source. */
export function looksLicence(text: string): boolean {
  return (
    text.length >= 14 &&
    text.length <= 60 &&
    /^[A-Z0-9]{4,6}(?:-[A-Z0-9]{4,6}){2,9}$/.test(text) &&
    /[A-Z]/.test(text) &&
    /[G-Z]/.test(text)
  );
}

/** One word of capital letters and digits, both, as makers stamp on a case; common practice, no source. */
export function looksSerialNumber(text: string): boolean {
  return (
    text.length >= 8 && text.length <= 24 && /^[A-Z][A-Z0-9-]+$/.test(text) && (text.match(/\d/g)?.length ?? 0) >= 3
  );
}

/** The same in groups, which may begin with a number and need no letters: `0417-AC-99120`; no date. */
export function stampsSerial(text: string): boolean {
  if (looksSerialNumber(text)) return true;
  if (text.length < 8 || text.length > 24 || /^\d{4}-\d\d-\d\d$/.test(text)) return false;
  return /^[A-Z0-9]+(?:[-/][A-Z0-9]+)+$/.test(text) && (text.match(/\d/g)?.length ?? 0) >= 4;
}
