import { describe, expect, it } from 'vitest';
import { admission } from '../../src/core/checks/way-in/admitting.ts';
import { planOf } from '../../src/core/index.ts';
import type { Reading } from '../../src/core/reading/reading.ts';
import { chance } from './chance.ts';
import { findingsOf, opened } from './support.ts';

/** Rules between networks, the box itself among them, with services by name. */
interface Rule {
  readonly lets: boolean;
  /** Null for anyone. */
  readonly from: string | null;
  /** A network, `self` for the box; null for anywhere. */
  readonly to: string | null;
  readonly service: string | null;
}

const nets: Record<string, string> = {
  office: '10.20.0.1',
  guest: '10.20.50.1',
  cards: '10.20.30.1',
  cams: '10.20.40.1',
};
const services: Record<string, readonly [protocol: string, ports: string]> = {
  pages: ['tcp', '80,443'],
  manage: ['tcp', '22,8443'],
  tide: ['udp', '8443'],
  names: ['udp', '53'],
  wide: ['tcp', '8000-9000'],
};

/** How a service is written. */
const manners: Record<string, (name: string, protocol: string, ports: string) => string> = {
  'the protocol beside the ports': (name, protocol, ports) =>
    `<service><name>${name}</name><carried-by>${protocol}</carried-by><ports>${ports}</ports></service>`,
  'the protocol as the name of the field': (name, protocol, ports) =>
    `<service><name>${name}</name><${protocol}>${ports}</${protocol}></service>`,
  'a word for the kind, and ranges with two ends': (name, protocol, ports) =>
    `<service kind="service"><name>${name}</name><over>${protocol}</over>${ports
      .split(',')
      .map((port) => port.split('-'))
      .map(([low, high]) => `<span from="${low}"${high ? ` to="${high}"` : ''}/>`)
      .join('')}</service>`,
  'each port an element of its own, behind a number': (name, protocol, ports) =>
    `<service no="${Object.keys(services).indexOf(name) + 1}" name="${name}"><entry proto="${protocol}">${ports
      .split(',')
      .map((port) => `<port>${port}</port>`)
      .join('')}</entry></service>`,
};

const box = (rules: readonly Rule[], manner: string, self: string, via: readonly [string, string]) => `<box>
<networks>${Object.entries(nets)
  .map(
    ([name, address], at) =>
      `<network><name>${name}</name><port>eth${at}</port><address>${address}</address><length>24</length></network>`,
  )
  .join('\n')}</networks>
<services>${Object.entries(services)
  .map(([name, [protocol, ports]]) => manners[manner]!(name, protocol, ports))
  .join('\n')}</services>
<rules>
${rules
  .map(
    ({ lets, from, to, service }, at) =>
      `<rule><id>r${at}</id><${via[0]}>${from ?? 'any'}</${via[0]}><${via[1]}>${to === 'self' ? self : (to ?? 'any')}</${via[1]}><service>${service ?? 'any'}</service><act>${lets ? 'permit' : 'deny'}</act></rule>`,
  )
  .join('\n')}
</rules>
<unit><web><port>8443</port></web></unit>
</box>`;

const holds = (service: string, port: number): boolean => {
  const [protocol, ports] = services[service]!;
  return (
    protocol === 'tcp' &&
    ports.split(',').some((one) => {
      const [low, high = low] = one.split('-').map(Number);
      return low! <= port && port <= high!;
    })
  );
};

/** By rules of the test itself: the first that fits decides (common practice, no source). */
const reaches = (rules: readonly Rule[], role: string, port: number): boolean =>
  rules.find(
    ({ from, to, service }) =>
      (from === null || from === role) && (to === null || to === 'self') && (service === null || holds(service, port)),
  )?.lets ?? false;

/** What is told of a role, which is so where it is told for sure. @param from how rules name the role. */
function toldOf(reading: Reading, role: number, rules: readonly Rule[], from: string): 'yes' | 'no' | 'untold' {
  const { rule, maybe } = admission(reading, role, 8443, () => true);
  const asked = [from, JSON.stringify(rules)];
  const truth = reaches(rules, from, 8443);
  if (rule || !maybe) expect([...asked, truth]).toEqual([...asked, rule !== null]);
  return rule ? 'yes' : maybe ? 'untold' : 'no';
}

describe.each(Object.keys(manners))('rules between networks, services with %s', (manner) => {
  it.each([
    ['from', 'to', 'self'],
    ['in', 'out', 'this-box'],
  ])('who reaches the box, against the test’s own walk: %s and %s, the box as %s', (first, second, self) => {
    const next = chance(21);
    const pick = <T>(list: readonly T[]): T => list[next(list.length)]!;
    const told = { yes: 0, no: 0, untold: 0 };
    for (let round = 0; round < 60; round++) {
      // Every network goes somewhere, so that each is known to be one.
      const rules = Array.from({ length: 10 }, (_, at): Rule => {
        const from = at < 4 ? Object.keys(nets)[at]! : pick([...Object.keys(nets), null]);
        const others = Object.keys(nets).filter((name) => name !== from);
        return {
          lets: next(3) > 0,
          from,
          to: at < 4 ? pick(others) : pick([...others, 'self', 'self', null]),
          service: pick([...Object.keys(services), null]),
        };
      });
      const { reading } = opened(box(rules, manner, self, [first, second]));
      for (const [index, { name }] of reading.roles.entries()) {
        told[toldOf(reading, index, rules, name)]++;
      }
    }
    expect(told.yes).toBeGreaterThan(20);
    expect(told.no).toBeGreaterThan(60);
    expect(told.untold).toBeLessThan(told.yes);
  });
});

// Common practice, no source: a rule of a zone is one of each network in it.
describe('rules between zones', () => {
  const zoneOf: Record<string, string> = { office: 'trusted', cards: 'trusted', guest: 'public', cams: 'eyes' };
  const zones = ['trusted', 'public', 'eyes'];
  const zoned: Record<string, (xml: string) => string> = {
    'which networks name': (xml) =>
      xml
        .replace(/<network><name>(\w+)<\/name>/g, (all, name) => `${all}<lies-in>${zoneOf[name]}</lies-in>`)
        .replace(
          '<services>',
          `<zones>${zones.map((zone) => `<zone><called>${zone}</called><note>For ${zone}</note></zone>`).join('')}</zones><services>`,
        ),
    'which list networks': (xml) =>
      xml.replace(
        '<services>',
        `<zones>${zones
          .map(
            (zone) =>
              `<zone><called>${zone}</called>${Object.keys(nets)
                .filter((name) => zoneOf[name] === zone)
                .map((name) => `<holds>${name}</holds>`)
                .join('')}</zone>`,
          )
          .join('')}</zones><services>`,
      ),
  };
  it.each(Object.keys(zoned))('%s: who reaches the box, against the test’s own walk', (manner) => {
    const next = chance(33);
    const pick = <T>(list: readonly T[]): T => list[next(list.length)]!;
    const told = { yes: 0, no: 0, untold: 0 };
    for (let round = 0; round < 60; round++) {
      const rules = Array.from({ length: 9 }, (_, at): Rule => {
        const from = at < 3 ? zones[at]! : pick([...zones, null]);
        const others = zones.filter((zone) => zone !== from);
        return {
          lets: next(3) > 0,
          from,
          to: at < 3 ? pick(others) : pick([...others, 'self', 'self', null]),
          service: pick([...Object.keys(services), null]),
        };
      });
      const plainly = box(rules, 'the protocol beside the ports', 'self', ['from', 'to']);
      const pools = Object.keys(nets).map((name) => `<pool><net>${name}</net><days>${name.length}</days></pool>`);
      const { reading } = opened(zoned[manner]!(plainly.replace('<rules>', `<pools>${pools.join('')}</pools><rules>`)));
      for (const [index, { name }] of reading.roles.entries()) {
        if (!zoneOf[name]) continue;
        told[toldOf(reading, index, rules, zoneOf[name])]++;
      }
    }
    expect(told.yes).toBeGreaterThan(20);
    expect(told.no).toBeGreaterThan(60);
  });
});

/** What is said of the way in where a plan touches nothing that leads there. */
function wayOf(xml: string): string[] {
  return findingsOf(opened(xml), {}, planOf([{ kind: 'rename-port', from: 'none0', to: 'none1' }]))
    .filter(({ code }) => code.startsWith('way-in-'))
    .map(({ code, params }) => `${code} ${params.number} ${params.missing ?? ''}`.trim());
}

const rules: Rule[] = [
  { lets: true, from: 'office', to: 'guest', service: 'pages' },
  { lets: true, from: 'guest', to: 'cards', service: 'names' },
  { lets: true, from: 'cards', to: 'cams', service: 'pages' },
  { lets: false, from: 'cams', to: 'office', service: null },
];
const plain = (more: readonly Rule[] = []) =>
  box([...rules, ...more], 'the protocol beside the ports', 'self', ['from', 'to']);

describe('rules between networks', () => {
  it.each([
    ['none lets anyone to the box', plain(), ['way-in-no-rule 8443']],
    ['one lets the office', plain([{ lets: true, from: 'office', to: 'self', service: 'manage' }]), []],
    [
      'one lets the office on ports of senders alone, which say nothing of the page',
      plain([{ lets: true, from: 'office', to: 'self', service: 'manage' }]).replace(
        '<ports>22,8443</ports>',
        '<source-ports>1024-65535</source-ports>',
      ),
      ['way-in-unknown 8443 rule'],
    ],
    [
      'one lets the office to what nobody knows',
      plain([{ lets: true, from: 'office', to: 'self', service: 'manage' }]).replace('>self<', '>mast<'),
      ['way-in-unknown 8443 rule'],
    ],
  ])('%s', (_, xml, expected) => {
    expect(wayOf(xml)).toEqual(expected);
  });
});

// Common practice, no source: `net` behind a name is the network, `self` or `address` the box's own address there.
describe('networks in the words of a file', () => {
  const affixed = (from: (name: string) => string, to: string) =>
    plain([{ lets: true, from: 'office', to: 'self', service: 'manage' }])
      .replace(/<from>(\w+)</g, (_, name) => `<from>${from(name)}<`)
      .replace('>self<', `>${to}<`);
  it.each([
    ['a word behind them', affixed((name) => `${name}:net`, 'office:self'), []],
    ['a word around them', affixed((name) => `net(${name})`, 'address(office)'), []],
    ['a mark before each', affixed((name) => `@${name}`, 'self'), []],
    ['words for kinds before them', affixed((name) => `${name === 'guest' ? 'hall' : 'room'}:${name}`, 'self'), []],
    [
      'a mark before one, which may mean all others',
      affixed((name) => (name === 'office' ? `^${name}` : name), 'self'),
      ['way-in-unknown 8443 rule'],
    ],
  ])('%s', (_, xml, expected) => {
    expect(wayOf(xml)).toEqual(expected);
  });
});

// Common practice, no source: what the record around rules says holds for each of them.
describe('rules that lie in a record of networks', () => {
  const inside = (lists: string) => plain().replace(/<rules>[\s\S]*<\/rules>/, lists);
  const list = (rules: string) => `<rules>${rules}</rules>`;
  const rule = (id: string, service: string, act: string) =>
    `<rule><id>${id}</id><service>${service}</service><act>${act}</act></rule>`;
  /** @param service what the guests may reach besides pages. */
  const chains = (service: string) =>
    inside(
      `<chains>${Object.keys(nets)
        .map((net) => {
          const second = rule(`n-${net}`, net === 'guest' ? service : 'names', 'permit');
          return `<chain of="${net}">${list(rule(`p-${net}`, 'pages', 'permit') + second)}</chain>`;
        })
        .join('')}</chains>`,
    );
  const pairs = (to: string, last: string) =>
    inside(
      `<pairs>${[
        ['office', 'guest', rule('r0', 'pages', 'permit') + rule('r1', 'any', 'permit')],
        ['guest', 'cards', rule('r2', 'names', 'permit') + rule('r3', 'any', 'deny')],
        ['cards', 'cams', rule('r4', 'any', 'permit') + rule('r5', 'pages', 'deny')],
        ['cams', to, last],
      ]
        .map(([from, out, rules]) => `<pair><from>${from}</from><to>${out}</to>${list(rules!)}</pair>`)
        .join('')}</pairs>`,
    );
  it.each([
    ['pairs to other networks', pairs('office', rule('r6', 'any', 'permit')), ['way-in-no-rule 8443']],
    ['a pair to the same network', pairs('cams', rule('r6', 'any', 'permit')), ['way-in-unknown 8443 rule']],
    ['lists of the networks themselves', chains('names'), ['way-in-no-rule 8443']],
    ['a list of one of them that lets it to the page', chains('manage'), []],
    [
      'a list of one of them, and a page for another',
      chains('manage').replace('<port>8443</port></web>', '<port>8443</port><on>office</on></web>'),
      ['way-in-no-rule 8443'],
    ],
  ])('%s', (_, xml, expected) => {
    expect(wayOf(xml)).toEqual(expected);
  });
});

describe('where the page is told', () => {
  const told = (unit: string) => wayOf(plain().replace(/<unit>.*<\/unit>/, unit));
  it.each([
    [
      'a row among settings',
      '<settings><row><key>host</key><val>quay-gate</val></row><row><key>page_port</key><val>9443</val></row><row><key>zone</key><val>Europe/Dublin</val></row></settings>',
      ['way-in-no-rule 9443'],
    ],
    [
      'a section among others of one tag',
      '<part id="page"><tcp-port>9443</tcp-port><days>10</days></part><part id="clock"><zone>Europe/Dublin</zone><source>192.0.2.7</source></part><part id="host"><called>quay-gate</called></part>',
      ['way-in-no-rule 9443'],
    ],
    ['nowhere: the port of a tunnel', '<unit><web-tunnel><port>4500</port></web-tunnel></unit>', ['way-in-unknown 0']],
  ])('%s', (_, unit, expected) => {
    expect(told(unit)).toEqual(expected);
  });
});

// A yes or no that several kinds of record have, mostly a yes, is the dialect's own switch.
describe('a switch in words of no language', () => {
  const open = { lets: true, from: 'office', to: 'self', service: 'manage' } as const;
  const switched = (name: string) => {
    let at = 0;
    return plain([...rules, ...rules, open])
      .replaceAll('</rule>', () => `<${name}>${at++ === 12 ? 'no' : 'yes'}</${name}></rule>`)
      .replaceAll('</network>', '<brisk>yes</brisk></network>');
  };
  it('turns a rule off where other kinds of record have it, too', () => {
    expect(wayOf(switched('brisk'))).toEqual(['way-in-no-rule 8443']);
    expect(wayOf(switched('larn'))).toEqual(['way-in-unknown 8443 rule']);
  });
});
