import type { FieldData } from '../../reading/fields/fields.ts';
import type { Reading } from '../../reading/reading.ts';
import { unsigned } from '../../values/numbers.ts';
import type { Site } from '../../xml/site.ts';
import { eachCellAt, siteOf, tablesOf } from '../facts/tables.ts';

/** A tagged device whose largest frame is larger than that of the port that carries it. */
export interface LargeFrame {
  readonly site: Site;
  readonly device: string;
  readonly parent: string;
  readonly frame: number;
  readonly least: number;
}

/**
 * Frames that the port below does not carry: a tag adds to a frame and takes nothing away (IEEE 802.1Q, 9, from memory).
 * Only sizes of one field are compared, since others may count other layers.
 */
export function largeFrames(reading: Reading): LargeFrame[] {
  const columns = [...tablesOf(reading).values()].flatMap((table) =>
    table.columns.filter(({ words }) => words.has('mtu')),
  );
  if (columns.length === 0) return [];
  const deviceOf = devicesByRow(reading);
  const tagged = reading.tagging.flatMap(({ records }) => records);
  const taggedAt = new Map(tagged.map(({ node, device }) => [node, device]));
  const nameOf = (field: FieldData, place: number): string | null => {
    const row = field.rows[place]!;
    const node = row === -1 ? -1 : reading.values.element[row]!;
    return taggedAt.get(node) ?? deviceOf.get(row) ?? null;
  };
  const sizes = new Map<string, { site: Site; frame: number }>();
  for (const { field } of columns)
    for (let place = 0; place < field.values.length; place++) {
      const frame = unsigned(field.values[place]!);
      const device = frame > 0 ? nameOf(field, place) : null;
      if (device !== null) sizes.set(`${lastOf(field)} ${device}`, { site: siteOf(field, place), frame });
    }
  const names = new Set(columns.map(({ field }) => lastOf(field)));
  return tagged.flatMap(({ device, parent }) =>
    [...names].flatMap((name) => {
      const [own, below] = [sizes.get(`${name} ${device}`), sizes.get(`${name} ${parent}`)];
      return own && below && parent !== null && own.frame > below.frame
        ? [{ site: own.site, device, parent, frame: own.frame, least: below.frame }]
        : [];
    }),
  );
}

/** Ports and tagged devices may stand in two lists, so fields count as one by their names; a size of one protocol is its own. */
const lastOf = ({ steps }: FieldData) => steps.slice(steps[steps.length - 2]?.match(/ip|inet/i) ? -2 : -1).join('/');

/** The one device that the values of a row name. */
function devicesByRow(reading: Reading): ReadonlyMap<number, string> {
  const found = new Map<number, string>();
  const several = new Set<number>();
  const bySite = new Map<string, string | null>();
  for (const { site, value } of reading.mentions) {
    const key = `${site.node} ${site.attr}`;
    bySite.set(key, !bySite.has(key) || bySite.get(key) === value ? value : null);
  }
  const sites = reading.mentions.map(({ site }) => site);
  eachCellAt(reading, sites, ({ field, place }) => {
    const row = field.rows[place]!;
    const value = bySite.get(`${field.nodes[place]} ${field.attrs[place]}`) ?? null;
    if (value === null || (found.get(row) ?? value) !== value) several.add(row);
    else found.set(row, value);
  });
  for (const row of several) found.delete(row);
  return found;
}
