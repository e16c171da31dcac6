import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

// Common practice, no source: tables count their records from 1, rules have two sides, routes go through a hop
// (RFC 8349, 5: a route has a destination prefix and a next hop). Addresses of RFC 1918 and RFC 5737.

const counted = (list: string, item: string, records: readonly string[]) =>
  `<${list}>${records.map((inner, at) => `<${item}><no>${at + 1}</no>${inner}</${item}>`).join('')}</${list}>`;
const nets = ['sea', 'office', 'berths', 'cameras', 'crane'].map(
  (name, at) => `<called>${name}</called><ip>10.20.${at}.1</ip><size>24</size>`,
);
const hosts = Array.from(
  { length: 12 },
  (_, at) =>
    `<called>host${at}</called><member>10.20.${at % 5}.${at + 10}</member><member>10.20.${at % 5}.${at + 90}</member>`,
);
const plans = ['day', 'night'].map((name) => `<called>${name}</called><when>08:00-20:00</when>`);
const desks = ['front', 'back'].map((name) => `<called>${name}</called><seats>4</seats>`);
const exits = ['fibre', 'mast'].map(
  (name, at) => `<called>${name}</called><ip>10.20.${at}.254</ip><zone>${at + 1}</zone>`,
);

function rules(origin: readonly string[], receiver: readonly string[]): string {
  return Array.from({ length: 20 }, (_, at) => {
    const sides = `<origin>${origin[at] ?? `10.20.${at % 5}.0/24`}</origin><receiver>${receiver[at] ?? 'any'}</receiver>`;
    return `<rule><zone>${(at % 5) + 1}</zone>${sides}<do>pass</do></rule>`;
  }).join('');
}

const box = (...parts: string[]) =>
  linksOf(
    `<box>${counted('nets', 'net', nets)}${counted('hosts', 'host', hosts)}${counted('plans', 'plan', plans)}${counted('desks', 'desk', desks)}${parts.join('')}</box>`,
  );

test('both sides of a rule name records of one kind: what is sure for the one holds for the other', () => {
  const receiver = ['2', '12', '9', '10.20.1.9', '192.0.2.80'];
  const { names, gone } = box(`<rules>${rules(['4', '31'], receiver)}</rules>`);
  expect(names).toContain('rule/receiver 12 -> host');
  expect(names).toContain('rule/origin 4 -> host');
  expect(gone).toEqual(['31']);
});

test('routes go through records that have an address', () => {
  const ways = ['192.0.2.128/25', '198.51.100.128/25', '10.200.0.0/16'].map(
    (prefix, at) => `<route><to>${prefix}</to><through>${[1, 2, 8][at]}</through></route>`,
  );
  const { names, gone } = box(
    counted('exits', 'exit', exits),
    `<rules>${rules([], [])}</rules><routes>${ways.join('')}</routes>`,
  );
  expect(names).toContain('route/through 2 -> exit');
  expect(gone).toEqual(['8']);
});

test('of two routes that go through a numbered record, one is gone', () => {
  const ways = ['192.0.2.128/25', '198.51.100.128/25'].map(
    (prefix, at) => `<route><to>${prefix}</to><through>${[1, 24][at]}</through></route>`,
  );
  const { names, gone } = box(
    counted('exits', 'exit', exits),
    `<rules>${rules([], [])}</rules><routes>${ways.join('')}</routes>`,
  );
  expect(names).toContain('route/through 1 -> exit');
  expect(gone).toEqual(['24']);
});

test('what stands before names that have a word behind them stands before one without it, too', () => {
  const nets = ['sea', 'office', 'berths'].map(
    (name, at) => `<net name="${name}" on="igb${at}" ip="10.20.${at}.1/24"/>`,
  );
  const hosts = ['printer', 'camera'].map((name, at) => `<host name="${name}"><ip>10.20.1.${at + 9}</ip></host>`);
  const sides = [
    'sea net',
    'not office net',
    'berths net',
    'not sea net',
    'office net',
    'printer',
    'camera',
    'any',
    'any',
    'camera',
  ];
  const policy = (from: string) => `<pass><via>sea</via><from>${from}</from><to>10.20.9.0/24</to></pass>`;
  const { gone } = linksOf(
    `<gate><nets>${nets.join('')}</nets><hosts>${hosts.join('')}</hosts><policy>${[...sides, 'not plotter'].map(policy).join('')}</policy></gate>`,
  );
  expect(gone).toEqual(['plotter']);
});

test('where both sides name networks, the numbers beside these names on the one are of the records that the other numbers', () => {
  const zones = ['sea', 'office', 'berths', 'cameras', 'crane'].map(
    (name, at) => `<zone><called>${name}</called><on>igb${at}</on><ip>10.20.${at}.1</ip></zone>`,
  );
  const origin = ['sea', 'office', 'berths', 'cameras', 'crane', 'sea', '11', '31', 'office', 'berths'];
  const receiver = ['2', '12', '9', 'sea', '192.0.2.80', '2', 'any', 'any', 'any', 'any'];
  const policy = origin.map(
    (from, at) => `<rule><origin>${from}</origin><receiver>${receiver[at]}</receiver><do>pass</do></rule>`,
  );
  const { names, gone } = linksOf(
    `<box><zones>${zones.join('')}</zones>${counted('hosts', 'host', hosts)}${counted('plans', 'plan', plans)}${counted('desks', 'desk', desks)}<rules>${policy.join('')}</rules></box>`,
  );
  expect(names).toContain('rule/receiver 12 -> host');
  expect(names).toContain('rule/origin 11 -> host');
  expect(gone).toEqual(['31']);
});

test('a mark and a blank before a name that is not there are none of it', () => {
  const hosts = ['printer', 'camera', 'till'].map(
    (name, at) => `<host name="${name}"><ip>10.20.1.${at + 9}</ip></host>`,
  );
  const sides = ['printer', 'camera', 'any', 'till', 'printer', 'any', 'camera', '! plotter'];
  const policy = sides.map((from) => `<pass><from>${from}</from><to>10.20.9.0/24</to></pass>`);
  const { gone } = linksOf(`<gate><hosts>${hosts.join('')}</hosts><policy>${policy.join('')}</policy></gate>`);
  expect(gone).toEqual(['plotter']);
});
