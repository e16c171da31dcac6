import { type FieldData, leafName } from '../fields/fields.ts';
import type { Structure } from '../shapes/structure.ts';
import { byRow, isMarks, mayBeDevice, mayBeParent, mostly } from './device-forms.ts';
import type { Devices } from './device-set.ts';

/** A device below and a number, both of one record, that make a name together: by row. */
export interface Composable {
  readonly shape: number;
  /** What the record names the device by; null where that is not the device's name. */
  readonly parent: FieldData | null;
  readonly tag: FieldData;
  readonly rows: ReadonlyMap<number, { readonly parent: string; readonly tag: string }>;
  /** False where ports are sure and the device below is none of them. */
  readonly onPort: boolean;
}

/**
 * What a number may make a name with: a device that its record names, or that names the record around
 * (`<port name="eth1"><unit vlan="30"/></port>`).
 * @param byShape fields that a record has once.
 * @param ports what ports that are sure are named by, each way by itself, with their devices.
 */
export function composableFrom(
  tag: FieldData,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  { shapeOf }: Structure,
  above: (row: number) => number,
  ports: readonly ReadonlyMap<string, string>[],
): Composable[] {
  if (tag.distinct.length < Math.min(50, tag.values.length * 0.3)) return [];
  const shape = tag.rowShape;
  const outer = above(tag.rows[0]!);
  const beside = (byShape.get(shape) ?? []).filter(
    (field) => field !== tag && !field.tag && field.values[0]!.length <= 48,
  );
  const around = (byShape.get(outer === -1 ? -1 : shapeOf[outer]!) ?? []).filter(
    ({ values }) => outer !== -1 && (mostly(values, mayBeDevice) || values.every((name) => ports[0]?.has(name))),
  );
  const under = (parent: FieldData, deviceOf: (value: string) => string | undefined = (value) => value) => {
    const names = byRow(parent);
    const rows = new Map<number, { parent: string; tag: string }>();
    for (const [place, row] of tag.rows.entries()) {
      const name = names.get(parent.rowShape === shape ? row : above(row));
      const device = name === undefined ? undefined : deviceOf(name);
      if (device !== undefined) rows.set(row, { parent: device, tag: tag.values[place]! });
    }
    return rows;
  };
  const known = ports[0];
  const isOnPort = (rows: Composable['rows']) =>
    known === undefined || [...rows.values()].some(({ parent }) => known.has(parent));
  const plain = [...beside.filter(({ values }) => mostly(values, mayBeParent)), ...around];
  return [
    ...plain.map((parent) => {
      const rows = under(parent);
      return { shape, parent, tag, rows, onPort: isOnPort(rows) };
    }),
    ...beside.flatMap((field) => {
      const first = field.distinct[0]!;
      const ways: ((name: string) => string | undefined)[] = ports
        .map((way) => (name: string) => way.get(name) ?? way.get(bareName(name)))
        .filter((way) => way(first) !== undefined);
      if (ways.length === 0 && bareName(first) !== first && mayBeParent(bareName(first))) ways.push(bareName);
      return ways.map((way) => {
        const rows = under(field, way);
        return { shape, parent: null, tag, rows, onPort: isOnPort(rows) };
      });
    }),
  ].filter(({ rows }) => rows.size > 0);
}

/**
 * Where ports are sure, what else stands beside a number is a word for the kind of record, `socket` and 3 of `socket/3`; but
 * parts of what is made of ports are called as those of the ports are.
 */
export function onPorts(all: readonly Composable[], { shapes }: Structure): Composable[] {
  const isPart = ({ shape, parent }: Composable) => parent !== null && parent.rowShape !== shape;
  const nameOf = ({ shape, tag }: Composable) => `${shapes[shape]!.step}/${leafName(tag)}`;
  const parts = new Set(all.filter((one) => one.onPort && isPart(one)).map(nameOf));
  return all.filter((one) => one.onPort || (isPart(one) && parts.has(nameOf(one))));
}

/** What a record is named by, without the word for its kind or the list around it: `port(A)`, `/ports/A`, `port:A`. */
export const bareName = (name: string): string =>
  /^\/?\p{L}[\p{L}\p{M}\p{N}_.-]*[:/(=]{1,2}(.+?)\)?$/u.exec(name)?.[1] ?? name;

/** Names elsewhere that are a record's parent, marks, and its number, where the record itself has no such name. */
export function compose(
  devices: Devices,
  fields: readonly FieldData[],
  composable: readonly Composable[],
  structure: Structure,
): void {
  if (composable.length === 0) return;
  const byTag = new Map<string, { from: number; parent: string; row: number }[]>();
  for (const [from, { rows }] of composable.entries()) {
    for (const [row, { parent, tag }] of rows) {
      const list = byTag.get(tag);
      if (!list) byTag.set(tag, [{ from, parent, row }]);
      else if (list.length < 40) list.push({ from, parent, row });
    }
  }
  const votes = new Map<
    string,
    { from: number; marks: string; hits: Map<string, { row: number; parent: string; tag: number }> }
  >();
  for (const field of fields) {
    if (field.tag || !mostlyOne(field.values)) continue;
    for (const value of field.distinct) {
      // A record that is called so made it.
      if (value.length > 48 || devices.derived.has(value)) continue;
      const end = Math.max(0, value.length - 5);
      const digits = /(\d{1,4})(['"\])}>]?)$/.exec(value.slice(end));
      if (!digits || end + digits.index === 0) continue;
      const list = byTag.get(digits[1]!);
      if (!list) continue;
      const stem = value.slice(0, end + digits.index);
      for (const { from, parent, row } of list) {
        const begin = beginOf(parent, stem);
        const marks = begin === -1 ? '' : stem.slice(begin + parent.length);
        // What is closed behind the number was opened before the port: `port(3)` is a word for the kind and a number.
        if ((begin === 0 && digits[2] !== '') || !isMarks(marks)) continue;
        if (devices.separators.size > 0 && !devices.separators.has(marks)) continue;
        if (field.rowShape === composable[from]!.shape && field !== composable[from]!.parent) continue;
        const id = `${from} ${marks}`;
        let vote = votes.get(id);
        if (!vote) {
          vote = { from, marks, hits: new Map() };
          votes.set(id, vote);
        }
        vote.hits.set(parent + marks + digits[1]!, { row, parent, tag: Number(digits[1]) });
      }
    }
  }
  const best = new Map<number, { hits: number; id: string }>();
  for (const [id, vote] of votes) {
    const { shape } = composable[vote.from]!;
    if (vote.hits.size < 2 && structure.shapes[shape]!.nodes.length > 2) continue;
    if (vote.hits.size > (best.get(shape)?.hits ?? 0)) best.set(shape, { hits: vote.hits.size, id });
  }
  const made = new Set<string>();
  // Each device is one record's: of kinds that make the same names that which makes more.
  const inOrder = [...best].sort(([, a], [, b]) => b.hits - a.hits);
  for (const [shape, { id }] of inOrder) {
    const vote = votes.get(id)!;
    if ([...vote.hits.keys()].every((name) => made.has(name))) continue;
    for (const name of vote.hits.keys()) made.add(name);
    const { parent, tag } = composable[vote.from]!;
    const names = new Map<string, number>();
    if (devices.derivations.some((known) => known.shape === shape && known.name !== null)) continue;
    for (const [name, { row, parent: base, tag: number }] of vote.hits) {
      names.set(name, row);
      devices.derive(name, base, vote.marks, number);
    }
    devices.composed.set(shape, names);
    devices.derivations.push({
      shape,
      name: null,
      parent: parent?.rowShape === shape ? parent.index : null,
      tag: tag.index,
    });
  }
}

/** Where a port begins in a text: at its start, or behind the kind of record that it is, `vlan:` or `/vlans/`; -1 for nowhere. */
function beginOf(port: string, text: string): number {
  const begin = text.lastIndexOf(port);
  return begin <= 0 || /^\/?[\p{L}\p{M}\p{N}_.-]+[:/(['"=]{1,2}$/u.test(text.slice(0, begin)) ? begin : -1;
}

const mostlyOne = (values: readonly string[]) => mostly(values, (value) => value.length <= 200);
