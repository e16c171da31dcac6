import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

const times = (count: number, inside: (at: number) => string) =>
  Array.from({ length: count }, (_, at) => inside(at)).join('');
const nicks = ['quay', 'desk', 'berths', 'yard', 'slip', 'mast', 'crane', 'fuel'];

/** Networks that are counted, sets of addresses that are called by name, and rules. */
const box = (rules: readonly string[]) =>
  `<q>${times(8, (at) => `<net><no>${at + 1}</no><nick>${nicks[at]}</nick><ip>10.20.${at}.1/24</ip></net>`)}
  ${times(3, (at) => `<set><title>set.${nicks[at]}</title><has>10.20.${at}.7</has><has>10.20.${at}.8</has></set>`)}
  ${times(4, (at) => `<watch><no>${at + 1}</no><from>0${at + 5}:00</from><until>2${at}:00</until></watch>`)}
  ${[1, 3, 4].map((at) => `<pool><in>${at + 1}</in><low>10.20.${at}.100</low></pool>`).join('')}
  ${rules.map((from, at) => `<rule><no>${at + 1}</no><do>pass</do><in>${(at % 8) + 1}</in><from>${from}</from></rule>`).join('')}</q>`;

// Common practice, no source: a mark says of which kind the number or the name behind it is.
test('one mark before each number, names of other records beside them, one of which is gone', () => {
  const numbers = ['@1', '@2', '@3', '@4', '@5', '@6', '@7', '@8'];
  const { names, gone } = linksOf(box([...numbers, 'set.quay', 'set.bell', 'any']));
  expect(names.filter((name) => name.startsWith('rule/from'))).toEqual([
    ...[1, 2, 3, 4, 5, 6, 7, 8].map((no) => `rule/from ${no} -> net`),
    'rule/from set.quay -> set',
  ]);
  expect(gone).toEqual(['set.bell']);
});

test('hosts, which have a hardware address each, are no networks that are counted as they are', () => {
  const lease = (at: number) =>
    `<lease><no>${at + 1}</no><nick>dev${at}</nick><ip>10.20.${at}.20</ip><mac>02:00:5e:00:53:0${at}</mac></lease>`;
  const { names } = linksOf(box(['1', '2', '3', '4', '5', '6', '7', '8']).replace('</q>', `${times(8, lease)}</q>`));
  expect(names.filter((name) => name.startsWith('rule/in'))).toEqual(
    [1, 2, 3, 4, 5, 6, 7, 8].map((no) => `rule/in ${no} -> net`),
  );
});

// Port 587 of RFC 6409; what else stands there are ports, too.
test('ports beside lists of ports, one of them among the numbers of records', () => {
  const service = (at: number) =>
    `<door><no>${580 + at}</no><title>door ${at}</title><has>${80 + at}</has><has>${8080 + at}</has></door>`;
  const rule = (to: string, at: number) => `<rule><no>${560 + at}</no><do>pass</do><door>${to}</door></rule>`;
  const nets = times(8, (at) => `<net><no>${590 + at}</no><nick>${nicks[at]}</nick><ip>10.20.${at}.1/24</ip></net>`);
  const { names, gone } = linksOf(
    `<q>${nets}${times(5, service)}${['580', '53', '582', '9100', '587', '581', '583', '584'].map(rule).join('')}</q>`,
  );
  expect(names).toEqual([580, 582, 581, 583, 584].map((no) => `rule/door ${no} -> door`));
  expect(gone).toEqual([]);
});

test('what tells a few kinds of record apart and stands again and again in others is no identifier', () => {
  const pools = [2, 3, 5, 6].map(
    (no) => `<pool><via>${no}</via><low>10.20.${no - 1}.100</low><up>10.20.${no - 1}.199</up></pool>`,
  );
  const forwards = [1, 4].map((no) => `<forward><via>${no}</via><port>${8000 + no}</port></forward>`);
  const gates = ['mast', 'pier'].map((nick) => `<gate><nick>${nick}</nick><via>2</via></gate>`).join('');
  const text = box(Array.from({ length: 7 }, () => 'any')).replace(
    /<in>(\d)<\/in>/g,
    (_, no) => `<via>${(Number(no) % 6) + 1}</via>`,
  );
  const { names } = linksOf(
    text
      .replace(/<pool>.*<\/pool>/, pools.join(''))
      .replace('</q>', `${forwards.join('')}<page><via>1</via></page>${gates}</q>`),
  );
  expect(names.filter((name) => name.startsWith('pool/via'))).toEqual(
    [2, 3, 5, 6].map((no) => `pool/via ${no} -> net`),
  );
  expect(names.filter((name) => name.startsWith('rule/via'))).toHaveLength(7);
});

test('a mark before numbers that have a word behind them', () => {
  const rules = [
    '221_shore',
    '! 222_shore',
    '223_shore',
    '! 224_shore',
    '225_shore',
    '226_shore',
    'any',
    '221_shore',
    '223_shore',
  ];
  const { names } = linksOf(box(rules).replace(/<net><no>|<in>/g, '$&22'));
  expect(names.filter((name) => name.startsWith('rule/from'))).toEqual(
    [1, 2, 3, 4, 5, 6, 1, 3].map((no) => `rule/from 22${no} -> net`),
  );
});
