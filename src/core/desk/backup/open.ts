import type { Reading } from '../../reading/reading.ts';
import { type Decoded, decode } from '../../text/decode.ts';
import { fits } from '../../text/encodings.ts';
import { hashOf } from '../../text/hash.ts';
import { Lines } from '../../text/lines.ts';
import { good, type Result } from '../../trouble.ts';
import type { Place } from '../../views.ts';
import { sitePath } from '../../xml/path.ts';
import { readXml } from '../../xml/read.ts';
import { type Site, TEXT } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';

/** A backup that has been read: everything before its meaning. */
export interface Backup {
  readonly name: string;
  /** Size in bytes. */
  readonly size: number;
  readonly decoded: Decoded;
  readonly tree: Tree;
  readonly lines: Lines;
  readonly hash: string;
  readonly fits: (char: string) => boolean;
}

/** A backup with its meaning. */
export interface OpenBackup {
  readonly backup: Backup;
  readonly reading: Reading;
}

/** Bytes to a backup, or what is wrong with them and where. `progress` counts text units out of a total. */
export function openBackup(
  bytes: Uint8Array,
  name: string,
  progress: (done: number, total: number) => void = () => {},
): Result<Backup> {
  const decoded = decode(bytes);
  if (!decoded.ok) return decoded;
  const { text, encoding } = decoded.value;
  const tree = readXml(text, (units) => progress(units, text.length));
  if (!tree.ok) return tree;
  return good({
    name,
    size: bytes.length,
    decoded: decoded.value,
    tree: tree.value,
    lines: new Lines(text),
    hash: hashOf(text),
    fits: fits(encoding),
  });
}

/** Where a site is, for people and for the source view. */
export function placeOf(backup: Backup, site: Site): Place {
  const { tree, lines } = backup;
  const { node, attr } = site;
  const start = attr >= 0 ? tree.attrStart[attr]! : tree.start[node]!;
  const end = attr >= 0 ? tree.valueEnd[attr]! + 1 : tree.end[node]!;
  return { path: sitePath(tree, site), line: lines.at(start).line, start, end };
}

export const nodePlace = (backup: Backup, node: number): Place => placeOf(backup, { node, attr: TEXT });
