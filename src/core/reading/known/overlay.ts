import type { Reading } from '../reading.ts';
import type { KnownReading } from './apply.ts';

/**
 * A reading in which a known format speaks for its part of the document and the inference for the rest. Values outside
 * the part may name records inside it: such references stay.
 */
export function overlay(inferred: Reading, known: KnownReading): Reading {
  const { covered } = known;
  const outside = (node: number) => covered[node] !== 1;
  // Collections: those of the format, then the inferred ones of the rest. `moved` tells where an inferred one went.
  const byRecord = new Map(known.collections.map(({ records }, index) => [records[0]!, index]));
  const collections = [...known.collections];
  const moved = inferred.collections.map((collection) => {
    const first = collection.records[0];
    if (first === undefined || outside(first)) return collections.push(collection) - 1;
    return byRecord.get(first) ?? -1;
  });
  const fields = [...known.fields];
  const used = new Set([
    ...inferred.references.filter(({ site }) => outside(site.node)).map(({ field }) => field),
    ...inferred.dangling.filter(({ site }) => outside(site.node)).map(({ field }) => field),
  ]);
  const movedField = inferred.fields.map((field, index) => {
    if (!used.has(index)) return -1;
    const targets = field.targets.map((target) => moved[target]!).filter((target) => target !== -1);
    return fields.push({ ...field, targets }) - 1;
  });
  const bySite = <T extends { readonly site: { readonly node: number; readonly attr: number } }>(items: readonly T[]) =>
    [...items].sort((a, b) => a.site.node - b.site.node || a.site.attr - b.site.attr);
  const kept = <T extends { readonly site: { readonly node: number }; readonly field: number }>(items: readonly T[]) =>
    items.filter(({ site }) => outside(site.node)).map((item) => ({ ...item, field: movedField[item.field]! }));
  const ports = [...known.ports];
  const names = new Set(ports.map(({ name }) => name));
  for (const port of inferred.ports)
    if (!names.has(port.name) && (port.node === -1 || outside(port.node))) ports.push(port);
  const mentions = bySite([...known.mentions, ...inferred.mentions.filter(({ site }) => outside(site.node))]);
  const spoken = new Set(mentions.flatMap(({ value, port }) => [value, port]));
  const named = new Set(known.mentions.map(({ site }) => site.node));
  const told = new Set(known.secrets.map(({ site }) => site.node));
  return {
    ...inferred,
    collections,
    roles: [...known.roles, ...inferred.roles.filter(({ node }) => outside(node))],
    // A port that only values inside the part seemed to name is none.
    ports: ports.filter(({ name }) => names.has(name) || spoken.has(name)),
    mentions,
    remarks: inferred.remarks.filter(({ site, port }) => spoken.has(port) && !named.has(site.node)),
    bindings: bySite([...known.bindings, ...inferred.bindings.filter(({ site }) => outside(site.node))]),
    tagging: [...known.tagging, ...inferred.tagging.filter(({ holder }) => outside(holder))],
    deviceKeys: inferred.deviceKeys.filter(({ node }) => outside(node)),
    aggregates: inferred.aggregates.filter(({ node }) => outside(node)),
    fields,
    references: bySite([...known.references, ...kept(inferred.references)]),
    dangling: bySite([...known.dangling, ...kept(inferred.dangling)]),
    // Material that proves itself by its shape stays a secret wherever it stands.
    secrets: bySite([
      ...known.secrets,
      ...inferred.secrets.filter(
        ({ site, kind }) => (outside(site.node) || kind === 'private-key' || kind === 'hash') && !told.has(site.node),
      ),
    ]),
    about: { ...inferred.about, host: known.host ?? inferred.about.host },
    standard: known.standard,
  };
}
