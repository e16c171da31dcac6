import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { admission } from '../../src/core/checks/way-in/admitting.ts';
import { planOf } from '../../src/core/index.ts';
import { LEAVES } from '../dialects/pki.ts';
import { chance } from './chance.ts';
import { findingsOf, fixtures, opened, sentence } from './support.ts';

interface Rule {
  readonly lets: boolean;
  readonly via: string;
  readonly proto: string | null;
  readonly when: string | null;
  /** Literals; null for anything. */
  readonly from: string | null;
  readonly to: string | null;
  readonly port: string | null;
}

/** Names of the columns and of what stands for anything. */
interface Words {
  readonly via: string;
  readonly from: string;
  readonly to: string;
  readonly port: string;
}
const tcp = { proto: 'tcp', when: null } as const;
const english: Words = { via: 'at', from: 'source', to: 'destination', port: 'port' };
/** Words of no language: only what stands there can tell. */
const none: Words = { via: 'ombrel', from: 'tarvik', to: 'selpon', port: 'port' };

const nets: Record<string, readonly [address: string, length: number]> = {
  office: ['10.20.0.1', 24],
  guest: ['10.20.50.1', 23],
  cards: ['10.20.30.1', 24],
};

const box = (rules: readonly Rule[], { via, from, to, port }: Words) => `<box>
<places>
${Object.entries(nets)
  .map(
    ([name, [address, length]], at) =>
      `<place><name>${name}</name><on>eth${at}</on><address>${address}</address><prefix>${length}</prefix></place>`,
  )
  .join('\n')}
</places>
<unit><page><port>8443</port><web><console-port>8443</console-port><listens>office</listens></web></page></unit>
<calendar><hours><name>season</name><span>08:00-20:00</span></hours><hours><name>night</name><span>20:00-08:00</span></hours></calendar>
<rules>
${rules
  .map(
    (rule, at) =>
      `<rule id="r${at}"><do>${rule.lets ? 'pass' : 'stop'}</do><${via}>${rule.via}</${via}>${rule.proto ? `<proto>${rule.proto}</proto>` : ''}${rule.when ? `<hours>${rule.when}</hours>` : ''}${rule.from ? `<${from}>${rule.from}</${from}>` : ''}${rule.to ? `<${to}>${rule.to}</${to}>` : ''}${rule.port ? `<${port}>${rule.port}</${port}>` : ''}</rule>`,
  )
  .join('\n')}
</rules>
</box>
`;

const inside = (literal: string | null, address: number): boolean => {
  if (literal === null) return true;
  const [text, length = '32'] = literal.split('/');
  const bits = text!.split('.').reduce((sum, octet) => sum * 256 + Number(octet), 0);
  const size = 2 ** (32 - Number(length));
  return Math.floor(bits / size) === Math.floor(address / size);
};
const number = (address: string) => address.split('.').reduce((sum, octet) => sum * 256 + Number(octet), 0);

/** Packet by packet, by rules of the test itself: whether anybody of the network reaches the box on the port. */
function reaches(rules: readonly Rule[], role: string, port: number, isNow: boolean): boolean {
  const [own, length] = nets[role]!;
  const first = Math.floor(number(own) / 2 ** (32 - length)) * 2 ** (32 - length);
  for (let host = 2; host < 2 ** (32 - length) - 1; host++) {
    const rule = rules.find(
      (one) =>
        one.via === role &&
        (one.proto === null || one.proto === 'tcp') &&
        (one.when === null || isNow) &&
        inside(one.from, first + host) &&
        inside(one.to, number(own)) &&
        (one.port === null || Number(one.port) === port),
    );
    if (rule?.lets) return true;
  }
  return false;
}

function invented(next: (below: number) => number): Rule[] {
  const names = Object.keys(nets);
  const pick = <T>(list: readonly T[]): T => list[next(list.length)]!;
  return Array.from({ length: 6 + next(6) }, () => {
    const via = pick(names);
    const [address, length] = nets[via]!;
    const net = `${address.replace(/\d+$/, '0')}/${length}`;
    const half = `${address.replace(/\d+$/, '128')}/25`;
    return {
      lets: next(3) > 0,
      via,
      from: pick([net, half, address.replace(/\d+$/, '77'), net, null]),
      to: pick([null, '192.0.2.0/24', '198.51.100.7', address, net, '203.0.113.80', '192.0.2.0/24']),
      port: pick([null, '443', '8443', '8443', '80']),
      proto: pick(['tcp', 'tcp', 'tcp', 'udp', null]),
      when: pick([null, null, null, null, null, null, 'season', 'night']),
    };
  });
}

// The judge is the walk above: the first rule that fits decides (common practice, no source).
describe.each([
  ['words of the trade', english],
  ['words of no language', none],
])('who reaches the box, against every packet: %s', (_, words) => {
  it('what is sure is so; what is said to be shut is shut', () => {
    const next = chance(words === english ? 11 : 12);
    const told = { yes: 0, no: 0, untold: 0 };
    for (let round = 0; round < 150; round++) {
      const rules = invented(next);
      const { reading } = opened(box(rules, words));
      for (const [index, { name }] of reading.roles.entries()) {
        const { rule, maybe } = admission(reading, index, 8443, () => true);
        // Hours are told by the clock, which is not asked: what is sure holds at any time.
        const [inside, outside] = [true, false].map((isNow) => reaches(rules, name, 8443, isNow));
        const truth = rule ? inside && outside : inside || outside;
        if (rule) {
          told.yes++;
          expect([round, name, truth, JSON.stringify(rules)]).toEqual([round, name, true, JSON.stringify(rules)]);
        } else if (!maybe) {
          told.no++;
          expect([round, name, truth, JSON.stringify(rules)]).toEqual([round, name, false, JSON.stringify(rules)]);
        } else told.untold++;
      }
    }
    expect(told.yes).toBeGreaterThan(20);
    expect(told.no).toBeGreaterThan(20);
  });
});

describe('what is not understood is said to be untold', () => {
  const rules: Rule[] = [
    { ...tcp, lets: true, via: 'office', from: '10.20.0.0/24', to: '192.0.2.0/24', port: '443' },
    { ...tcp, lets: true, via: 'guest', from: '10.20.50.0/23', to: '192.0.2.0/24', port: '443' },
    { ...tcp, lets: true, via: 'cards', from: '10.20.30.0/24', to: '198.51.100.7', port: '443' },
    { ...tcp, lets: true, via: 'office', from: '10.20.0.0/24', to: null, port: null },
  ];
  const last = '/box[1]/rules[1]/rule[4]';
  const without = (text: string) =>
    findingsOf(opened(text), {}, planOf([{ kind: 'leave-out', path: last }]))
      .filter(({ code }) => code.startsWith('way-in-'))
      .map((finding) => `${finding.code}: ${sentence(finding)}`);
  const text = box(rules, english);
  /** As the rule that is left out, with its port. */
  const open = '<rule id="r9"><do>pass</do><at>office</at><proto>tcp</proto><port>8443</port></rule>';
  const sure: Rule = { ...tcp, lets: true, via: 'office', from: null, to: null, port: '8443' };
  const counted = (xml: string, value: (at: number) => number) => {
    let at = 0;
    return xml.replaceAll('</rule>', () => `<larn>${value(at++)}</larn></rule>`);
  };
  const words = 'way-in-lost: You left out the rule “r3”: it let “office” reach the box’s own page on port 8443';
  const more = (rule: string) => text.replace('</rules>', `${rule}\n</rules>`);

  it.each([
    ['no other rule', text, `${words}, and no other rule is known to.`],
    // Common practice, no source: a page that names no network listens on all.
    [
      'no other rule, and a page that names no network',
      text.replace('<listens>office</listens>', ''),
      `${words}, and no other rule is known to.`,
    ],
    [
      'a rule for a place that nobody knows',
      more(
        '<rule id="r9"><do>pass</do><at>office</at><proto>tcp</proto><destination>whole-quay</destination><port>8443</port></rule>',
      ),
      `${words}, and whether another rule does could not be told.`,
    ],
    [
      'a rule with a condition that nobody knows',
      more('<rule id="r9"><do>pass</do><at>office</at><proto>tcp</proto><port>8443</port><tide>7</tide></rule>'),
      `${words}, and whether another rule does could not be told.`,
    ],
    [
      'a rule of another protocol',
      more('<rule id="r9"><do>pass</do><at>office</at><proto>udp</proto></rule>'),
      `${words}, and no other rule is known to.`,
    ],
    [
      'a rule that holds at some hours only',
      more('<rule id="r9"><do>pass</do><at>office</at><proto>tcp</proto><hours>night</hours></rule>'),
      `${words}, and whether another rule does could not be told.`,
    ],
    [
      'a rule that leaves its port empty',
      more('<rule id="r9"><do>pass</do><at>office</at><proto>tcp</proto><port/></rule>'),
      undefined,
    ],
    // Common practice, no source: few rules are turned round or switched off, so what most say alike does neither.
    [
      'a rule with a mark of no language that most bear alike',
      more(open).replaceAll('</rule>', '<brisk>yes</brisk></rule>'),
      undefined,
    ],
    [
      'a rule with a mark of no language that it bears alone',
      text
        .replaceAll('</rule>', '<brisk>yes</brisk></rule>')
        .replace('</rules>', `${open.replace('</rule>', '<brisk>no</brisk></rule>')}</rules>`),
      `${words}, and whether another rule does could not be told.`,
    ],
    ['a rule with a number that counts the rules', counted(more(open), (at) => 10 * at), undefined],
    [
      'a rule with a number that counts nothing',
      counted(more(open), (at) => [7, 3, 9, 3, 8][at]!),
      'way-in-unknown: Whether a rule lets “office” reach the box’s own page on port 8443 could not be told: “r0” may, and not all that it says is understood.',
    ],
    ['a port under a name of no language', box([...rules, sure], { ...english, port: 'selpon' }), undefined],
    [
      'a number under a name of no language that is no port',
      box(
        [...rules, sure].map((rule, at) => ({ ...rule, port: `${150 + 90 * (at % 3)}` })),
        { ...english, port: 'selpon' },
      ),
      'way-in-unknown: Whether a rule lets “office” reach the box’s own page on port 8443 could not be told: “r0” may, and not all that it says is understood.',
    ],
    [
      'a rule of another port with such a condition',
      more(
        '<rule id="r9"><do>pass</do><at>office</at><proto>tcp</proto><port>80</port><when><tide>high</tide></when></rule>',
      ),
      `${words}, and no other rule is known to.`,
    ],
  ])('%s', (_, xml, expected) => {
    expect(without(xml)).toEqual(expected === undefined ? [] : [expected]);
  });
});

/** What is said of the way in where a plan touches nothing that leads there. */
function wayOf(xml: string | Uint8Array): string[] {
  const plan = planOf([{ kind: 'rename-port', from: 'none0', to: 'none1' }]);
  return findingsOf(opened(xml), {}, plan)
    .filter(({ code }) => code.startsWith('way-in-'))
    .map((finding) => `${finding.code} ${finding.place?.line ?? 0}: ${sentence(finding)}`);
}

// Read by eye in each file: the page has a certificate, listens on 8443 and names no network; 28 rules, of which those that
// let anyone in name the ports 53, 80, 443, 554, 8554, 1194, 22 or 9100, and the one without a port shuts the guests out.
describe('the way in, in each corpus file', () => {
  it.each([
    ['a01', 14],
    ['a02', 14],
    ['a03', 14],
    ['a04', 15],
    ['a05', 15],
    ['a06', 14],
    ['a07', 14],
    ['a08', 15],
    ['a09', 14],
    ['a10', 15],
    ['a11', 15],
    ['a12', 16],
  ])('%s: the page on line %i, and no rule for it', (name, line) => {
    expect(wayOf(readFileSync(`${fixtures}corpus/${name}.xml`))).toEqual([
      `way-in-no-rule ${line}: No rule lets anyone reach the box’s own page on port 8443, neither before your plan nor after it.`,
    ]);
  });
});

describe('what is missing for an answer is said', () => {
  const file = box([], english).replace('<listens>office</listens>', '');
  it.each([
    [
      'no list of rules',
      file,
      'way-in-unknown 7: No list of rules was found, so who may reach the box’s own page on port 8443 could not be told.',
    ],
    [
      'no setting of a page or a shell',
      box([{ ...tcp, lets: true, via: 'office', from: null, to: null, port: null }], english).replace(
        /<unit>.*<\/unit>/,
        '',
      ),
      'way-in-unknown 0: No setting was found that says on which port the box’s own page or shell listens.',
    ],
  ])('%s', (_, xml, expected) => {
    expect(wayOf(xml)).toEqual([expected]);
  });
});

// Common practice, no source: a page of a box has a certificate and a port of its own, and names no network; a service that
// has both names one, or another box.
describe('a page in words of no language', () => {
  const settings = (inside: string) => `<box>
<ombrel><tarvik>${inside}</tarvik></ombrel>
<quilt>${LEAVES.map(({ cert }, at) => `<holm><id>c${at}</id><text>${cert}</text></holm>`).join('')}</quilt>
</box>`;
  const named = (inside: string) => wayOf(settings(inside)).map((one) => one.replace(/,? so who .*$/, ''));

  it.each([
    ['its port beside a certificate', '<selpon>c0</selpon><brisk>8443</brisk><larn>10</larn>', 2],
    ['the usual port', '<selpon>c0</selpon><brisk>443</brisk><larn>10</larn>', 2],
  ])('%s', (_, inside, line) => {
    expect(named(inside)).toEqual([`way-in-unknown ${line}: No list of rules was found`]);
  });

  it.each([
    ['a tunnel', '<selpon>c0</selpon><brisk>1194</brisk><larn>10.99.0.0/24</larn>'],
    ['another box', '<selpon>c0</selpon><brisk>6514</brisk><larn>log.kestrelquay.example</larn>'],
    ['two ports', '<selpon>c0</selpon><brisk>8443</brisk><larn>8080</larn>'],
    ['no certificate', '<selpon>gone</selpon><brisk>8443</brisk><larn>10</larn>'],
  ])('none where there is %s', (_, inside) => {
    expect(named(inside).map((one) => one.slice(0, 40))).toEqual(['way-in-unknown 0: No setting was found t']);
  });
});
