import type { FieldData } from '../../reading/fields/fields.ts';
import type { Reading } from '../../reading/reading.ts';
import {
  contains,
  extentOf,
  type IpAddress,
  type IpRange,
  maskLength,
  parseAddress,
  parsePrefix,
} from '../../values/ip.ts';
import { unsigned } from '../../values/numbers.ts';
import type { Site } from '../../xml/site.ts';
import { switchedOff } from '../facts/enabled.ts';
import { linksByRow } from '../facts/links.ts';
import { once } from '../facts/once.ts';
import { bare, type Column, rowsByElement, siteOf, tablesOf } from '../facts/tables.ts';
import { gatewaysAndRoutes } from './gateways.ts';
import { instancesOf } from './instances.ts';
import { type Lease, type Pool, poolsAndLeases } from './pools.ts';
import { addressFor, isLengthOf, isOwnPair, isOwnPrefix, pair } from './prefix-lengths.ts';

/** An address as it is written somewhere. */
export interface Written {
  readonly address: IpAddress;
  readonly site: Site;
}

/** A role's own address with the network around it. */
export interface Block extends Written {
  /** Index into the reading's roles. */
  readonly role: number;
  readonly length: number;
  readonly extent: IpRange;
  readonly enabled: boolean;
  /** See instances.ts. */
  readonly instance: number;
}

export interface Gateway extends Written {
  readonly role: number;
  /** Told to the clients of a pool, for whom it may well be the box itself. */
  readonly ofClients: boolean;
}

/** `network` is null where a route says it in words (`default`). */
export interface Route {
  readonly network: IpRange | null;
  readonly nextHop: Written;
}

/**
 * The addresses of a backup by what they are for. Worked out from what values are, what names what and what stands beside
 * what; a place that could be meant otherwise is left out, so that what is said of the rest is true.
 */
export interface NetworkFacts {
  readonly blocks: readonly Block[];
  readonly pools: readonly Pool[];
  readonly leases: readonly Lease[];
  readonly gateways: readonly Gateway[];
  readonly routes: readonly Route[];
  /** Masks beside a role's address that no prefix length equals. */
  readonly badMasks: readonly { readonly site: Site; readonly mask: string }[];
  /** Where a role's address belongs and none is, and lengths that no network has: as written, the bits that there are. */
  readonly badAddresses: readonly { readonly site: Site; readonly text: string; readonly role: number }[];
  readonly badLengths: readonly { readonly site: Site; readonly text: string; readonly width: number }[];
}

/** Facts about nothing. */
const none: NetworkFacts = {
  blocks: [],
  pools: [],
  leases: [],
  gateways: [],
  routes: [],
  badMasks: [],
  badAddresses: [],
  badLengths: [],
};

export const networksOf = once((reading): NetworkFacts => {
  const context = contextOf(reading);
  if (reading.roles.length === 0) return none;
  const own = ownAddresses(context);
  const pools = poolsAndLeases(context, own);
  const hops = gatewaysAndRoutes(context, own, pools);
  const { blocks, badMasks, badAddresses, badLengths } = own;
  return { blocks, badMasks, badAddresses, badLengths, ...pools, ...hops };
});

/** What all derivations ask. */
export interface Context {
  readonly reading: Reading;
  readonly columns: readonly Column[];
  /** The role whose record this row is or lies in, -1 for none. */
  readonly within: (row: number) => number;
  /** The one role that the row, or the nearest row around it that names any, names; -1 for none or several. */
  readonly linked: (row: number) => number;
}

export const contextOf = once((reading: Reading): Context => {
  const { above } = reading.values;
  const byElement = rowsByElement(reading);
  const links = linksByRow(reading);
  const roleAt = new Map<number, number>();
  const roleOfNode = new Map<number, number>();
  for (const [index, { node }] of reading.roles.entries()) {
    if (!roleOfNode.has(node)) roleOfNode.set(node, index);
    const row = byElement.get(node);
    if (row !== undefined && !roleAt.has(row)) roleAt.set(row, index);
  }
  const within = (row: number) => {
    for (let at = row; at !== -1; at = above[at]!) {
      const role = roleAt.get(at);
      if (role !== undefined) return role;
    }
    return -1;
  };
  const linked = (row: number) => {
    for (let at = row; at !== -1; at = above[at]!) {
      let found = -1;
      for (let link = links.first(at); link !== -1; link = links.next(link)) {
        const role = roleOfNode.get(links.to(link));
        if (role === undefined || role === found) continue;
        if (found !== -1) return -1;
        found = role;
      }
      if (found !== -1) return found;
    }
    return -1;
  };
  const columns = [...tablesOf(reading).values()].flatMap((table) => table.columns);
  return { reading, columns, within, linked };
});

export interface Own extends Pick<NetworkFacts, 'blocks' | 'badMasks' | 'badAddresses' | 'badLengths'> {
  /** Columns that hold a role's own address or the length of its network. */
  readonly columns: ReadonlySet<FieldData>;
  readonly ofRole: ReadonlyMap<number, readonly Block[]>;
  /** The role whose network holds an address, -1 for none. */
  readonly holding: (address: IpAddress) => number;
}

function ownAddresses(context: Context): Own {
  const inRoles = findOwn(context, context.within);
  // Some dialects keep addresses in records of their own that name the role.
  const found = inRoles.blocks.length > 0 ? inRoles : findOwn(context, context.linked, true);
  const ofRole = new Map<number, Block[]>();
  for (const block of found.blocks) {
    const list = ofRole.get(block.role);
    if (list) list.push(block);
    else ofRole.set(block.role, [block]);
  }
  return { ...found, ofRole, holding: finder(found.blocks) };
}

function findOwn({ reading }: Context, roleOf: (row: number) => number, apart = false) {
  const isOff = switchedOff(reading);
  const instances = instancesOf(reading);
  const blocks: Block[] = [];
  const badMasks: NetworkFacts['badMasks'][number][] = [];
  const badAddresses: NetworkFacts['badAddresses'][number][] = [];
  const badLengths: NetworkFacts['badLengths'][number][] = [];
  const taken = new Set<FieldData>();
  const add = (role: number, row: number, field: FieldData, place: number, address: IpAddress, length: number) => {
    const extent = extentOf({ address, length, hostBits: false });
    const instance = instances[role] ?? 0;
    blocks.push({ role, address, site: siteOf(field, place), length, extent, enabled: !isOff(row), instance });
  };
  for (const table of tablesOf(reading).values()) {
    const rows = table.columns[0]?.field.rows ?? [];
    if (rows.length === 0 || roleOf(rows[0]!) === -1) continue;
    for (const column of table.columns) {
      const { field, kind } = column;
      if (kind === 'prefix' && isOwnPrefix(field, apart)) {
        taken.add(field);
        for (let place = 0; place < field.values.length; place++) {
          const role = roleOf(field.rows[place]!);
          const prefix = parsePrefix(field.values[place]!);
          if (role !== -1 && prefix) add(role, field.rows[place]!, field, place, prefix.address, prefix.length);
          else if (role !== -1 && /^[\d.]+\/255\.[\d.]+$/.test(field.values[place]!))
            badMasks.push({ site: siteOf(field, place), mask: field.values[place]!.split('/')[1]! });
        }
      } else if (kind === 'mask' || kind === 'number') {
        const address = addressFor(table.columns, column);
        if (!address || !isLengthOf(column, address) || (apart && !isOwnPair(address, column))) continue;
        taken.add(field).add(address.field);
        pair(address, column, (place, text) => {
          const row = address.field.rows[place]!;
          const role = roleOf(row);
          const written = bare(address.field.values[place]!);
          const own = parseAddress(written);
          if (role === -1) return;
          if (!own) {
            if (numeric.test(written)) badAddresses.push({ site: siteOf(address.field, place), text: written, role });
            return;
          }
          const length = kind === 'mask' ? maskLength(text.value) : unsigned(text.value);
          const width = own.version === 4 ? 32 : 128;
          if (length === null) badMasks.push({ site: siteOf(field, text.place), mask: text.value });
          else if (length >= 0 && length <= width) add(role, row, address.field, place, own, length);
          else if (text.value !== '') badLengths.push({ site: siteOf(field, text.place), text: text.value, width });
        });
      }
    }
  }
  return { blocks, badMasks, badAddresses, badLengths, columns: taken };
}

/** Meant for an address: groups of digits with marks between them. Words such as `dhcp` stand in such places rightly. */
const numeric = /^(?:[\dOolI]{1,4}(?:\.[\dOolI]{0,4}){1,5}|[0-9a-z]{0,5}(?::[0-9a-z]{0,5}){2,9})$/i;

/** Finds the smallest network around an address: sorted by first address, larger ones before those inside them. */
export function finder(blocks: readonly Block[]): (address: IpAddress) => number {
  const versions = ([4, 6] as const).map((version) => {
    const sorted = blocks
      .filter(({ address }) => address.version === version)
      .sort((a, b) =>
        a.extent.first.bits < b.extent.first.bits
          ? -1
          : a.extent.first.bits > b.extent.first.bits
            ? 1
            : a.length - b.length,
      );
    // Networks nest or are apart, so the one around is found by going up from the last that begins before.
    const up = new Int32Array(sorted.length).fill(-1);
    const open: number[] = [];
    for (const [at, block] of sorted.entries()) {
      while (open.length > 0 && sorted[open[open.length - 1]!]!.extent.last.bits < block.extent.first.bits) open.pop();
      up[at] = open[open.length - 1] ?? -1;
      open.push(at);
    }
    return { sorted, up };
  });
  return (address) => {
    const { sorted, up } = versions[address.version === 4 ? 0 : 1]!;
    let low = 0;
    let high = sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle]!.extent.first.bits <= address.bits) low = middle + 1;
      else high = middle;
    }
    for (let at = low - 1; at !== -1; at = up[at]!) if (contains(sorted[at]!.extent, address)) return sorted[at]!.role;
    return -1;
  };
}
