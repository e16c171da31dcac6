import type { WaySource } from './role-ways.ts';

/**
 * Fields that are no names of what sits on devices: those that name a device, by itself or by its record, and, of records that others
 * name, those that name another and that no one names theirs by.
 */
export function seatedFields({
  fields,
  byShape,
  keys,
  portFields,
  targets,
  deviceShapes,
  above,
  shapeOf,
  named,
}: Omit<WaySource, 'readers' | 'devices' | 'isAddressed'>): ReadonlySet<number> {
  const seated = new Set(portFields);
  const isOnDevice = (shape: number) => {
    if (deviceShapes.has(shape)) return true;
    const around = above(byShape.get(shape)?.[0]?.rows[0] ?? -1);
    return around !== -1 && deviceShapes.has(shapeOf[around]!);
  };
  const calling = new Set<number>();
  for (const { best, field } of keys.keys) if (best) calling.add(field.index);
  for (const list of targets) for (const { key, odds } of list) if (odds >= 0) calling.add(key.field.index);
  for (const { index, rowShape } of fields) {
    const others = targets[index]!.filter(({ key, odds }) => odds >= 0 && key.shape !== rowShape);
    const isOthers = named.has(rowShape) && !calling.has(index);
    if (others.some(({ key }) => isOthers || isOnDevice(key.shape))) seated.add(index);
  }
  return seated;
}
