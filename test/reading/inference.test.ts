import { describe, expect, test } from 'vitest';
import { readMeaning } from '../../src/core/reading/index.ts';
import type { Correction, Reading } from '../../src/core/reading/reading.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';
import { cpuTime } from '../tools/cpu-time.ts';

function read(text: string, corrections: readonly Correction[] = []) {
  const tree = readXml(text);
  if (!tree.ok) throw new Error(tree.trouble.code);
  return { tree: tree.value, reading: readMeaning(tree.value, { corrections }) };
}

/** `at value → to` for each reference. */
function links({ tree, reading }: ReturnType<typeof read>): string[] {
  return reading.references.map(({ site, value, to }) => `${sitePath(tree, site)} ${value} → ${pathOf(tree, to)}`);
}

const yard = `<yard>
  <berths><berth><id>north</id><line>q1</line></berth><berth><id>south</id><line>q2.7</line></berth>
    <berth><id>east</id><line>q2.9</line></berth></berths>
  <strands><strand><on>q2</on><no>7</no><as>q2.7</as></strand><strand><on>q2</on><no>9</no><as>q2.9</as></strand></strands>
  <orders><order><for>north</for><who>!south</who></order><order><for>south</for><who>east</who></order>
    <order><for>east</for><who>gone</who></order><order><for>north</for><who>!east</who></order></orders>
</yard>`;

describe('what is read from a document alone', () => {
  test('numbers of records whose names are one letter each', () => {
    const rows = (tag: string) =>
      [1, 2, 3, 4].map((id) => `<${tag}><id>${id}</id><name>${tag}-${id}</name></${tag}>`).join('');
    const orders = [1, 2, 1, 3].map((id) => `<o><berthid>${id}</berthid><says>go</says></o>`).join('');
    const { reading } = read(`<y><a>${rows('b')}</a><c>${rows('d')}</c><e>${rows('f')}</e><n>${orders}</n></y>`);
    expect(reading.collections.length).toBeGreaterThanOrEqual(4);
  });

  test('records called by their tag that hold one list', () => {
    const list = (tag: string, items: readonly string[]) =>
      `<${tag}>${items.map((item) => `<holds>${item}</holds>`).join('')}</${tag}>`;
    const lists = ['quay-a', 'quay-b', 'quay-c', 'quay-d'].map((tag) => list(tag, ['10.0.0.1', '10.0.0.2'])).join('');
    const orders = ['quay-a', 'quay-c', 'quay-d', 'quay-b'].map((to) => `<o><to>${to}</to></o>`).join('');
    const result = read(`<y><lists>${lists}</lists><orders>${orders}</orders></y>`);
    expect(links(result)).toContain('/y[1]/orders[1]/o[2]/to[1] quay-c → /y[1]/lists[1]/quay-c[1]');
  });

  test('records called by their tags that hold lists, though nothing names them', () => {
    const lease = (at: number) => `<lease><ip>10.0.0.${at}</ip><host>h${at}</host></lease>`;
    const pools = Array.from(
      { length: 30 },
      (_, at) => `<pier-${at}><from>10.${at}.0.9</from>${lease(at)}${lease(at + 1)}</pier-${at}>`,
    );
    const { reading } = read(`<y><pools>${pools.join('')}</pools></y>`);
    const found = reading.collections.find(({ key }) => key.by === 'tag');
    expect(found?.records.length).toBe(30);
  });

  test('records of one kind that only their names tell apart', () => {
    const { tree, reading } =
      read(`<y><calendars><calendar name="season"><months>4-10</months><remark>Open</remark></calendar>
      <calendar name="quiet"><hours>23:00-06:00</hours></calendar>
      <calendar name="office"><days>mon-sat</days><span>07:30-19:00</span></calendar></calendars></y>`);
    const calendars = reading.collections.filter(({ item }) => item === 'calendar');
    expect(calendars.map(({ parent, records }) => [pathOf(tree, parent), records.length])).toEqual([
      ['/y[1]/calendars[1]', 3],
    ]);
  });

  test('references, with operators left out of the value and its span', () => {
    const result = read(yard);
    expect(links(result)).toContain('/yard[1]/orders[1]/order[1]/for[1] north → /yard[1]/berths[1]/berth[1]');
    const negated = result.reading.references.find(({ value, from }) => value === 'south' && from === 1);
    expect(negated).toBeDefined();
  });

  // Common practice, no source.
  test('a word joined on to names with marks in them, in lists and behind another mark', () => {
    const names = ['east.quay', 'west.quay', 'fuel.quay', 'old.slip'];
    const berths = names.map((name, at) => `<berth><nick>${name}</nick><ip>10.0.${at}.1</ip></berth>`).join('');
    const who = [
      ...names.map((name) => `${name}_lan`),
      '!east.quay',
      'old.slip',
      'west.quay',
      'fuel.quay,west.quay_lan',
      '!old.slip_lan',
      'east.quay_lan',
      'old.slip_lan',
      'old.slip',
    ];
    const orders = who.map((one) => `<order><who>${one}</who></order>`).join('');
    const { reading } = read(`<y><berths>${berths}</berths><orders>${orders}</orders></y>`);
    expect(reading.references.map(({ value }) => value)).toEqual([
      ...names,
      'east.quay',
      'old.slip',
      'west.quay',
      'fuel.quay',
      'west.quay',
      'old.slip',
      'east.quay',
      'old.slip',
      'old.slip',
    ]);
    expect(reading.dangling).toEqual([]);
  });

  test('a name that is gone, and only that', () => {
    expect(read(yard).reading.dangling.map(({ value }) => value)).toEqual(['gone']);
  });

  test('ports by structure, with no name that an operating system gives', () => {
    const { reading } = read(yard);
    expect(reading.mentions.map(({ value, port }) => `${value} ${port}`).sort()).toEqual(
      ['q1 q1', 'q2 q2', 'q2 q2', 'q2.7 q2', 'q2.7 q2', 'q2.9 q2', 'q2.9 q2'].sort(),
    );
    expect(reading.bindings.map(({ role, port }) => `${role} ${port}`)).toEqual([
      'north q1',
      'south q2.7',
      'east q2.9',
    ]);
  });

  test('evidence is said in plain words', () => {
    const field = read(yard).reading.fields.find(({ name }) => name === 'order/for');
    expect(field?.evidence[0]).toMatch(/^\d+ of \d+ values exist in /);
  });

  test('spans count from the start of the value, white space before it included', () => {
    const { tree, reading } = read(yard.replace('<for>south</for>', '<for>\n  south\n</for>'));
    const place = reading.references.find(({ site }) => sitePath(tree, site) === '/yard[1]/orders[1]/order[2]/for[1]');
    expect(place).toMatchObject({ value: 'south', from: 3 });
  });
});

describe('what the technician says outweighs the reading', () => {
  test('a value is no port', () => {
    const values = ({ reading }: { reading: Reading }) => reading.mentions.map(({ value }) => value);
    expect(values(read(yard))).toContain('q1');
    expect(values(read(yard, [{ correct: 'not-a-port', value: 'q1' }]))).not.toContain('q1');
  });

  test('a field names nothing, or names what nothing else would show', () => {
    const template = '/yard/orders/order/for';
    const denied = read(yard, [
      { correct: 'field-names', template, collection: '/yard[1]/berths[1]/berth', yes: false },
    ]);
    expect(links(denied).some((link) => link.includes('/for['))).toBe(false);
    const numbers = yard.replaceAll('</order>', '<n>7</n></order>');
    const said: Correction = {
      correct: 'field-names',
      template: '/yard/orders/order/n',
      collection: '/yard[1]/strands[1]/strand',
      yes: true,
    };
    const key: Correction = {
      correct: 'key',
      collection: '/yard[1]/strands[1]/strand',
      key: { by: 'leaf', path: ['no'] },
    };
    expect(links(read(numbers)).some((link) => link.includes('/n['))).toBe(false);
    expect(links(read(numbers, [said, key])).filter((link) => link.includes('/n['))).toHaveLength(4);
  });
});

describe('any document', () => {
  const many = (count: number, one: (at: number) => string) =>
    Array.from({ length: count }, (_, at) => one(at)).join('');

  test.each<[string, string]>([
    ['one element', '<a/>'],
    ['one value', '<a>x</a>'],
    ['only attributes', '<a b="c"/>'],
    ['text between elements', `<p>${'some <b>bold</b> text '.repeat(500)}</p>`],
    ['ten thousand tags', `<r>${many(10_000, (at) => `<t${at}>${at}</t${at}>`)}</r>`],
    ['values that are all equal', `<r>${many(5000, () => '<e><a>x</a><b>x</b></e>')}</r>`],
    ['equal values under different tags', `<r>${many(3000, (at) => `<s${at}><n>x</n><m>x</m></s${at}>`)}</r>`],
    ['depth', `${'<a>'.repeat(900)}x${'</a>'.repeat(900)}`],
    [
      'names in other scripts',
      `<корень>${many(50, (at) => `<узел имя="值${at}"><ссылка>值${at % 7}</ссылка></узел>`)}</корень>`,
    ],
    ['only comments and CDATA', '<a><!-- b --><![CDATA[ c ]]></a>'],
  ])('is read without fault: %s', (_, text) => {
    expect(() => read(text)).not.toThrow();
  });

  test('costs no more than in proportion to its size', () => {
    const text = (count: number) =>
      `<r>${many(count, (at) => `<e><id>k${at}</id><up>k${at >> 1}</up><kind>${at % 5}</kind></e>`)}</r>`;
    const [small, large] = [text(2000), text(16_000)].map((one) => {
      const tree = readXml(one);
      if (!tree.ok) throw new Error(tree.trouble.code);
      return Math.min(...Array.from({ length: 3 }, () => cpuTime(() => readMeaning(tree.value))));
    });
    // Eight times the records; a quadratic step would take 64 times as long.
    expect(large! / small!).toBeLessThan(24);
  });
});
