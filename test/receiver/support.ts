import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type DevicesRead, type ReceiverPort, readDevices } from '../../src/core/index.ts';

const folder = fileURLToPath(new URL('../fixtures/receiver/', import.meta.url));

/** Where each sample is from: test/fixtures/receiver/SOURCES.md. */
export const sample = (name: string): string => readFileSync(folder + name, 'utf8');

export function devices(text: string): DevicesRead {
  const read = readDevices(text);
  if (!read.ok) throw new Error(JSON.stringify(read.trouble));
  return read.value;
}

export function refused(text: string) {
  const read = readDevices(text);
  if (read.ok) throw new Error(`read as ${read.value.shape}`);
  return read.trouble;
}

/** Ports in few words: `eth0.30 tagged on eth0`, `igb0 1000 up`. */
export const short = (ports: readonly ReceiverPort[]): string[] =>
  ports.map(({ name, kind, parent, speedMbit, up }) =>
    [
      name,
      kind === 'physical' ? '' : kind,
      parent === null ? '' : `on ${parent}`,
      speedMbit ?? '',
      up === null ? '' : up ? 'up' : 'down',
    ]
      .filter((word) => word !== '')
      .join(' '),
  );

export const port = (name: string, known: Partial<ReceiverPort> = {}): ReceiverPort => ({
  name,
  mac: null,
  speedMbit: null,
  label: null,
  up: null,
  kind: 'physical',
  parent: null,
  ...known,
});
