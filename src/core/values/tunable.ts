import { driverKind } from './device-name.ts';

/** The name of a kernel or boot variable, as general-purpose systems write it: `hw.igb.num_queues`, `net.inet.tcp.tso`. */
export interface Tunable {
  /** The part that binds it to a machine: a driver or a class of hardware; null for one that any machine has. */
  readonly bound: string | null;
}

const name = /^[a-z][a-z0-9_]{1,15}(?:\.[A-Za-z0-9_%-]{1,40}){2,7}$/;
/** Top levels of such names, from memory (sysctl(8), loader.conf(5)), and words for drivers (common practice, no source). */
const tops = new Set(
  'hw dev drv driver machdep hint kern net vm vfs security debug compat kstat user fs abi sunrpc crypto dev_mapper'.split(
    ' ',
  ),
);
/** Top levels under which everything is about the machine itself. */
const machine = new Set(['hw', 'dev', 'drv', 'driver', 'machdep', 'hint']);
/** Of two parts, the second of several words: `hw.intr_storm_threshold`, or of the machine alone. */
const shortName = /^(?:(?:hw|dev|hint)(?=\.[a-z0-9]+_)|machdep)\.([a-z][a-z0-9_]{2,39})$/;
/** Parameters of modules, as the Linux kernel takes them (its guide, kernel-parameters: `module.parameter`), perhaps a word before it. */
const parameter = /^(?:[a-z]{2,10}\.)?([a-z][a-z0-9]{1,11}(?:_(?:core|en|net))?)\.[A-Za-z][A-Za-z0-9_]{1,40}$/;
/** Of two parts, the first of which is a driver of network cards that the machine has: `em.rxdescriptors`. */
const ownParameter = /^([a-z]{2,10})\.[A-Za-z_]{3}[A-Za-z0-9_-]{0,37}$/;
/** Modules for network cards whose names are no words of a language, from memory. */
const modules = new Set(
  'alx atl1c atl1e atlantic be2net bnx2 bnx2x bnxt_en cxgb4 e1000 e1000e fm10k forcedeth i40e iavf igb igbvf igc ixgbe ixgbevf mlx4_core mlx4_en mlx5_core mvneta mvpp2 qede r8125 r8152 r8168 r8169 sfc sky2 stmmac tg3 tulip virtio_net vmxnet3'.split(
    ' ',
  ),
);
const noDrivers: ReadonlySet<string> = new Set();
/** Last labels of host names (RFC 2606 and common practice), so that `dev.marina.example` is none. */
const domains = new Set(
  'com net org edu gov int arpa example test invalid localhost local lan home internal corp'.split(' '),
);

/** @param drivers known to be at work in the machine, whatever the name's first part is. */
export function parseTunable(text: string, drivers: ReadonlySet<string> = noDrivers): Tunable | null {
  if (text.length < 7 || text.length > 120) return null;
  const load = /^(?:if_)?([a-z]{2,10})_load$/.exec(text);
  if (load) return driverKind(load[1]!) === 'card' ? { bound: load[1]! } : null;
  const short = shortName.exec(text)?.[1];
  if (short !== undefined) return { bound: short };
  const module = parameter.exec(text)?.[1];
  if (module !== undefined && modules.has(module)) return { bound: module };
  const own = ownParameter.exec(text)?.[1];
  if (own !== undefined && drivers.has(own) && driverKind(own) === 'card') return { bound: own };
  if (!name.test(text)) return null;
  const parts = text.split('.');
  if (domains.has(parts[parts.length - 1]!)) return null;
  const all = parts.map((part) => part.replace(/\d+$/, ''));
  const driver = all.slice(0, -1).find((stem) => drivers.has(stem));
  if (driver) return { bound: driver };
  if (!tops.has(parts[0]!)) return null;
  const card = all.slice(1).find((stem) => driverKind(stem) === 'card');
  return { bound: card ?? (machine.has(parts[0]!) ? parts[1]! : null) };
}
