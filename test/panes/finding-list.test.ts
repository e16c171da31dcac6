import { describe, expect, it } from 'vitest';
import type { Finding, SubnetView } from '../../src/core/index.ts';
import { groupsOf, isShown, membersOf } from '../../src/panes/findings/finding-list.ts';
import { layMap, MOST, sizeWords } from '../../src/panes/findings/map-layout.ts';

const finding = (more: Partial<Finding> = {}): Finding => ({
  code: 'pool-outside',
  severity: 'warning',
  place: null,
  params: { first: '10.20.0.1', last: '10.20.0.9', role: 'cards', subnet: '10.20.0.0/24' },
  byPlan: false,
  ...more,
});

describe('the list of findings', () => {
  const aside = { reason: 'agreed', decision: 'set-aside x' };
  const repair = { code: 'trim', params: {}, decisions: [] } as const;
  const members = membersOf([
    finding(),
    finding(),
    finding({ aside }),
    finding({ byPlan: true, severity: 'error' }),
    finding({ code: 'blank-in-value', severity: 'note', params: { field: 'host' }, repairs: [repair] }),
  ]);

  it('tells findings apart that say the same', () => {
    expect(new Set(members.map(({ key }) => key)).size).toBe(members.length);
  });

  it('shows what was set aside apart from everything else', () => {
    const amounts = (['all', 'break', 'check', 'note', 'plan', 'mend', 'aside'] as const).map(
      (shown) => members.filter((member) => isShown(member, shown)).length,
    );
    expect(amounts).toEqual([4, 1, 2, 1, 1, 1, 1]);
  });

  it('groups by weight in the order of weights, and by kind as they come', () => {
    const names = (how: 'weight' | 'kind') =>
      groupsOf(members, how).map(({ name, members: { length } }) => [name, length]);
    expect(names('weight')).toEqual([
      ['Break', 1],
      ['Check', 3],
      ['Note', 1],
    ]);
    expect(names('kind')).toEqual([
      ['Addresses', 4],
      ['Values', 1],
    ]);
  });

  it('groups by role, those of none last', () => {
    const of = membersOf([finding({ params: {} }), finding({ role: 'cards' }), finding({ role: 'office' })]);
    expect(groupsOf(of, 'role').map(({ name, members: { length } }) => [name, length])).toEqual([
      ['cards', 1],
      ['office', 1],
      ['Of no one role', 1],
    ]);
  });

  it('searches words, places and reasons', () => {
    expect(members[2]!.text).toContain('agreed');
    expect(members[0]!.text).toContain('10.20.0.1');
  });
});

describe('the subnet map', () => {
  const net = (subnet: string, start = 0): SubnetView => {
    const length = Number(subnet.split('/')[1]);
    const version = subnet.includes(':') ? 6 : 4;
    const place = { path: '/a[1]', line: 1, start: 0, end: 1 };
    const rest = {
      pools: [],
      fixed: [],
      gateways: [],
      overlaps: [],
      enabled: true,
      own: { address: '', at: 0 },
      place,
    };
    return { role: subnet, subnet, version, length, start, ...rest };
  };

  it('sets networks of up to 256 addresses on one ruler, where they lie in it', () => {
    const { bars, ruler } = layMap([net('10.20.0.0/24'), net('10.20.1.128/25', 128), net('10.20.2.192/28', 192)], 600);
    expect(bars.map(({ width }) => width / ruler!.width)).toEqual([1, 1 / 2, 1 / 16]);
    expect(bars.map(({ x }) => (x - ruler!.x) / ruler!.width)).toEqual([0, 1 / 2, 3 / 4]);
    expect(bars.every(({ scale }) => scale === null)).toBe(true);
  });

  it('says the length of those that are longer, and of version 6', () => {
    const { bars, sixAt } = layMap([net('10.20.50.0/23'), net('2001:db8::/64')], 600);
    expect(bars.map(({ scale }) => scale)).toEqual(['512 addresses', '2^64 addresses']);
    expect(sixAt).toBeGreaterThan(bars[0]!.y);
    expect(sizeWords(net('10.0.0.1/32'))).toBe('one address');
    expect(layMap([net('2001:db8::/64')], 600).ruler).toBeNull();
  });

  it('has no two bars on one line, and leaves the rest to the table', () => {
    const many = Array.from({ length: MOST + 12 }, (_, at) => net(`10.${at}.0.0/24`));
    const { bars, rest } = layMap(many, 300);
    expect(rest).toBe(12);
    expect(new Set(bars.map(({ y }) => y)).size).toBe(MOST);
  });
});
