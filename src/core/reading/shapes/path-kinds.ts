const step = /[./:]/;
const word = /^\p{L}[\p{L}_-]*$/u;

/**
 * The kind of record that a path tells which counts the records of each: `Unit.Link` of `Unit.Link.3.`, `unit/pool/lease` of
 * `/unit/pool/1/lease/2`. Null for any other text.
 */
export function kindOfPath(path: string): string | null {
  if (path.length > 120) return null;
  const mark = step.exec(path)?.[0];
  if (mark === undefined) return null;
  const steps = path.split(mark).filter((one) => one !== '');
  const words = steps.filter((one) => !/^\d+$/.test(one));
  return words.length > 1 && words.every((one) => word.test(one)) ? words.join(mark) : null;
}

/** Whether paths are of several kinds, most of which come again. */
export function areCountedPaths(paths: readonly string[]): boolean {
  const times = new Map<string, number>();
  let counted = 0;
  for (const path of paths) {
    const kind = kindOfPath(path);
    if (kind === null) return false;
    times.set(kind, (times.get(kind) ?? 0) + 1);
    if (/\d/.test(path)) counted++;
  }
  const again = [...times.values()].filter((count) => count > 1).length;
  return again > 1 && counted * 2 >= paths.length;
}

/** The kind of record that a path tells which ends in a name: `network` of `/network/office`; null for any other text. */
export function headOfPath(path: string): string | null {
  const steps = path.split('/').filter((one) => one !== '');
  const head = steps.slice(0, -1);
  return path.length <= 120 && head.length > 0 && head.every((one) => word.test(one)) ? head.join('/') : null;
}

/** Whether paths that end in names are of a few kinds, of which several come again. */
export function areNamedPaths(paths: readonly string[]): boolean {
  const times = new Map<string, number>();
  for (const path of paths) {
    const kind = headOfPath(path);
    if (kind === null) return false;
    times.set(kind, (times.get(kind) ?? 0) + 1);
  }
  const again = [...times.values()].filter((count) => count > 1).length;
  return again > 1 && times.size * 2 <= paths.length && new Set(paths).size === paths.length;
}
