import { append } from '../../lists.ts';
import { mapLong } from '../../reading/fields/long-lists.ts';
import { contains, extentOf, type IpRange, parseAddress, parsePrefix } from '../../values/ip.ts';
import { linksByRow } from '../facts/links.ts';
import { bare, type Column, rowsByElement, siteOf, type Table, tablesOf } from '../facts/tables.ts';
import type { Context, Gateway, NetworkFacts, Own, Route } from './networks.ts';
import type { Pool } from './pools.ts';

const hopWords = new Set(
  'gateway gateways gw router via nexthop hop next pasarela passerelle puerta salto шлюз πυλη 网关 ゲートウェイ'.split(
    ' ',
  ),
);

const isHop = (column: Column) => [...column.words].some((word) => hopWords.has(word));

/**
 * Routers next door, and the routes that go through them. A gateway is a record that names a role, holds an address and is
 * named by records that hold a network; a route is such a record, or one that holds a network and, under a name of the
 * trade, an address.
 */
export function gatewaysAndRoutes(
  context: Context,
  own: Own,
  { pools }: { readonly pools: readonly Pool[] },
): Pick<NetworkFacts, 'gateways' | 'routes'> {
  const tables = [...tablesOf(context.reading).values()];
  const pooled = new Map(pools.map((pool) => [pool.row, pool]));
  const networks = networkRows(tables);
  const named = routeTargets(context, tables);
  const gateways: Gateway[] = [];
  const routes: Route[] = [];
  for (const table of tables) {
    const column = gatewayColumn(table, context, own, named);
    if (column) {
      for (const [row, place] of column.placeOf) {
        const address = parseAddress(bare(column.field.values[place]!));
        const role = context.linked(row);
        if (address && role !== -1 && !pooled.has(row))
          gateways.push({ address, role, site: siteOf(column.field, place), ofClients: false });
      }
    } else append(routes, routesIn(table, context, networks));
    append(gateways, besideAddresses(table, context, own, pooled));
  }
  return { gateways, routes };
}

/** Rows that some record with a network in it names, and with no role: where the packets go next. */
function routeTargets({ reading, linked }: Context, tables: readonly Table[]): ReadonlySet<number> {
  const links = linksByRow(reading);
  const byElement = rowsByElement(reading);
  const targets = new Set<number>();
  for (const { columns } of tables) {
    const networks = columns.filter(({ kind }) => kind === 'prefix');
    if (networks.length !== 1) continue;
    let last = -1;
    for (const row of networks[0]!.field.rows) {
      if (row === last || linked(row) !== -1) continue;
      last = row;
      for (let link = links.first(row); link !== -1; link = links.next(link)) {
        const target = byElement.get(links.to(link));
        if (target !== undefined) targets.add(target);
      }
    }
  }
  return targets;
}

/** The one column of addresses that lie in the networks of the roles that their records name. */
function gatewayColumn(
  { columns }: Table,
  { linked, within }: Context,
  own: Own,
  named: ReadonlySet<number>,
): Column | null {
  const fits = columns.filter((column) => {
    if (column.kind !== 'address' || column.field.several || own.columns.has(column.field)) return false;
    const rows = [...column.placeOf.keys()];
    if (within(rows[0]!) !== -1) return false;
    const known = rows.filter((row) => named.has(row)).length;
    if (known === 0) return false;
    let inside = 0;
    let all = 0;
    for (const [row, place] of column.placeOf) {
      const role = linked(row);
      const address = parseAddress(bare(column.field.values[place]!));
      if (role === -1 || !address) continue;
      all++;
      if ((own.ofRole.get(role) ?? []).some(({ extent }) => contains(extent, address))) inside++;
    }
    return all > 0 && inside * 2 >= all;
  });
  return fits.length === 1 ? fits[0]! : null;
}

/** Gateways that stand in a role's own record or a pool's, beside its addresses, under a name of the trade. */
function besideAddresses(
  { columns }: Table,
  { within }: Context,
  own: Own,
  pooled: ReadonlyMap<number, Pool>,
): Gateway[] {
  const gateways: Gateway[] = [];
  for (const column of columns) {
    if (column.kind !== 'address' || own.columns.has(column.field) || !isHop(column)) continue;
    const beside = columns.some((other) => own.columns.has(other.field));
    for (const [row, place] of column.placeOf) {
      const pool = pooled.get(row);
      const ofClients = pool?.container === column.container;
      const role = ofClients ? pool.role : beside ? within(row) : -1;
      const address = role === -1 ? null : parseAddress(bare(column.field.values[place]!));
      if (address) gateways.push({ address, role, site: siteOf(column.field, place), ofClients });
    }
  }
  return gateways;
}

/** The one network of a row; null for one that cannot be read, undefined where the row holds none or several. */
type NetworkOf = (row: number) => IpRange | null | undefined;

/** Looked for when a route asks: most lists that hold networks are no routes. */
function networkRows(tables: readonly Table[]): NetworkOf {
  let known: Map<number, IpRange | null> | null = null;
  const find = () => {
    const rows = new Map<number, IpRange | null>();
    for (const { columns } of tables) {
      const networks = columns.filter(({ kind }) => kind === 'prefix' || kind === 'mixed');
      if (networks.length !== 1) continue;
      const { field, placeOf } = networks[0]!;
      const extents = mapLong(field.distinct, (value) => {
        const prefix = parsePrefix(value);
        return prefix && extentOf(prefix);
      });
      for (const [row, place] of placeOf) rows.set(row, extents[field.which[place]!]!);
    }
    return rows;
  };
  return (row) => {
    known ??= find();
    return known.get(row);
  };
}

function routesIn({ columns }: Table, context: Context, networkOf: NetworkOf): Route[] {
  const hops = columns.filter((column) => column.kind === 'address' && isHop(column) && !column.field.several);
  if (hops.length !== 1 || context.within(hops[0]!.field.rows[0]!) !== -1) return [];
  const { above } = context.reading.values;
  const { field, placeOf } = hops[0]!;
  const routes: Route[] = [];
  for (const [row, place] of placeOf) {
    let at = row;
    let network: IpRange | null | undefined;
    while (at !== -1) {
      network = networkOf(at);
      if (network !== undefined) break;
      at = above[at]!;
    }
    const address = network === undefined ? null : parseAddress(bare(field.values[place]!));
    if (address) routes.push({ network: network!, nextHop: { address, site: siteOf(field, place) } });
  }
  return routes;
}
