import type { Cert, Gateway, Group, Model, Peer, Pool, Role, Route, Tunable, VpnClient, VpnServer } from '../model.ts';
import { type Device, randomPorts } from '../ports.ts';
import type { Rng } from '../rng.ts';
import { B64, LABELS, plantGone, SET_STYLES } from './names.ts';
import { randomNetwork } from './network.ts';
import { randomObjects } from './objects.ts';
import { randomPolicy } from './policy.ts';
import { randomTrust } from './trust.ts';
import { keyOf, macWriter, secretOf } from './values.ts';

/**
 * A random model: which names, how many of each, who refers to whom, and what no longer exists.
 * @param morePorts see `randomPorts`.
 */
export function randomModel(root: Rng, morePorts = false): Model {
  const r = root.fork('model');
  const macOf = macWriter(root);
  const small = r.chance(0.12);
  const ports = randomPorts(root.fork('ports'), small ? r.int(3, 4) : r.int(4, 10), morePorts);
  const dev = (i: number): Device => ({ base: ports.names[i] as string, suffix: '' });
  const setStyle = r.pick(SET_STYLES);
  const gone = plantGone(root.fork('gone'), setStyle);
  const network = randomNetwork(root, ports, small);
  const { roles, vlans, aggregates } = network;
  const inner = roles.slice(1);
  const role = (): Role => r.pick(roles);
  const someIn = (): Role => r.pick(inner);
  const objects = randomObjects(root, inner, setStyle, small);
  const { sets, services, schedules } = objects;
  const gateways: Gateway[] = [
    { name: 'fibre_gw', label: 'Mainland', role: roles[0] as Role, ip: '203.0.113.9', monitor: '192.0.2.1', metric: 1 },
    {
      name: r.pick(['lte_gw', 'mast_gw']),
      label: 'Mast',
      role: someIn(),
      ip: '198.51.100.5',
      monitor: '192.0.2.2',
      metric: 2,
    },
  ];
  if (r.chance(0.4))
    gateways.push({
      name: 'yard_gw',
      label: 'Boatyard',
      role: someIn(),
      ip: '10.20.0.254',
      monitor: '10.20.0.254',
      metric: 3,
    });
  if (r.chance(0.3)) for (const g of gateways) g.name = g.name.replace('_', '-').toUpperCase();

  const { rules, nats } = randomPolicy(root, network, objects, gateways, gone, ports.names, small);
  const { cas, certs, users, groups } = randomTrust(root, gone, small);

  const pools: Pool[] = r.sample(inner, Math.max(2, Math.floor(inner.length * 0.7))).map((x) => ({
    role: x,
    first: x.net.replace(/0$/, '100'),
    last: x.net.replace(/0$/, '120'),
    leases: Array.from({ length: r.int(0, 3) }, (_, i) => ({
      mac: macOf(r),
      ip: x.net.replace(/0$/, String(20 + i)),
      host: `${r.pick(['dev', 'cam', 'till', 'pump'])}${i}`,
    })),
  }));
  if (pools.every((p) => p.leases.length === 0))
    pools[0]?.leases.push({ mac: macOf(r), ip: (pools[0] as Pool).first, host: 'dev0' });

  const routes: Route[] = ['192.0.2.128/25', '198.51.100.128/25', '10.200.0.0/16', '10.201.0.0/16']
    .slice(0, r.int(2, 4))
    .map((network) => ({
      network,
      gateway: { it: r.pick(gateways) },
      label: r.pick(LABELS),
    }));
  for (const s of gone.gw) routes.push({ network: '203.0.113.128/25', gateway: { gone: s }, label: 'old line' });

  const servers: VpnServer[] = ['staff', 'phones', 'pilots'].slice(0, small ? 1 : r.int(1, 3)).map((name, i) => ({
    name,
    label: r.chance(0.3) ? name : 'from home',
    ca: r.pick(cas),
    cert: { it: r.pick(certs) },
    role: roles[0] as Role,
    net: `10.99.${i}.0/24`,
    group: r.chance(0.8) ? { it: r.pick(groups) } : null,
    port: 1194 + i,
  }));
  // What is gone is named where something of the same kind still stands in another record.
  const first = servers[0] as VpnServer;
  first.group ??= { it: groups[0] as Group };
  const more = (name: string, over: Partial<VpnServer>): void => {
    const i = servers.length;
    servers.push({ ...first, name, label: 'from home', net: `10.99.${10 + i}.0/24`, port: 1200 + i, ...over });
  };
  for (const s of gone.cert) more('winter', { cert: { gone: s } });
  for (const s of gone.group) more('regatta', { group: { gone: s } });

  const clients: VpnClient[] = r.chance(0.6)
    ? ['island', 'lightship'].slice(0, r.int(1, 2)).map((name, i) => ({
        name,
        label: 'site link',
        remote: `198.51.100.${20 + i}`,
        psk: secretOf(r),
        role: roles[0] as Role,
        networks: [`10.6${i}.0.0/16`, '10.70.0.0/24'].slice(0, r.int(1, 2)),
      }))
    : [];
  const peers: Peer[] = r.chance(0.4)
    ? ['barge', 'tender', 'buoy7'].slice(0, r.int(1, 3)).map((name, i) => ({
        name,
        label: 'far key',
        publicKey: keyOf(r),
        psk: keyOf(r),
        networks: [`10.98.0.${i + 2}/32`],
      }))
    : [];

  return {
    host: r.pick(['quay-gw', 'kq-edge-1', 'harbour01', 'marina-rt']),
    ports,
    portTable: r.chance(0.3)
      ? ports.names.map((_, i) => ({
          device: dev(i),
          mac: macOf(r),
          speed: r.pick(['1000', '10000', 'auto']),
          label: r.chance(0.4) ? 'patched to rack 2' : '',
        }))
      : [],
    roles,
    vlans,
    aggregates,
    sets,
    services,
    schedules,
    rules,
    nats,
    pools,
    gateways,
    routes,
    cas,
    certs,
    users,
    groups,
    servers,
    clients,
    peers,
    tunnelKey: peers.length > 0 ? keyOf(r) : null,
    radius: r.chance(0.75)
      ? {
          roles: r.sample(inner, Math.min(inner.length, r.int(1, 3))),
          aps: Array.from({ length: r.int(1, 3) }, (_, i) => ({
            name: `ap-${['north', 'south', 'pier'][i]}`,
            ip: `10.20.0.${31 + i}`,
            secret: secretOf(r),
          })),
        }
      : null,
    sensor: r.chance(0.6)
      ? {
          roles: r.sample(roles, 3),
          muted: r.sample(['2001219', '2010935', '2024364', '2100498'], 3),
          families: ['malware', 'scan', 'exploit'],
        }
      : null,
    ntp: r.sample(
      ['time-a.example.net', 'time-b.example.net', '192.0.2.123', 'clock.kestrelquay.example'],
      r.int(1, 3),
    ),
    tunables: tunables(root.fork('tunables'), ports.driver),
    remarks: r.chance(0.5)
      ? Array.from({ length: r.int(1, 4) }, () => ({
          by: r.pick(users),
          time: `2026-0${r.int(1, 9)}-1${r.int(0, 9)}T08:15:00Z`,
          text: r.pick([
            `${r.pick(ports.names)} goes to pontoon B, ${role().name} sits behind it`,
            `do not touch ${role().name}`,
            `${role().name}`,
            `swapped the cable of ${r.pick(ports.names)}`,
            `ask about ${r.pick(sets).name}`,
          ]),
        }))
      : [],
    adminCert: certs[0] as Cert,
    adminPort: r.pick([443, 8443, 4443]),
    console: { speed: r.pick(['115200', '9600', '38400']), flow: r.pick(['none', 'rts/cts']) },
    boot: r.chance(0.4) ? { delay: String(r.int(1, 10)), disk: r.pick(['/dev/ada0', '/dev/sda', 'nvd0']) } : null,
    serial: r.chance(0.4) ? `KQ${r.text(8, '0123456789ABCDEF')}` : null,
    licence: r.chance(0.2)
      ? `${r.text(4, 'ABCDEFGHJK23456789')}-${r.text(4, 'ABCDEFGHJK23456789')}-${r.text(4, 'ABCDEFGHJK23456789')}`
      : null,
    dyn: r.chance(0.4)
      ? { role: roles[0] as Role, url: 'https://names.example.net/update', login: 'kestrelquay', password: secretOf(r) }
      : null,
    mail: r.chance(0.4)
      ? { host: 'mail.example.net', login: 'alarm@kestrelquay.example', password: secretOf(r) }
      : null,
    saved: r.chance(0.7)
      ? {
          time: r.pick(['1795600000', '2026-11-24T17:03:11Z', '24.11.2026 17:03']),
          by: r.pick(users),
          label: 'after adding the last berth',
        }
      : null,
    history: r.chance(0.3) ? r.text(r.int(200, 900), B64) : null,
  };
}

function tunables(r: Rng, driver: string | null): Tunable[] {
  if (r.chance(0.15)) return [];
  const d = driver ?? r.pick(['igb', 'ixl']);
  const bound =
    driver === null && r.chance(0.5)
      ? []
      : [`hw.${d}.num_queues`, `dev.${d}.0.fc`, `hw.${d}.rx_process_limit`, `dev.${d}.1.eee_control`];
  const all: Tunable[] = [
    ...r.sample(bound, 2).map((name) => ({ name, value: r.pick(['0', '2', '-1', '4096']), bound: 'yes' as const })),
    ...r
      .sample(['hw.vga.textmode', 'hw.pci.honor_msi_blacklist', 'hw.acpi.sleep_state', 'dev.cpu.0.freq'], r.int(1, 2))
      .map((name) => ({ name, value: r.pick(['0', '1']), bound: 'yes' as const })),
    ...r
      .sample(
        ['net.inet.tcp.tso', 'kern.ipc.nmbclusters', 'net.inet.ip.fastforwarding', 'kern.randompid', 'vm.swap_enabled'],
        r.int(1, 3),
      )
      .map((name) => ({ name, value: r.pick(['0', '1', '131072']), bound: 'no' as const })),
  ];
  return r.shuffle(all);
}
