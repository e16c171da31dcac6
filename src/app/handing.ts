import type { Source } from '../state/open.ts';

/** What was handed over by a drop, a paste or the file dialog. */
export type Handed =
  | { readonly kind: 'source'; readonly source: Source }
  | { readonly kind: 'many'; readonly sources: readonly Source[] }
  | { readonly kind: 'nothing' };

export const sourceOfFile = (file: File): Source => ({
  name: file.name,
  size: file.size,
  bytes: () => file.arrayBuffer(),
});

export function sourceOfBytes(bytes: Uint8Array<ArrayBuffer>, name: string): Source {
  return { name, size: bytes.length, bytes: async () => bytes.slice().buffer };
}

export function handed(data: DataTransfer | null): Handed {
  const sources = [...(data?.files ?? [])].map(sourceOfFile);
  if (sources.length > 1) return { kind: 'many', sources };
  if (sources.length === 1) return { kind: 'source', source: sources[0] };
  return { kind: 'nothing' };
}
