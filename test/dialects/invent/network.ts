import type { Aggregate, Role, Vlan } from '../model.ts';
import type { Device, PortSet } from '../ports.ts';
import type { Rng } from '../rng.ts';
import { roleNames } from './names.ts';
import { macWriter } from './values.ts';

export interface Network {
  readonly roles: Role[];
  readonly vlans: Vlan[];
  readonly aggregates: Aggregate[];
}

/** Who is connected where. */
export function randomNetwork(root: Rng, ports: PortSet, small: boolean): Network {
  const r = root.fork('network');
  const macOf = macWriter(root);
  const dev = (i: number): Device => ({ base: ports.names[i % ports.names.length] as string, suffix: '' });
  const names = roleNames(root.fork('role names'), small ? r.int(3, 5) : r.int(5, 16));

  // Aggregates take the last ports; one VLAN trunk takes the third; the rest carry one role each.
  const aggregates: Aggregate[] = [];
  let free = ports.names.length;
  const aggCount = small ? r.int(0, 1) : r.pick([0, 1, 1, 1, 2]);
  const aggStem = r.pick(['lagg', 'bond', 'trunk', 'team', 'bundle']);
  for (let i = 0; i < aggCount && free >= 5; i++) {
    const n = r.chance(0.25) && free >= 6 ? 3 : 2;
    free -= n;
    aggregates.push({
      name: aggStem + i,
      label: r.pick(['both cables to the tower', 'switch in the boathouse', 'core switch']),
      members: Array.from({ length: n }, (_, k) => dev(free + k)),
      mode: r.pick(['lacp', 'failover', 'balance']),
    });
  }

  const suffix = vlanSuffix(root.fork('vlan suffix'));
  const ownNames = r.chance(0.1);
  const trunks = free > 4 && r.chance(0.3) ? [2, 3] : [Math.min(2, free - 1)];
  const direct = [...Array(free).keys()].filter((i) => !trunks.includes(i));
  const vlans: Vlan[] = [];
  const roles: Role[] = [];
  const lowTags = r.chance(0.15);
  let tag = lowTags ? 1 : r.pick([10, 20, 30, 100, 201]);
  const step = lowTags ? 1 : r.pick([1, 1, 5, 10, 10]);
  const onAgg = aggregates.length > 0 && r.chance(0.35);
  const vlanOnAgg = aggregates.length > 0 && r.chance(0.2);
  for (const [i, [name, label]] of names.entries()) {
    const outside = i === 0;
    const prefix = outside ? 29 : r.pick([24, 24, 24, 23, 25, 26]);
    const net = outside ? '203.0.113.8' : `10.20.${i * 16 + r.pick([0, 8])}.0`;
    const address = outside ? '203.0.113.10' : net.replace(/0$/, '1');
    let device: Device;
    let vlan: Vlan | null = null;
    let onAggregate = false;
    if (i < direct.length - (onAgg ? 0 : 1) && i < 4) device = dev(direct[i] as number);
    else if (onAgg && !roles.some((x) => x.onAggregate)) {
      device = { base: null, suffix: (aggregates[0] as Aggregate).name };
      onAggregate = true;
    } else {
      const silent = vlanOnAgg && vlans.length === 1;
      const parent: Device = silent
        ? { base: null, suffix: (aggregates[0] as Aggregate).name }
        : dev(trunks[vlans.length % trunks.length] as number);
      device = ownNames
        ? { base: null, suffix: `vlan${tag}` }
        : { base: parent.base, suffix: (parent.base === null ? parent.suffix : '') + suffix(tag) };
      vlan = {
        parent,
        tag,
        device,

        label: r.chance(0.15) ? name : `${label} tag`,
        silent: silent && !ownNames,
      };
      vlans.push(vlan);
      tag += step;
    }
    roles.push({
      name,
      label: r.chance(0.12) ? name : r.chance(0.2) ? `${label}, was on ${r.pick(ports.names)} until 2024` : label,
      enabled: !r.chance(0.08),
      device,
      vlan,
      onAggregate,
      address,
      prefix,
      net,
      mtu: r.chance(0.2) ? r.pick([1500, 1492, 9000]) : null,
      mac: i === 0 && r.chance(0.7) ? macOf(r) : null,
    });
  }
  // A VLAN that nobody uses.
  if (vlans.length > 0 && r.chance(0.3)) {
    const parent = dev(trunks[0] as number);
    const device = ownNames ? { base: null, suffix: `vlan${tag}` } : { base: parent.base, suffix: suffix(tag) };
    vlans.push({ parent, tag, device, label: 'spare', silent: false });
  }
  return { roles, vlans, aggregates };
}

/** How a tagged device is called after the port below it. */
function vlanSuffix(r: Rng): (tag: number) => string {
  const form = r.pick(['.', '.', '.', ':', '_', '-vlan', 'v', '-', '.v']);
  return (tag) => form + tag;
}
