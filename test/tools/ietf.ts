import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { KnownFormat, KnownReference } from '../../src/core/reading/known/format.ts';
import { nodesOf, pathOf, type SchemaNode, schemaOf, targetOf } from './yang-schema.ts';

/**
 * Derives src/core/reading/known/ietf.json from the texts of the modules. To write it again:
 *   npx tsx test/tools/ietf.ts DIR > src/core/reading/known/ietf.json && npx biome format --write src/core/reading/known
 * where DIR holds yang/, modules.txt (those to implement) and refs-soft.json (references that are only described).
 */
export function deriveIetf(directory: string): KnownFormat {
  const read = (...path: string[]) => readFileSync(join(directory, ...path), 'utf8');
  const sources = readdirSync(join(directory, 'yang')).filter((name) => name.endsWith('.yang'));
  const implemented = read('modules.txt')
    .split('\n')
    .filter((line) => /^[\w-]/.test(line))
    .map((line) => line.replace(/(@.*)?\.yang\s*$/, ''));
  const schema = schemaOf(
    sources.map((name) => read('yang', name)),
    implemented,
  );
  const rfcs = rfcsOf(read('yang', 'SOURCES.md'));
  const sourceOf = (module: string) => `RFC ${rfcs.get(module)}`;
  const nodes = [...nodesOf(schema.root)];
  const byPath = new Map(nodes.map((node) => [pathOf(node), node]));
  const leafrefs = nodes.flatMap((node) => node.leafrefs.map((ref) => ({ node, ref })));
  return {
    name: 'IETF YANG over NETCONF',
    envelope: [
      // RFC 6241; the datastore's data of RFC 8526 as RFC 8343 and 8344 print it; notifications of RFC 5277; RFC 7950, 7.15.2.
      {
        namespace: 'urn:ietf:params:xml:ns:netconf:base:1.0',
        elements: ['rpc', 'rpc-reply', 'edit-config', 'copy-config', 'source', 'target', 'config', 'data', 'filter'],
      },
      { namespace: 'urn:ietf:params:xml:ns:yang:ietf-netconf-datastores', elements: ['data'] },
      { namespace: 'urn:ietf:params:xml:ns:netconf:notification:1.0', elements: ['notification'] },
      { namespace: 'urn:ietf:params:xml:ns:yang:1', elements: ['action'] },
    ],
    modules: implemented.map((name) => {
      const revision = schema.revisions.get(name);
      return {
        name,
        namespace: schema.namespaces.get(name)!,
        source: `${sourceOf(name)}${revision ? `, revision ${revision}` : ', example module'}`,
      };
    }),
    lists: nodes
      .filter(({ keyword }) => keyword === 'list')
      .map((node) => ({
        at: pathOf(node),
        keys: node.keys,
        ...(!node.keys.includes('name') && node.children.some(({ name }) => name === 'name') && { label: 'name' }),
      })),
    references: [
      ...leafrefs.map(({ node, ref }): KnownReference => {
        const { node: target, predicates, common } = targetOf(schema.root, node, ref);
        const list = common && listAround(common);
        return {
          at: pathOf(node),
          to: pathOf(target),
          by: 'name',
          // The operational state may break a reference for a while (RFC 8342, 5.3); a configuration may not.
          tier: node.config ? 'certain' : 'likely',
          ...(list && { within: pathOf(list) }),
          ...(predicates.length > 0 && {
            where: predicates.map(({ list: named, key, equals }) => ({ list: pathOf(named), key, equals })),
          }),
          ...(!node.config && { elsewhere: true }),
          source: `${sourceOf(node.module)}, leafref`,
        };
      }),
      ...softReferences(JSON.parse(read('refs-soft.json')).soft),
    ],
    secrets: [
      ...nodes.filter(isSecret).map((node) => ({
        at: pathOf(node),
        kind: secretKind(node.name),
        source: `${sourceOf(node.module)}, default-deny-all (RFC 8341, 3.4.3)`,
      })),
      ...nodes
        .filter(({ types }) => types.includes('iana-crypt-hash:crypt-hash'))
        .map((node) => ({
          at: pathOf(node),
          kind: 'hash' as const,
          source: `${sourceOf(node.module)}, type crypt-hash`,
        })),
    ],
    certificates: nodes.filter(isCertificate).map((node) => ({ at: pathOf(node), source: sourceOf(node.module) })),
    devices: [interfaces],
    host: byPath.has('/ietf-system:system/hostname') ? '/ietf-system:system/hostname' : null,
  };
}

/**
 * Entries of the interface list: the name is the device's own (RFC 8343, 5; for a physical one the server decides it).
 * No published module puts a VLAN on it, so parent and tag are those of the example module in RFC 8343, appendix C.
 */
const interfaces: KnownFormat['devices'][number] = {
  list: '/ietf-interfaces:interfaces/interface',
  name: 'name',
  label: 'description',
  type: 'type',
  kinds: {
    'iana-if-type:ethernetCsmacd': 'physical',
    'iana-if-type:fastEther': 'physical',
    'iana-if-type:gigabitEthernet': 'physical',
    'iana-if-type:ieee80211': 'physical',
    'iana-if-type:l2vlan': 'tagged',
    'iana-if-type:l3ipvlan': 'tagged',
    'iana-if-type:ieee8023adLag': 'aggregate',
  },
  parent: 'example-vlan:base-interface',
  tag: 'example-vlan:vlan-id',
  addresses: ['ietf-ip:ipv4/address', 'ietf-ip:ipv6/address'],
  source: 'RFC 8343, RFC 8344, RFC 7224',
};

const CERTIFICATE_TYPES = ['ietf-crypto-types:trust-anchor-cert-cms', 'ietf-crypto-types:end-entity-cert-cms'];

/** By type; in RFC 9061, which gives them no type of their own, by the names that it describes as X.509 certificates. */
function isCertificate(node: SchemaNode): boolean {
  if (node.types.some((type) => CERTIFICATE_TYPES.includes(type))) return true;
  return node.module === 'ietf-i2nsf-ike' && ['cert-data', 'ca-data'].includes(node.name);
}

const isSecret = (node: SchemaNode) => node.denied && !isCertificate(node);

function secretKind(name: string): KnownFormat['secrets'][number]['kind'] {
  if (name.endsWith('private-key')) return 'private-key';
  return name.endsWith('password') ? 'password' : 'shared-secret';
}

function listAround(node: SchemaNode): SchemaNode | null {
  for (let at: SchemaNode | null = node; at; at = at.parent) if (at.keyword === 'list') return at;
  return null;
}

function rfcsOf(sources: string): Map<string, string> {
  const rows = sources.matchAll(/^\| ([\w-]+)(?:@[\d-]+)?\.yang \| (\d+) \|/gm);
  return new Map([...rows].map(([, module, rfc]) => [module!, rfc!]));
}

interface Soft {
  readonly kind: 'name' | 'address';
  readonly leaf: string;
  readonly target: string;
  readonly basis: string;
}

const IF = '/ietf-interfaces:interfaces/interface';
const V4 = `${IF}/ietf-ip:ipv4/address/ip`;
const V6 = `${IF}/ietf-ip:ipv6/address/ip`;
const STATIC = '/ietf-routing:routing/control-plane-protocols/control-plane-protocol/static-routes';
const ROUTES4 = `${STATIC}/ietf-ipv4-unicast-routing:ipv4/route`;
const ROUTES6 = `${STATIC}/ietf-ipv6-unicast-routing:ipv6/route`;
const POOL = '/ietf-dhcpv6-server:dhcpv6-server/allocation-ranges/allocation-range/address-pools/address-pool';
const IKE = '/ietf-i2nsf-ike:ipsec-ike';
const POLICY = `${IKE}/conn-entry/spd/spd-entry/ipsec-policy-config`;
const ADVERTISED = `${IF}/ietf-ip:ipv6/ietf-ipv6-unicast-routing:ipv6-router-advertisements/prefix-list/prefix/prefix-spec`;

/** Connected networks; RFC 8344 writes their size as a length or, for version 4, as a mask. */
const connected = { length: ['prefix-length', 'netmask'], elsewhere: true } as const;
const routed = [`${ROUTES4}/destination-prefix`, `${ROUTES6}/destination-prefix`];

/** What a described reference needs beside its two ends. */
const details: Record<string, Partial<KnownReference>> = {
  // RFC 8341: the asterisk matches all groups, and a server may know groups from outside (enable-external-groups).
  '/ietf-netconf-acm:nacm/rule-list/group': { except: ['*'], elsewhere: true },
  // Users may be known to a server elsewhere.
  '/ietf-netconf-acm:nacm/groups/group/user-name': { elsewhere: true },
  // Pools hold addresses beside the box's own in its networks.
  '/ietf-nat:nat/instances/instance/policy/external-ip-address-pool/external-ip-pool': connected,
  '/ietf-nat:nat/instances/instance/policy/dst-ip-address-pool/dst-in-ip-pool': { ...connected, or: [V6] },
  '/ietf-nat:nat/instances/instance/mapping-table/mapping-entry/internal-dst-address': { ...connected, or: [V6] },
  '/ietf-nat:nat/instances/instance/policy/subscriber-match/subnet': { ...connected, or: [V6, ...routed] },
  [`${ROUTES4}/next-hop/next-hop-address`]: connected,
  [ADVERTISED]: { ...connected, within: IF },
  '/ietf-dhcpv6-server:dhcpv6-server/allocation-ranges/allocation-range/network-prefix': {
    ...connected,
    or: [`${ROUTES6}/destination-prefix`],
  },
  [`${POOL}/start-address`]: { within: POOL },
  [`${POLICY}/processing-info/ipsec-sa-cfg/tunnel/local`]: { elsewhere: true, or: [V6] },
  [`${POLICY}/traffic-selector/local-prefix`]: { ...connected, or: [V6, ...routed] },
  // A peer has a name of its own; only the entry that a connection takes as its local end speaks of this box.
  [`${IKE}/pad/pad-entry/fqdn-string`]: { by: 'host', onlyNamedAt: `${IKE}/conn-entry/local/local-pad-entry-name` },
  '/ietf-routing:routing/router-id': { elsewhere: true },
};

/** Every link has the link-local prefix (RFC 4291, 2.5.6). */
const linkLocal = { except: ['fe80::/10'] } as const;

/** The same reference for the other version of IP, the other end of a range, or one of several next hops. */
const twins: readonly (Partial<KnownReference> & { readonly of: string; readonly at: string })[] = [
  { of: `${ROUTES4}/next-hop/next-hop-address`, at: `${ROUTES4}/next-hop/next-hop-list/next-hop/next-hop-address` },
  { of: `${ROUTES4}/next-hop/next-hop-address`, at: `${ROUTES6}/next-hop/next-hop-address`, to: V6, ...linkLocal },
  {
    of: `${ROUTES4}/next-hop/next-hop-address`,
    at: `${ROUTES6}/next-hop/next-hop-list/next-hop/next-hop-address`,
    to: V6,
    ...linkLocal,
  },
  { of: `${POOL}/start-address`, at: `${POOL}/end-address` },
];

function softReferences(soft: readonly Soft[]): KnownReference[] {
  const rows = soft.map(({ kind, leaf, target, basis }): KnownReference => {
    const to = target === `${IF}/ietf-ip:ipv4/address` ? V4 : target === `${IF}/ietf-ip:ipv6/address` ? V6 : target;
    return { at: leaf, to, by: kind, tier: 'likely', ...details[leaf], source: basis };
  });
  return [
    ...rows,
    ...twins.map(({ of, ...own }): KnownReference => ({ ...rows.find(({ at }) => at === of)!, ...own })),
  ];
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  console.log(JSON.stringify(deriveIetf(process.argv[2]!)));
}
