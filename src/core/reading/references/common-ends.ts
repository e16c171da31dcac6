import type { KeyField } from '../keys/key-table.ts';

/** No more names of a key are looked at. */
const ENOUGH = 400;

/** What all names of a key begin or end with, up to a mark: `gw-` of `gw-mast` and `gw-fibre`, `_gw` of `mast_gw`. */
export class CommonEnds {
  private readonly ends = new Map<number, { readonly before: string; readonly after: string }>();

  /** Whether names have the beginning and the ending that all names of a key have; false where these have none. */
  have(key: KeyField, names: readonly string[]): boolean {
    const { before, after } = this.of(key);
    if ((before === '' && after === '') || names.length === 0) return false;
    const { length } = before + after;
    return names.every((name) => name.length > length && name.startsWith(before) && name.endsWith(after));
  }

  private of({ index, field: { distinct } }: KeyField) {
    let ends = this.ends.get(index);
    if (!ends) {
      const names = distinct.slice(0, ENOUGH);
      const [first = ''] = names;
      const before = names.length < 2 ? '' : (/^\p{L}+[-_.]/u.exec(first)?.[0] ?? '');
      const after = names.length < 2 ? '' : (/[-_.]\p{L}+$/u.exec(first)?.[0] ?? '');
      ends = {
        before: names.every((name) => name.startsWith(before)) ? before : '',
        after: names.every((name) => name.endsWith(after)) ? after : '',
      };
      this.ends.set(index, ends);
    }
    return ends;
  }
}
