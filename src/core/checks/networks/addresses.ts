import { contains, formatAddress } from '../../values/ip.ts';
import { specialBlock } from '../../values/special-addresses.ts';
import type { Finding } from '../../views.ts';
import type { Site } from '../../xml/site.ts';
import type { CheckInput } from '../input.ts';
import { checkSpelling } from './address-spelling.ts';
import { addressesOfRoles } from './automatic-addresses.ts';
import { checkClients, checkDoubles, checkLeases } from './clients.ts';
import { type Block, finder, type NetworkFacts, networksOf, type Written } from './networks.ts';
import { checkPools } from './pool-checks.ts';
import { blockText, byRole, isLinkLocal, reservedIn, subnetMap } from './subnet-map.ts';

export type Add = (
  code: Finding['code'],
  severity: Finding['severity'],
  site: Site,
  params: Finding['params'],
  /** Asked for only where the finding is listed. */
  repairs?: () => Finding['repairs'],
) => void;

/** Findings of one kind that are listed one by one; the rest is counted. */
const MOST = 200;

const whole = new WeakMap<NetworkFacts, readonly Finding[]>();

/** Addresses that cannot work as they stand, and such as are worth a look before the swap. */
export function checkAddresses(input: CheckInput): Finding[] {
  const all = networksOf(input.reading);
  const facts = staying(all, input.gone);
  let found = facts === all ? whole.get(all) : undefined;
  if (!found) {
    found = addressFindings(input, facts);
    if (facts === all) whole.set(all, found);
  }
  const spelling = checkSpelling(input);
  return [...found, ...spelling, ...addressesOfRoles(input, facts)];
}

function addressFindings(input: CheckInput, facts: NetworkFacts): Finding[] {
  const { reading, place } = input;
  const findings: Finding[] = [];
  const said = new Map<Finding['code'], { count: number; severity: Finding['severity'] }>();
  const add: Add = (code, severity, site, params, repairs) => {
    const count = (said.get(code)?.count ?? 0) + 1;
    said.set(code, { count, severity });
    if (count <= MOST)
      findings.push({ code, severity, place: place(site), params, byPlan: false, repairs: repairs?.() ?? [] });
  };
  const roleName = (role: number) => reading.roles[role]?.name ?? '';
  // A known format says what is no address of its own.
  if (reading.standard === null) checkMalformed(facts, roleName, add);
  checkHosts(facts, roleName, add);
  checkOverlaps(facts, roleName, add);
  checkDoubles(facts, reading, roleName, add);
  checkClients(input, facts, roleName, add);
  checkPools(input, facts, roleName, add);
  checkLeases(facts, roleName, add);
  checkHops(facts, roleName, add);
  checkSpecial(facts, add);
  for (const [code, { count, severity }] of said) {
    if (count <= MOST) continue;
    const params = { of: code, count: count - MOST };
    findings.push({ code: 'findings-more', severity, place: null, params, byPlan: false });
  }
  return findings;
}

/** Without what the plan leaves out; the facts themselves where that is nothing. */
export function staying(facts: NetworkFacts, gone: (node: number) => boolean): NetworkFacts {
  const stays = ({ site }: { readonly site: Site }) => !gone(site.node);
  const left: NetworkFacts = {
    blocks: facts.blocks.filter(stays),
    pools: facts.pools.filter(({ first, last }) => stays(first) && stays(last)),
    leases: facts.leases.filter(stays),
    gateways: facts.gateways.filter(stays),
    routes: facts.routes.filter(({ nextHop }) => stays(nextHop)),
    badMasks: facts.badMasks.filter(stays),
    badAddresses: facts.badAddresses.filter(stays),
    badLengths: facts.badLengths.filter(stays),
  };
  const names = Object.keys(left) as (keyof NetworkFacts)[];
  return names.every((name) => left[name].length === facts[name].length) ? facts : left;
}

export type RoleName = (role: number) => string;

/** RFC 4632, 3.1: the ones of a mask stand together, and no length goes beyond the address. */
function checkMalformed({ badMasks, badAddresses, badLengths }: NetworkFacts, roleName: RoleName, add: Add): void {
  for (const { site, mask } of badMasks) add('mask-not-contiguous', 'warning', site, { mask });
  for (const { site, text, role } of badAddresses)
    add('address-malformed', 'warning', site, { address: text, role: roleName(role) });
  for (const { site, text, width } of badLengths) add('prefix-length', 'warning', site, { length: text, width });
}

function checkHosts({ blocks, leases, gateways }: NetworkFacts, roleName: RoleName, add: Add): void {
  const ofRole = byRole(blocks);
  const look = (written: Written, role: number, block: Block) => {
    const what = reservedIn(block, written.address);
    if (!what) return;
    const params = { address: formatAddress(written.address), what, subnet: blockText(block), role: roleName(role) };
    add('address-not-a-host', 'warning', written.site, params);
  };
  for (const block of blocks) look(block, block.role, block);
  for (const held of [...leases, ...gateways])
    for (const block of ofRole.get(held.role) ?? []) look(held, held.role, block);
}

function checkOverlaps(facts: NetworkFacts, roleName: RoleName, add: Add): void {
  for (const { inner, outer } of subnetMap(facts).overlaps)
    add('subnets-overlap', 'warning', inner.site, {
      role: roleName(inner.role),
      subnet: blockText(inner),
      other: roleName(outer.role),
      otherSubnet: blockText(outer),
    });
}

/** A next hop is a neighbour: it lies in the network of its role, or of any where none is told (RFC 1812, 5.2.4.2). */
function checkHops({ blocks, gateways, routes }: NetworkFacts, roleName: RoleName, add: Add): void {
  const ofRole = byRole(blocks);
  const holding = finder(blocks);
  const versions = new Set(blocks.map(({ address }) => address.version));
  for (const { address, role, site, ofClients } of gateways) {
    const own = (ofRole.get(role) ?? []).filter((block) => block.address.version === address.version);
    if (!ofClients && own.some((block) => block.enabled && block.address.bits === address.bits))
      add('next-hop-own', 'warning', site, { address: formatAddress(address), role: roleName(role) });
    if (own.length === 0 || isLinkLocal(address) || own.some(({ extent }) => contains(extent, address))) continue;
    const params = { address: formatAddress(address), role: roleName(role), subnet: own.map(blockText).join(', ') };
    add('next-hop-unreachable', 'warning', site, params);
  }
  for (const { nextHop } of routes) {
    const { address, site } = nextHop;
    if (!versions.has(address.version) || isLinkLocal(address) || holding(address) !== -1) continue;
    add('next-hop-unreachable', 'warning', site, { address: formatAddress(address), role: '', subnet: '' });
  }
}

/** Blocks that stand for themselves on every box, or for anything rather than for one host. */
function checkSpecial({ blocks, leases, gateways, routes }: NetworkFacts, add: Add): void {
  const documented: Written[] = [];
  for (const written of [...blocks, ...leases, ...gateways, ...routes.map(({ nextHop }) => nextHop)]) {
    const special = specialBlock(written.address);
    if (!special) continue;
    if (special.name.startsWith('Documentation')) documented.push(written);
    else if (isLoopbackBlock(special.name) && isHostRoute(written)) continue;
    else if (special.forwardable && special.source) continue;
    else if (special.name === 'Linked-Scoped Unicast' || special.name === 'Link Local') continue;
    else
      add('address-special', 'warning', written.site, {
        address: formatAddress(written.address),
        block: special.block,
        name: special.name,
        rfc: special.rfc,
      });
  }
  if (documented.length > 0)
    add('address-documentation', 'note', documented[0]!.site, {
      address: formatAddress(documented[0]!.address),
      count: documented.length,
    });
}

const isLoopbackBlock = (name: string) => name.startsWith('Loopback');

/** The box's own loopback is written as a host route or as the whole block 127.0.0.0/8. */
const isHostRoute = (written: Written | Block): boolean => 'length' in written && [8, 32, 128].includes(written.length);
