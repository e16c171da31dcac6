import type { Tree } from '../../xml/tree.ts';
import { fieldsByShape } from '../fields/by-shape.ts';
import type { FieldData } from '../fields/fields.ts';
import type { KeyTable } from '../keys/key-table.ts';
import type { Reader } from '../names/tokens.ts';
import type { Outline } from '../outline/outline.ts';
import type { Target } from '../references/references.ts';
import type { RolesFound } from '../roles/roles.ts';
import type { Structure } from '../shapes/structure.ts';
import type { Devices } from './device-set.ts';

/** What the inference knows when it looks at how devices are written. */
export interface TaggingSource {
  readonly tree: Tree;
  readonly outline: Outline;
  readonly structure: Structure;
  readonly fields: readonly FieldData[];
  readonly readers: readonly Reader[];
  readonly keys: KeyTable;
  readonly devices: Devices;
  readonly portFields: ReadonlySet<number>;
  readonly targets: readonly (readonly Target[])[];
  readonly roles: RolesFound;
  /** The fields that people read beside the names of roles. */
  readonly roleLabels: readonly FieldData[];
}

/** Value of each row; a field that has several to a row has none here. */
export function byRow(field: FieldData | undefined): Map<number, string> {
  const map = new Map<number, string>();
  if (field && !field.several) for (const [place, row] of field.rows.entries()) map.set(row, field.values[place]!);
  return map;
}

/** Which device each record of a shape stands for. */
export class DeviceNames {
  readonly byShape: ReadonlyMap<number, readonly FieldData[]>;
  private readonly known = new Map<number, Map<number, string>>();

  constructor(private readonly source: TaggingSource) {
    this.byShape = fieldsByShape(source.fields);
  }

  of(shape: number): Map<number, string> {
    let names = this.known.get(shape);
    if (!names) {
      names = this.read(shape);
      this.known.set(shape, names);
    }
    return names;
  }

  private read(shape: number): Map<number, string> {
    const { devices, fields, readers, portFields, structure } = this.source;
    const derivation = derivationOf(devices, shape);
    if (derivation) {
      const names = byRow(derivation.name === null ? undefined : fields[derivation.name]);
      for (const [name, row] of devices.composed.get(shape) ?? []) names.set(row, name);
      if (derivation.name !== null || derivation.parent === null) return names;
      const parents = byRow(fields[derivation.parent]);
      const tags = byRow(fields[derivation.tag]);
      const marks = [...names].flatMap(([row, name]) => {
        const parent = parents.get(row);
        const tag = tags.get(row);
        return parent && tag ? [name.slice(parent.length, name.length - tag.length)] : [];
      });
      if (marks.length === 0) return names;
      const usual = mostOf(marks);
      for (const [row, parent] of parents) {
        const tag = tags.get(row);
        if (tag !== undefined && !names.has(row)) names.set(row, parent + usual + tag);
      }
      return names;
    }
    const rows = structure.shapes[shape]?.nodes.length ?? 0;
    const own = (this.byShape.get(shape) ?? []).find(
      (field) =>
        (portFields.has(field.index) || field.values.every((value) => devices.has(value))) &&
        !field.several &&
        readers[field.index]!.separator === null &&
        field.values.length >= rows * 0.9 &&
        new Set(field.values).size === field.values.length,
    );
    return byRow(own);
  }
}

/** A shape may have been found twice, by two numbers; the one with a parent says more. */
export function derivationOf(devices: Devices, shape: number) {
  const own = devices.derivations.filter((derivation) => derivation.shape === shape);
  return (
    own.find(({ name, parent }) => name !== null && parent !== null) ?? own.find(({ name }) => name !== null) ?? own[0]
  );
}

export function mostOf(items: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const item of items) counts.set(item, (counts.get(item) ?? 0) + 1);
  return [...counts].reduce((a, b) => (b[1] > a[1] ? b : a), ['', 0] as [string, number])[0];
}
