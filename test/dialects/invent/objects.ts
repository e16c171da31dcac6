import type { AddressSet, Role, Schedule, Service } from '../model.ts';
import type { Rng } from '../rng.ts';
import { FREE_PORTS, SET_WORDS, type SetStyle, styled } from './names.ts';
import { literal } from './values.ts';

export interface Objects {
  readonly sets: AddressSet[];
  readonly services: Service[];
  readonly schedules: Schedule[];
}

/** Named things for rules to speak of. Groups may hold groups that come before them. */
export function randomObjects(root: Rng, inner: readonly Role[], setStyle: SetStyle, small: boolean): Objects {
  const r = root.fork('objects');
  const someIn = (): Role => r.pick(inner);
  const sets: AddressSet[] = [];
  const setWords = r.shuffle(SET_WORDS);
  const setCount = small ? r.int(2, 3) : r.int(3, 12);
  for (let i = 0; i < setCount; i++) {
    const word = setWords[i] as string;
    const name = styled(word, setStyle);
    const entries: AddressSet['entries'] = Array.from({ length: r.int(1, 4) }, () => ({ s: literal(r, someIn()) }));
    if (i >= 2 && r.chance(0.3)) entries.push({ set: r.pick(sets) });
    if (i >= 3 && r.chance(0.15)) entries.splice(0, entries.length, ...r.sample(sets, 2).map((set) => ({ set })));
    sets.push({ name, label: r.chance(0.2) ? name : `Hosts for ${word}`, entries });
  }

  const services: Service[] = [];
  const svcWords = r.shuffle([
    'webports',
    'rtsp_nvr',
    'mailports',
    'print',
    'plc_bus',
    'voice',
    'remote_hands',
    'tide_api',
  ]);
  for (let i = 0; i < (small ? 2 : r.int(2, 6)); i++) {
    const entries: Service['entries'] = r
      .sample(FREE_PORTS, r.int(1, 4))
      .map((n) => ({ s: r.chance(0.15) ? `${n}-${n + 10}` : String(n) }));
    if (i > 1 && r.chance(0.25)) entries.push({ service: r.pick(services) });
    services.push({ name: svcWords[i] as string, label: r.chance(0.3) ? (svcWords[i] as string) : 'ports', entries });
  }
  const schedules: Schedule[] = r
    .sample(['season', 'night', 'office_hours', 'tides', 'weekend'], small ? 1 : r.int(1, 4))
    .map((name) => ({
      name,
      label: 'hours',
      span: r.pick(['08:00-20:00', '20:00-08:00', '06:30-19:30', '00:00-23:59']),
      days: r.pick(['1-5', '6,7', '1-7', 'mon-fri']),
    }));
  return { sets, services, schedules };
}
