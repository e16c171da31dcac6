import {
  type DevicesRead,
  loadReceiver,
  type Receiver,
  type Result,
  saveReceiver,
  type Trouble,
  withLabel,
} from '../core/index.ts';
import { follow, justRead, working } from './open.ts';
import { type NewBox, type Source, useDesk } from './session.ts';

const { getState, setState } = useDesk;

/** A description of the new box as it came, with what was strange about it. */
export interface Described {
  readonly receiver: Receiver;
  readonly troubles: readonly Trouble[];
  /** What a text was taken for; null for a backup and a saved description. */
  readonly text: DevicesRead | null;
  /** The file, where it was the new box's own backup. */
  readonly backup?: Source | null;
}

/** Takes a description of the new box in; null forgets it. It is no decision: the plan stays as it is. */
export function describe(newBox: NewBox | null): void {
  setState({ newBox });
  follow();
}

/** Opens the slip in which the new box is described, on the sheet of the ports. */
export const startDescribing = (source: Source | null = null): void =>
  setState({ sheet: 'ports', describing: { source } });

export const stopDescribing = (): void => setState({ describing: null });

/** The new box by its own backup, read by a worker of its own; `stop` ends that. */
export function readReceiver(source: Source): { readonly read: Promise<Result<Receiver>>; stop(): void } {
  return justRead((desk, progress) => source.bytes().then((bytes) => desk.receiverOf(bytes, source.name, progress)));
}

/** What a command printed, or a list of names. */
export async function readPaste(text: string): Promise<Result<Described>> {
  const read = await working().devices(text);
  if (!read.ok) return read;
  const { receiver, troubles } = read.value;
  return { ok: true, value: { receiver, troubles, text: read.value } };
}

/** The new box by a file: a description that was saved, what a command printed, or else its backup. */
export function readBoxFile(source: Source): { readonly read: Promise<Result<Described>>; stop(): void } {
  let stop = () => {};
  const read = (async (): Promise<Result<Described>> => {
    const bytes = await source.bytes();
    const begin = new TextDecoder().decode(bytes.slice(0, 512), { stream: true }).trimStart();
    if (begin.startsWith('{')) return readSaved(new TextDecoder().decode(bytes));
    if (isPlainText(begin)) return readPaste(new TextDecoder().decode(bytes));
    const backup: Source = { ...source, bytes: async () => bytes.slice(0) };
    const reading = readReceiver(backup);
    stop = reading.stop;
    const found = await reading.read;
    return found.ok ? { ok: true, value: { receiver: found.value, troubles: [], text: null, backup } } : found;
  })();
  return { read, stop: () => stop() };
}

/** Text that is no XML; whatever else a backup may be wrapped in begins with bytes that no text has. */
const isPlainText = (begin: string) => /^[^<]/.test(begin) && !/\uFFFD|(?=\p{Cc})[^\t\r\n]/u.test(begin);

/** The description as text, to be saved. */
export function receiverText(receiver: Receiver): string {
  const { newBox } = getState();
  if (newBox?.receiver === receiver) setState({ newBox: { ...newBox, safe: true } });
  return saveReceiver(receiver);
}

/** A saved description. */
export function readSaved(json: string): Result<Described> {
  const loaded = loadReceiver(json);
  return loaded.ok ? { ok: true, value: { ...loaded.value, text: null } } : loaded;
}

export const labelled = (receiver: Receiver, port: string, label: string): Receiver => withLabel(receiver, port, label);
