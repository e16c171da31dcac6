import type { End, Gateway, Nat, Role, Rule } from '../model.ts';
import type { Rng } from '../rng.ts';
import { FREE_PORTS, type Gone, LABELS } from './names.ts';
import type { Network } from './network.ts';
import type { Objects } from './objects.ts';
import { literal } from './values.ts';

/** What may pass, and what is published. */
export function randomPolicy(
  root: Rng,
  { roles }: Network,
  { sets, services, schedules }: Objects,
  gateways: readonly Gateway[],
  gone: Gone,
  portNames: readonly string[],
  small: boolean,
): { rules: Rule[]; nats: Nat[] } {
  const r = root.fork('policy');
  const inner = roles.slice(1);
  const role = (): Role => r.pick(roles);
  const someIn = (): Role => r.pick(inner);
  const useSelf = r.chance(0.5);
  const namedServices = r.chance(0.25);
  const end = (): End => {
    const x = r.next();
    if (x < 0.25) return { t: 'any' };
    if (x < 0.5) return { t: 'net', role: role() };
    if (x < 0.58) return { t: 'addr', role: role() };
    if (x < 0.82) return { t: 'set', set: r.pick(sets) };
    if (x < 0.9 && useSelf) return { t: 'self' };
    return { t: 'literal', s: literal(r, someIn()) };
  };
  const ends = (): End[] => {
    const first = end();
    if (first.t === 'any' || first.t === 'self' || !r.chance(0.15)) return [first];
    return [first, { t: 'literal', s: literal(r, someIn()) }];
  };
  const service = (): Rule['service'] => {
    if (r.chance(0.5)) return [{ service: r.pick(services) }];
    if (namedServices && r.chance(0.4)) return [{ s: r.pick(['ssh', 'https', 'domain', 'ntp']) }];
    const out: Rule['service'] = r.sample(FREE_PORTS, r.chance(0.2) ? 2 : 1).map((n) => ({ s: String(n) }));
    if (r.chance(0.1)) out.push({ service: r.pick(services) });
    return out;
  };
  const severalRoles = r.chance(0.3);
  const rules: Rule[] = [];
  const addRule = (over: Partial<Rule>): void => {
    const proto = r.pick(['tcp', 'tcp', 'udp', 'tcp/udp', null]);
    rules.push({
      uid: `rule:${rules.length}`,
      action: r.chance(0.8) ? 'permit' : 'deny',
      role: r.chance(0.05) ? null : { it: role() },
      also: severalRoles && r.chance(0.15) ? [role()] : [],
      proto,
      source: ends(),
      dest: ends(),
      notSource: r.chance(0.07),
      notDest: r.chance(0.1),
      service: proto === null ? [] : service(),
      when: r.chance(0.2) ? { it: r.pick(schedules) } : null,
      gateway: r.chance(0.12) ? r.pick(gateways) : null,
      label: r.chance(0.15) ? `moves to ${r.pick(portNames)} with ${role().name}` : r.pick(LABELS),
      enabled: !r.chance(0.12),
      log: r.chance(0.3),
      ...over,
    });
  };
  for (const owner of roles) {
    addRule({
      role: { it: owner },
      source: [{ t: 'net', role: owner }],
      dest: [{ t: 'any' }],
      service: [{ s: '53' }],
      proto: 'udp',
    });
    if (r.chance(0.7))
      addRule({
        role: { it: owner },
        source: [{ t: 'net', role: owner }],
        service: [{ service: r.pick(services) }],
        proto: 'tcp',
      });
  }
  for (let i = 0; i < (small ? r.int(3, 5) : r.int(6, 30)); i++) addRule({});
  // Each schedule is named at least once, and the built-in word for this box stands in several rules.
  for (const s of schedules) addRule({ when: { it: s } });
  if (useSelf) for (let i = 0; i < 3; i++) addRule({ dest: [{ t: 'self' }], service: [{ s: '53' }], proto: 'udp' });
  for (const s of gone.role) addRule({ role: { gone: s } });
  for (const s of gone.set) {
    addRule({ source: [{ t: 'set', set: r.pick(sets) }], notSource: false });
    addRule({ source: [{ t: 'gone', s, kind: 'set' }], notSource: false });
  }
  for (const s of gone.sched) addRule({ when: { gone: s } });
  if (!namedServices) for (const s of gone.svc) addRule({ service: [{ gone: s }], proto: 'tcp' });
  for (const x of rules) {
    if (x.source[0]?.t === 'any') x.notSource = false;
    if (x.dest[0]?.t === 'any') x.notDest = false;
    const first = x.role !== null && 'it' in x.role ? x.role.it : null;
    x.also = first === null ? [] : x.also.filter((o) => o !== first);
  }

  const linkRules = r.chance(0.55);
  const nats: Nat[] = Array.from({ length: small ? 1 : r.int(2, 8) }, () => {
    const port = r.pick(FREE_PORTS);
    return {
      role: r.chance(0.7) ? (roles[0] as Role) : role(),
      proto: r.pick(['tcp', 'udp']),
      outside: port,
      target: r.chance(0.4) ? { set: r.pick(sets) } : { s: literal(r, someIn()).split('/')[0] as string },
      inside: r.chance(0.6) ? port : r.pick(FREE_PORTS),
      rule: linkRules ? r.pick(rules) : null,
      label: r.pick(LABELS),
    };
  });
  return { rules, nats };
}
