import { templateOf } from '../xml/path.ts';
import type { Tree } from '../xml/tree.ts';
import type { Devices } from './devices/device-set.ts';
import type { FieldData } from './fields/fields.ts';
import { SiteSet } from './fields/site-set.ts';
import { shapePath } from './keys/collections.ts';
import { type KeyTable, keysFor } from './keys/key-table.ts';
import { eachToken, type Reader, TokenSet } from './names/tokens.ts';
import type { BoxBound, Correction, Key, Secret } from './reading.ts';
import type { Target } from './references/references.ts';
import type { Structure } from './shapes/structure.ts';

/** What the technician said, by what it is about. It is taken as it is: no evidence outweighs it. */
export class Corrections {
  private readonly places = new Map<string, number[]>();

  constructor(
    private readonly list: readonly Correction[],
    structure: Structure,
    records: readonly boolean[],
  ) {
    if (list.length === 0) return;
    for (const shape of structure.shapes) {
      if (!records[shape.index]) continue;
      if (shape.above === -1) continue;
      const path = withoutIndices(shapePath(structure, shape.index));
      this.places.set(path, [...(this.places.get(path) ?? []), shape.index]);
    }
  }

  /** Shapes of the records of a collection, by its path with or without indices. */
  private shapes(collection: string): readonly number[] {
    return this.places.get(withoutIndices(collection)) ?? [];
  }

  /** The key that was chosen for a shape; null where nothing was said. */
  keyOf(shape: number): Key | null {
    for (const one of this.list)
      if (one.correct === 'key' && this.shapes(one.collection).includes(shape)) return one.key;
    return null;
  }

  applyToDevices(devices: Devices): void {
    for (const one of this.list) {
      if (one.correct === 'port') devices.addBase(one.value);
      else if (one.correct === 'not-a-port') devices.deny(one.value);
    }
  }

  /** What fields name, corrected: a target confirmed stands first, one denied is gone. */
  applyToTargets(
    targets: readonly Target[][],
    fields: readonly FieldData[],
    readers: readonly Reader[],
    keys: KeyTable,
  ): Target[][] {
    const corrected = [...targets];
    for (const one of this.list) {
      if (one.correct !== 'field-names') continue;
      const shapes = this.shapes(one.collection);
      for (const field of fields) {
        if (field.template !== one.template) continue;
        const others = corrected[field.index]!.filter(({ key }) => !shapes.includes(key.shape));
        const confirmed = one.yes ? shapes.flatMap((shape) => confirm(field, readers, keys, shape)) : [];
        corrected[field.index] = [...confirmed, ...others];
      }
    }
    return corrected;
  }

  applyToSecrets(secrets: readonly Secret[], fields: readonly FieldData[]): readonly Secret[] {
    let list = secrets;
    for (const one of this.list) {
      if (one.correct !== 'secret') continue;
      const sites = sitesOf(fields, one.template);
      if (one.yes) {
        const known = new SiteSet(list);
        const more = sites.filter(({ node, attr }) => !known.has(node, attr));
        list = [...list, ...more.map((site): Secret => ({ site, kind: 'password' }))];
      } else {
        const denied = new SiteSet(sites.map((site) => ({ site })));
        list = list.filter(({ site }) => !denied.has(site.node, site.attr));
      }
    }
    return list;
  }

  /** What is bound is told by its field, or by its path without indices where it is an element that holds others. */
  applyToBoxBound(tree: Tree, bound: readonly BoxBound[], fields: readonly FieldData[]): readonly BoxBound[] {
    let list = bound;
    for (const one of this.list) {
      if (one.correct !== 'box-bound') continue;
      const sites = sitesOf(fields, one.template);
      const within = new SiteSet(sites.map((site) => ({ site })));
      const isMeant = (other: BoxBound) =>
        (one.sign === undefined || one.sign === other.sign) &&
        (within.has(other.node, other.attr) || templateOf(tree, other) === one.template);
      if (!one.yes) list = list.filter((other) => !isMeant(other));
      else {
        const known = new SiteSet(list.map((site) => ({ site })));
        const more = sites.filter(({ node, attr }) => !known.has(node, attr));
        list = [...list, ...more.map(({ node, attr }): BoxBound => ({ node, attr, reason: 'told', sign: '' }))];
      }
    }
    return list;
  }
}

function confirm(field: FieldData, readers: readonly Reader[], keys: KeyTable, shape: number): Target[] {
  const reader = readers[field.index]!;
  const own = keysFor(keys, shape);
  const found = own.map((key) => ({ key, tokens: new Set<number>() }));
  eachToken(field, reader, (text, _place, _from, token) => {
    keys.each(text, (index) => {
      for (const one of found) if (one.key.index === index) one.tokens.add(token);
    });
  });
  const best = found.sort((a, b) => b.tokens.size - a.tokens.size)[0];
  if (!best) return [];
  const evidence = {
    hits: best.tokens.size,
    surprise: 0,
    alikeMisses: 0,
    otherMisses: 0,
    vocabularyMisses: 0,
    name: 0,
    habit: 0,
    strength: best.key.strength,
    best: true,
    device: false,
    kind: best.key.kind,
    ownKey: false,
    wrongWay: false,
    fit: 0,
    reach: null,
    referrer: false,
    relay: false,
    rival: false,
    usual: false,
    companion: false,
    beside: false,
    secondLabel: false,
    remarks: false,
    proof: null,
    ownName: false,
    oneForm: false,
    sameShape: false,
    ownCount: false,
    repeats: false,
    sameLiterals: false,
    lone: false,
    sharedLabel: false,
    freeText: false,
    answered: false,
    unnamed: false,
    confirmed: true,
  };
  return [
    {
      key: best.key,
      odds: 20,
      evidence,
      tokens: new TokenSet([...best.tokens], reader.counts.size),
      total: reader.counts.size,
    },
  ];
}

function sitesOf(fields: readonly FieldData[], template: string): { node: number; attr: number }[] {
  return fields
    .filter((field) => field.template === template)
    .flatMap((field) => field.nodes.map((node, place) => ({ node, attr: field.attrs[place]! })));
}

function withoutIndices(path: string): string {
  return path.replace(/\[\d+\]/g, '');
}
