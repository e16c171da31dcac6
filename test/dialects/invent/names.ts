import type { Rng } from '../rng.ts';

const ROLE_WORDS: readonly (readonly [string, string])[] = [
  ['uplink', 'Fibre to the mainland'],
  ['office', 'Harbour office'],
  ['cards', 'Card terminals & till'],
  ['cctv', 'Cameras on the piers'],
  ['guest', 'Café Wi-Fi'],
  ['backup', '4G backup'],
  ['fuel', 'Fuel dock'],
  ['yard', 'Boatyard & lift'],
  ['chandlery', 'Chandlery shop'],
  ['slip', 'Slipway gate'],
  ['phones', 'Desk phones'],
  ['staff', 'Wardens'],
  ['weather', 'Weather mast <north>'],
  ['dredge', 'Dredger telemetry'],
  ['workshop', 'Engine workshop'],
  ['tower', 'Watch tower'],
  ['lights', 'Pier lights'],
  ['pilot', 'Pilot boat'],
];
const GERMAN = [
  'kontor',
  'kasse',
  'werft',
  'gaeste',
  'hafenamt',
  'tankstelle',
  'kran',
  'steg',
  'funk',
  'lager',
  'kameras',
  'anbindung',
];
const SPANISH = [
  'oficina',
  'cajas',
  'astillero',
  'visitas',
  'combustible',
  'grua',
  'muelle',
  'almacen',
  'camaras',
  'enlace_mar',
];
export const SET_WORDS = [
  'card_hosts',
  'nvr',
  'cloud_till',
  'mgmt_pcs',
  'print_srv',
  'pontoon_ctl',
  'tide_feed',
  'old_scales',
  'crane_plc',
  'berth_meters',
  'chart_srv',
  'booking',
  'radio_net',
  'pumps',
  'gate_ctl',
  'backup_targets',
];
const GONE: Record<string, readonly string[]> = {
  role: ['lab', 'pontoon9', 'oldyard', 'kiosk'],
  set: ['old_printers', 'bait_shop', 'retired_nas', 'regatta_2019'],
  gw: ['dsl_gw', 'sat_gw', 'isdn_exit'],
  cert: ['SIP 2019', 'Portal 2018'],
  sched: ['regatta_week', 'winter_old'],
  group: ['divers', 'seasonals'],
  user: ['rolf', 'ines'],
  svc: ['fax_ports', 'old_sync'],
};
export const USERS = ['mara', 'tomas', 'guest', 'signe', 'odile', 'bram', 'kofi', 'yuki', 'lena', 'pavel'];
export const LABELS = [
  'Names & lookups',
  'Web pages',
  'allow the office to reach it',
  'season <pass>',
  'asked for by the harbour master',
  'see logbook, 12 March',
  'temporary, remove after the regatta',
  'Zahlstelle für Gäste',
  'tills: "closing" report',
  'any to any is not meant here',
];
export const FREE_PORTS = [22, 25, 53, 80, 123, 443, 445, 554, 587, 631, 993, 1194, 3389, 5060, 8080, 8443, 8554, 9100];
export const HASH_LETTERS = './ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
export const B64 = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
export const PHRASES = [
  'gulls over pier 7',
  'Brass-Anchor-1931',
  'low tide at nine',
  'kelp!knot!keel',
  'seven wet ropes',
];

export function roleNames(r: Rng, count: number): (readonly [string, string])[] {
  const style = r.pick(['en', 'en', 'en', 'de', 'es', 'upper', 'code', 'dash', 'mixed', 'spaced']);
  const base = r.shuffle(ROLE_WORDS.slice(1));
  const out: (readonly [string, string])[] = [ROLE_WORDS[0] as readonly [string, string], ...base];
  const berths = Array.from({ length: 8 }, (_, i) => [`berth${201 + i}`, `Berth ${201 + i}`] as const);
  const mixed = [...out.slice(0, Math.max(3, count - r.int(0, 5))), ...berths, ...out.slice(count)].slice(0, count);
  const foreign = r.shuffle(style === 'de' ? GERMAN : SPANISH);
  return mixed.map(([name, label], i) => {
    switch (style) {
      case 'de':
      case 'es':
        return [foreign[i] ?? name, label];
      case 'upper':
        return [name.toUpperCase(), label];
      case 'code':
        return [`n${String(i + 1).padStart(2, '0')}`, label];
      case 'dash':
        return [`${name}-net`, label];
      case 'spaced':
        return [label.replace(/[<>]/g, ''), 'see the plan of the piers'];
      case 'mixed':
        return [i % 3 === 2 ? `Z_${name}` : name.charAt(0).toUpperCase() + name.slice(1), label];
      default:
        return [name, label];
    }
  });
}

export type Gone = Record<'role' | 'set' | 'gw' | 'cert' | 'sched' | 'group' | 'user' | 'svc', string[]>;
export type SetStyle = 'as is' | 'dash' | 'upper' | 'plain';
export const SET_STYLES: readonly SetStyle[] = ['as is', 'as is', 'dash', 'upper', 'plain'];

export function styled(word: string, style: SetStyle): string {
  switch (style) {
    case 'dash':
      return word.replaceAll('_', '-');
    case 'upper':
      return word.toUpperCase();
    case 'plain':
      return word.replaceAll('_', '');
    default:
      return word;
  }
}

/** Names that something still speaks of although nothing is called so any more: at least two, at most eight. */
export function plantGone(r: Rng, setStyle: SetStyle): Gone {
  const sure = r.pick(['role', 'gw', 'cert', 'group'] as const);
  const others = (['role', 'gw', 'cert', 'sched', 'group', 'user', 'svc'] as const).filter((k) => k !== sure);
  const chosen = new Set<keyof Gone>(['set', sure, ...r.sample(others, r.int(0, 5))]);
  const out: Gone = { role: [], set: [], gw: [], cert: [], sched: [], group: [], user: [], svc: [] };
  for (const k of chosen) out[k] = r.sample(GONE[k] as readonly string[], k === 'set' && r.chance(0.4) ? 2 : 1);
  out.set = out.set.map((s) => styled(s, setStyle));
  return out;
}
