import { loadReceiver, type Receiver, type Result, saveReceiver, type Trouble } from '../core/index.ts';
import { follow, justRead, type Source, working } from './open.ts';
import { type NewBox, useDesk } from './session.ts';

const { getState, setState } = useDesk;

/** Takes a description of the new box in; null forgets it. It is no decision: the plan stays as it is. */
export function describe(newBox: NewBox | null): void {
  setState({ newBox });
  follow();
}

/** The new box by its own backup, read by a worker of its own; `stop` ends that. */
export function readReceiver(source: Source): { readonly read: Promise<Result<Receiver>>; stop(): void } {
  return justRead((desk, progress) => source.bytes().then((bytes) => desk.receiverOf(bytes, source.name, progress)));
}

/** What a command printed, or a list of names. */
export const readPaste = (text: string) => working().devices(text);

/** The description as text, to be saved. */
export function receiverText(receiver: Receiver): string {
  const { newBox } = getState();
  if (newBox?.receiver === receiver) setState({ newBox: { ...newBox, safe: true } });
  return saveReceiver(receiver);
}

/** A saved description. */
export function readSaved(json: string): Result<{ receiver: Receiver; troubles: readonly Trouble[] }> {
  return loadReceiver(json);
}
