import { describe, expect, test } from 'vitest';
import { build, type Decision, type Finding, planOf } from '../../src/core/index.ts';
import { bundlesOf, repairsForAll } from '../../src/panes/findings/bundles.ts';
import { bundleRepairWords, bundleWords } from '../../src/words/bundles.ts';
import { plain } from '../../src/words/said.ts';
import { findingsOf, fixtures, type Opened, opened, openedFile } from '../checks/support.ts';

const long: Decision = { kind: 'rename-port', from: 'eth2', to: 'enp101s0f3np1' };
const longNames = (file: Opened, plan: readonly Decision[], receiver?: readonly string[]) =>
  findingsOf(file, receiver ? { receiver } : {}, planOf(plan)).filter(({ code }) => code === 'port-name-long');
const offered = ({ repairs = [] }: Finding) => repairs.find(({ code }) => code === 'shorten-name');
const textOf = ({ backup, reading }: Opened, plan: readonly Decision[]): string => {
  const built = build(backup, reading, planOf(plan));
  if (!built.ok) throw new Error(JSON.stringify(built.trouble));
  return new TextDecoder('latin1').decode(built.value.bytes);
};

// IFNAMSIZ: 15 characters and the closing zero (linux/if.h, net/if.h), from memory. The names are counted by hand.
describe('a tagged device whose name is too long after its port is called otherwise', () => {
  const file = openedFile(`${fixtures}corpus/a01.xml`);
  const found = longNames(file, [long]);

  test('each is offered a shorter one, in all places that name it', () => {
    expect(found.map((finding) => [finding.params.port, offered(finding)?.params])).toEqual(
      ['30', '40', '50', '201', '202', '203', '204'].map((tag) => [
        `enp101s0f3np1.${tag}`,
        { to: `enp101s0f3.${tag}`, count: 2 },
      ]),
    );
  });

  test('after that it is gone, the others are as they were, and nothing is new', () => {
    const others = (plan: readonly Decision[]) =>
      findingsOf(file, {}, planOf(plan))
        .map(({ code, params, place }) => `${code} ${place?.path} ${JSON.stringify(params)}`)
        .filter((one) => !one.includes('enp101s0f3np1.201'));
    const { decisions } = offered(found[3]!)!;
    expect(others([long, ...decisions])).toEqual(others([long]));
    expect(longNames(file, [long, ...decisions])).toHaveLength(6);
    // The text has the device at its role and at its record, and nowhere else.
    const before = textOf(file, [long]);
    expect(before.split('enp101s0f3np1.201')).toHaveLength(3);
    expect(textOf(file, [long, ...decisions])).toBe(before.replaceAll('enp101s0f3np1.201', 'enp101s0f3.201'));
  });

  test('all of them are one row and one step', () => {
    const [bundle, ...rest] = bundlesOf(found, (finding) => finding);
    expect(rest).toEqual([]);
    expect(plain(bundleWords(bundle!.items))).toBe(
      '7 devices would have a name of more than 15 characters: “enp101s0f3np1.30”, “enp101s0f3np1.40”, “enp101s0f3np1.50” and 4 more.',
    );
    const all = repairsForAll(found).find(({ code }) => code === 'shorten-name')!;
    expect(plain(bundleRepairWords(all, found))).toBe('Call them “enp101s0f3.30” and so on');
    expect(longNames(file, [long, ...all.decisions])).toEqual([]);
  });

  test('a name that is taken is not offered', () => {
    const taken = longNames(file, [long], ['enp101s0f3.30', 'eth0']);
    expect(offered(taken[0]!)?.params.to).toBe('vlan30');
    const both = longNames(file, [long], ['enp101s0f3.30', 'vlan30']);
    expect(offered(both[0]!)).toBeUndefined();
    expect(both[0]!.repairs!.map(({ code }) => code)).toEqual(['take-back']);
  });
});

test('none is offered where no record says what the device is called', () => {
  // The name at the role alone says the port and the VLAN.
  const tags = [3030, 3040, 3050, 3060];
  const nets = tags.map(
    (tag, at) => `<net><name>n${tag}</name><on>eth2.${tag}</on><address>10.20.${at}.1/24</address></net>`,
  );
  const records = tags.map((tag) => `<tag><port>eth2</port><number>${tag}</number></tag>`);
  const found = longNames(opened(`<box><nets>${nets.join('')}</nets><tags>${records.join('')}</tags></box>`), [long]);
  expect(found).toHaveLength(4);
  for (const finding of found) expect(finding.repairs!.map(({ code }) => code)).toEqual(['take-back']);
});

// Names of Linux and FreeBSD have no slash (from memory): a box with such names is none of theirs, and has a limit of its own.
test.each([
  ['with slashes', '1/0/2', 'copper-2/2'],
  ['that were longer before', 'fibre-to-the-mainland2', 'enp101s0f3np1'],
])('nothing is said of names %s', (_, from, to) => {
  const tags = [10, 20, 30, 40];
  const nets = tags.map(
    (tag) => `<net><name>n${tag}</name><on>${from}.${tag}</on><address>10.20.${tag}.1/24</address></net>`,
  );
  const records = tags.map(
    (tag) => `<tag><port>${from}</port><number>${tag}</number><device>${from}.${tag}</device></tag>`,
  );
  const file = opened(`<box><nets>${nets.join('')}</nets><tags>${records.join('')}</tags></box>`);
  const plan: Decision = { kind: 'rename-port', from, to: `${to}-of-pier-two` };
  const renamed = textOf(file, [plan]);
  expect(renamed).toContain(`${to}-of-pier-two.10`);
  expect(longNames(file, [plan])).toEqual([]);
});
