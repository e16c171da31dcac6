/** What a test changes of a small, healthy box. */
export interface Parts {
  /** Role records: name, port, address, length. */
  readonly roles?: readonly (readonly [name: string, port: string, address: string, length: string])[];
  /** Pools: role, first, last, fixed clients. */
  readonly pools?: readonly (readonly [role: string, first: string, last: string, fixed: readonly string[]])[];
  readonly gateways?: readonly (readonly [name: string, role: string, address: string])[];
  readonly routes?: readonly (readonly [network: string, gateway: string])[];
  readonly more?: string;
}

const healthy: Required<Parts> = {
  roles: [
    ['sea', 'eth0', '203.0.113.10', '29'],
    ['office', 'eth1', '10.20.0.1', '24'],
    ['guest', 'eth2', '10.20.50.1', '23'],
    ['cards', 'eth3', '10.20.30.1', '24'],
  ],
  pools: [
    ['office', '10.20.0.100', '10.20.0.199', ['10.20.0.20', '10.20.0.21']],
    ['guest', '10.20.50.100', '10.20.51.250', ['10.20.50.20']],
    ['cards', '10.20.30.100', '10.20.30.150', ['10.20.30.11']],
  ],
  gateways: [
    ['fibre', 'sea', '203.0.113.9'],
    ['shed', 'office', '10.20.0.254'],
  ],
  routes: [
    ['192.0.2.128/25', 'fibre'],
    ['10.77.0.0/16', 'shed'],
  ],
  more: '',
};

let mac = 0;

/** A small backup in a dialect of its own, as text; the places that a test does not name are healthy. */
export function box(parts: Parts = {}): string {
  const { roles, pools, gateways, routes, more } = { ...healthy, ...parts };
  mac = 0;
  const next = () => `00:00:5e:00:53:${(mac++).toString(16).padStart(2, '0')}`;
  const list = (name: string, items: readonly string[]) => `<${name}>\n${items.join('\n')}\n</${name}>\n`;
  return `<box>\n${list(
    'places',
    roles.map(
      ([name, port, address, length]) =>
        `<place><name>${name}</name><on>${port}</on><address>${address}</address><${length.includes('.') ? 'netmask' : 'prefix'}>${length}</${length.includes('.') ? 'netmask' : 'prefix'}></place>`,
    ),
  )}${list(
    'lends',
    pools.map(
      ([role, first, last, fixed]) =>
        `<lend><place>${role}</place><first>${first}</first><last>${last}</last>${fixed
          .map((address) => `\n<kept><card>${next()}</card><as>${address}</as></kept>`)
          .join('')}</lend>`,
    ),
  )}${list(
    'hops',
    gateways.map(
      ([name, role, address]) => `<hop><name>${name}</name><place>${role}</place><address>${address}</address></hop>`,
    ),
  )}${list(
    'courses',
    routes.map(([network, gateway]) => `<course><to>${network}</to><hop>${gateway}</hop></course>`),
  )}${more}</box>\n`;
}

export const healthyParts = healthy;

/** The healthy box with one row of one part put in another's place. */
export function boxWith<K extends 'roles' | 'pools' | 'gateways' | 'routes'>(
  part: K,
  at: number,
  row: Required<Parts>[K][number],
): string {
  return box({ [part]: (healthy[part] as readonly unknown[]).map((own, index) => (index === at ? row : own)) });
}
