import { type FieldData, isOneEach, leafName } from '../fields/fields.ts';
import type { Reader } from '../names/tokens.ts';
import { holdsDevices } from '../numbers/number-tables.ts';
import type { Target } from '../references/references.ts';
import { isAddresses, isHardwareEach } from '../roles/role-signs.ts';
import type { Structure } from '../shapes/structure.ts';
import { isTag } from './device-forms.ts';
import type { Devices } from './device-set.ts';

/** A name that ends in a number, as what is made of ports has: `pair0`, `dial1`. */
const numbered = /^\p{L}[\p{L}_-]*\d{1,3}$/u;

/**
 * Bundles, bridges and dialled lines by the place of their records, beside a table of ports that have a hardware address each.
 * They have numbered names and no address, and
 * - are of another kind in the table of the ports, and called under the same word; or
 * - name a network as ports or what else is on them do, another one; or
 * - hold records that name ports, or are named by such, and are named by networks, also under the same word alone.
 */
export function fromPlace(
  readers: readonly Reader[],
  devices: Devices,
  byShape: ReadonlyMap<number, readonly FieldData[]>,
  targets: readonly (readonly Target[])[],
  structure: Structure,
): void {
  const { shapes } = structure;
  const listOf = (shape: number) => byShape.get(shape) ?? [];
  const ports = new Map<number, FieldData>();
  for (const [shape, list] of byShape) {
    const name = list.find((field) => isOneEach(field) && holdsDevices(field, devices));
    if (shape !== -1 && name && list.some(isHardwareEach) && !list.some(isAddresses)) ports.set(shape, name);
  }
  if (ports.size === 0) return;
  const likely = ({ index }: FieldData) => targets[index]!.filter(({ odds }) => odds >= 0);
  const isNetwork = (shape: number) => listOf(shape).some(isAddresses);
  const portLists = new Set([...ports.keys()].map(listOf));
  const namesPort = (list: readonly FieldData[]) =>
    list.some(
      (one) =>
        likely(one).some(({ key }) => ports.has(key.shape)) ||
        (!one.tag && !portLists.has(list) && one.distinct.every((name) => devices.bases.has(name))),
    );
  /** What records of a kind name of each kind of network. */
  const networksOf = (list: readonly FieldData[]) =>
    list.flatMap((one) =>
      likely(one).flatMap(({ key, tokens }) => {
        const names = tokens.list.map((token) => readers[one.index]!.counts.tokens[token]!);
        return isNetwork(key.shape) ? [{ shape: key.shape, names: new Set(names) }] : [];
      }),
    );
  /** Whether each record is on a network of its own; of rules, several are about one. */
  const areOnNetworks = (list: readonly FieldData[]) =>
    list.some((one) => isOneEach(one) && networksOf([one]).some(({ names }) => names.size === one.distinct.length));
  const keyed = new Set(targets.flatMap((all) => all.flatMap(({ key, odds }) => (odds >= 0 ? [key.field] : []))));
  const names = [...ports.values()];
  /** Where ports are named by something else than their names, so is what is made of them. */
  const byName = names.some((name) => keyed.has(name)) || ![...portLists].flat().some((field) => keyed.has(field));
  const words = new Set(names.map(leafName));
  /** What ports have one of each besides their names, as keys are, names nothing else either. */
  const others = new Set(
    [...ports].flatMap(([shape, name]) =>
      listOf(shape).flatMap((field) => (field !== name && isOneEach(field) ? leafName(field) : [])),
    ),
  );
  const holders = new Set<number>();
  const isNamed = new Set<number>();
  for (const [shape, list] of byShape) {
    if (shape !== -1 && namesPort(list)) {
      holders.add(holderIn(shape, structure, byShape));
      if (!list.some(isAddresses)) for (const one of list) for (const { key } of likely(one)) holders.add(key.shape);
    }
    // Networks name them, or what says of networks, one each, where these are.
    if (list.some(isAddresses) || areOnNetworks(list))
      for (const one of list) for (const { key } of likely(one)) isNamed.add(key.shape);
  }
  /** Whether ports name records of a kind, or such records list ports: these are made of them, unless a number makes them VLANs. */
  const isMade = (shape: number, list: readonly FieldData[]) =>
    ([...portLists].flat().some((one) => likely(one).some(({ key }) => key.shape === shape)) ||
      list.some(
        (one) => readers[one.index]!.separator !== null && likely(one).some(({ key }) => ports.has(key.shape)),
      )) &&
    !list.some((one) => !keyed.has(one) && isOneEach(one) && one.distinct.every(isTag));
  const wordAt = new Map([...ports].map(([shape, name]) => [tableOf(shapes[shape]!), leafName(name)]));
  wordAt.delete(null);
  const isSaid = (among: (list: readonly FieldData[]) => boolean, names: readonly string[]) => {
    const said = new Set(
      [...byShape].flatMap(([, list]) => (among(list) ? list.flatMap(({ distinct }) => distinct) : [])),
    );
    return names.every((name) => said.has(name));
  };
  const onPorts = [...byShape].filter(
    ([shape, list]) => ports.has(shape) || (!list.some(isAddresses) && namesPort(list)),
  );
  const isApart = (shape: number) => {
    const own = networksOf(listOf(shape));
    return own.some(({ shape: network, names }) => {
      const others = onPorts
        .flatMap(([other, list]) => (other === shape ? [] : networksOf(list)))
        .filter((one) => one.shape === network);
      return others.length > 0 && !others.some((one) => [...names].some((name) => one.names.has(name)));
    });
  };
  // Tagged devices that have names are called by nothing else.
  const called = new Set(devices.derivations.flatMap(({ shape, name }) => (name === null ? [] : [shape])));
  for (const [shape, list] of byShape) {
    if (shape === -1 || ports.has(shape) || called.has(shape) || list.some(isAddresses)) continue;
    const free = list.filter(
      (field) =>
        isOneEach(field) &&
        likely(field).length === 0 &&
        (byName || !keyed.has(field)) &&
        (words.has(leafName(field)) || !others.has(leafName(field))) &&
        field.distinct.every((name) => numbered.test(name)),
    );
    const own = free.find((field) => words.has(leafName(field))) ?? free.at(-1);
    if (!own || own.distinct.some((name) => devices.has(name))) continue;
    const holds = holders.has(shape);
    // One list may hold all records of the file.
    const isBeside = holds || namesPort(list) || areOnNetworks(list);
    // Nor is there a device that neither anything names nor that is in a network as ports are, or what is on them.
    const isIn = ({ shape: network }: { readonly shape: number }) =>
      onPorts.some(([other, one]) => other !== shape && networksOf(one).some((own) => own.shape === network));
    const isUsed = () => keyed.has(own) || isSaid((one) => one !== list, own.distinct) || networksOf(list).some(isIn);
    const isKind = isBeside && wordAt.get(tableOf(shapes[shape]!)) === leafName(own) && isUsed();
    const isSpoken = () =>
      (isNamed.has(shape) || isSaid((one) => one.some(isAddresses), own.distinct)) &&
      ((holds && (isNamed.has(shape) || words.has(leafName(own)))) ||
        isSaid((one) => portLists.has(one), own.distinct));
    if (
      isKind ||
      ((holds || namesPort(list)) && isApart(shape)) ||
      isSpoken() ||
      (isNamed.has(shape) && isMade(shape, list))
    )
      for (const name of own.distinct) devices.named.set(name, { parent: null, tag: null });
  }
}

/** The list that a kind of record is one of several in, where it is told apart by a kind. */
const tableOf = ({ above, step }: Structure['shapes'][number]): string | null =>
  step.includes('{') ? `${above} ${step.slice(0, step.indexOf('{'))}` : null;

/** The innermost kind of record around one, -1 for none. */
function holderIn(shape: number, { shapes }: Structure, byShape: ReadonlyMap<number, unknown>): number {
  let at = shapes[shape]!.above;
  while (at !== -1 && !byShape.has(at)) at = shapes[at]!.above;
  return at;
}
