import { bad, good, type Result, type Trouble } from '../trouble.ts';
import { hardwareAddress } from './hardware-address.ts';
import { namesLikeAnother, type Receiver, type ReceiverPort, type ReceiverPortKind } from './receiver.ts';

/** Version of the saved form that this code writes. */
export const RECEIVER_VERSION = 1;

export interface LoadedReceiver {
  readonly receiver: Receiver;
  /** What could not be taken in as it stands, each with its key; and names that are easily mistaken. */
  readonly troubles: readonly Trouble[];
}

const keys = ['receiver', 'name', 'source', 'version', 'sections', 'ports'];
const portKeys = ['name', 'mac', 'speedMbit', 'label', 'up', 'kind', 'parent'];
const sources = ['backup', 'paste', 'typed'];
const kinds = ['physical', 'aggregate', 'tagged', 'other'];

/** The receiver as JSON: `{"receiver": 1, "name": …, "source": …, "version": …, "sections": …, "ports": [{…}]}`. */
export function saveReceiver({ name, source, version, sections, ports }: Receiver): string {
  const saved = {
    receiver: RECEIVER_VERSION,
    name,
    source,
    version,
    sections,
    ports: ports.map(({ name, mac, speedMbit, label, up, kind, parent }) => ({
      name,
      mac,
      speedMbit,
      label,
      up,
      kind,
      parent,
    })),
  };
  return `${JSON.stringify(saved, null, 2)}\n`;
}

/**
 * Reads a saved receiver. Of a port only the name must be there. A value of the wrong shape is reported and taken as not
 * told; a port without a name, or with one that another has, is reported and left out.
 */
export function loadReceiver(json: string): Result<LoadedReceiver> {
  let saved: unknown;
  try {
    saved = JSON.parse(json);
  } catch (error) {
    return bad({ code: 'receiver-not-json', params: { reason: (error as Error).message } });
  }
  if (!isRecord(saved) || typeof saved.receiver !== 'number') return bad({ code: 'receiver-not-a-receiver' });
  if (saved.receiver > RECEIVER_VERSION)
    return bad({ code: 'receiver-newer', params: { version: saved.receiver, known: RECEIVER_VERSION } });
  const troubles: Trouble[] = [];
  const strange = (key: string, entry: unknown) => {
    troubles.push({
      code: 'receiver-entry-unknown',
      params: { key, entry: JSON.stringify(entry)?.slice(0, 120) ?? '' },
    });
  };
  /** The value at a key where it passes, `otherwise` where it is missing or, reported, of another shape. */
  const take = <T, O>(
    from: Record<string, unknown>,
    key: string,
    passes: (v: unknown) => v is T,
    otherwise: O,
    at = '',
  ) => {
    const value = Object.hasOwn(from, key) ? from[key] : undefined;
    if (value === undefined || (value === null && otherwise === null)) return otherwise;
    if (passes(value)) return value;
    strange(at + key, value);
    return otherwise;
  };
  for (const key of Object.keys(saved)) if (!keys.includes(key)) strange(key, saved[key]);

  const ports: ReceiverPort[] = [];
  const names = new Set<string>();
  for (const [index, entry] of take(saved, 'ports', Array.isArray, []).entries()) {
    const at = `ports.${index}.`;
    if (!isRecord(entry) || !isText(entry.name) || entry.name.trim() === '') {
      strange(`ports.${index}`, entry);
      continue;
    }
    const { name } = entry;
    if (names.has(name)) {
      troubles.push({ code: 'receiver-port-doubled', params: { port: name } });
      continue;
    }
    names.add(name);
    for (const key of Object.keys(entry)) if (!portKeys.includes(key)) strange(at + key, entry[key]);
    ports.push({
      name,
      mac: hardwareAddress(take(entry, 'mac', isAddress, null, at)),
      speedMbit: take(entry, 'speedMbit', isSpeed, null, at),
      label: take(entry, 'label', isText, null, at)?.trim() || null,
      up: take(entry, 'up', isBoolean, null, at),
      kind: take(entry, 'kind', isKind, 'physical' as const, at),
      parent: take(entry, 'parent', isText, null, at),
    });
  }
  if (ports.length === 0) troubles.push({ code: 'receiver-no-ports', params: { shape: 'saved', ignored: 0 } });
  for (const { name, other } of namesLikeAnother(ports))
    troubles.push({ code: 'receiver-ports-alike', params: { port: name, other } });
  const receiver: Receiver = {
    name: take(saved, 'name', isText, ''),
    source: take(saved, 'source', isSource, 'typed' as const),
    ports,
    version: take(saved, 'version', isText, null),
    sections: take(saved, 'sections', isTexts, null),
  };
  return good({ receiver, troubles });
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isText = (value: unknown): value is string => typeof value === 'string';
const isTexts = (value: unknown): value is string[] => Array.isArray(value) && value.every(isText);
const isBoolean = (value: unknown): value is boolean => typeof value === 'boolean';
const isAddress = (value: unknown): value is string => isText(value) && hardwareAddress(value) !== null;
const isSpeed = (value: unknown): value is number =>
  typeof value === 'number' && Number.isSafeInteger(value) && value > 0;
const isSource = (value: unknown): value is Receiver['source'] => isText(value) && sources.includes(value);
const isKind = (value: unknown): value is ReceiverPortKind => isText(value) && kinds.includes(value);
