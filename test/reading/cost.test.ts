import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readMeaning } from '../../src/core/index.ts';
import { readXml } from '../../src/core/xml/read.ts';
import type { Tree } from '../../src/core/xml/tree.ts';
import { cpuTime } from '../tools/cpu-time.ts';

// All bounds are ratios within one run, so that they hold on any machine; the best of a few turns keeps noise out.
const corpus = new URL('../fixtures/corpus/a01.xml', import.meta.url);

function treeOf(text: string): Tree {
  const tree = readXml(text);
  if (!tree.ok) throw new Error(tree.trouble.code);
  return tree.value;
}

/** Milliseconds of the strict read and of the reading of its meaning. */
function costOf(text: string, turns: number): { strict: number; meaning: number } {
  const cost = { strict: Infinity, meaning: Infinity };
  for (let turn = 0; turn < turns; turn++) {
    let tree: Tree | null = null;
    cost.strict = Math.min(
      cost.strict,
      cpuTime(() => {
        tree = treeOf(text);
      }),
    );
    cost.meaning = Math.min(
      cost.meaning,
      cpuTime(() => readMeaning(tree!)),
    );
  }
  return cost;
}

/** A corpus file's rules over and over. */
function backupOf(mb: number): string {
  const one = readFileSync(corpus, 'latin1').replace('ISO-8859-1', 'UTF-8');
  const rules = /<policy>([\s\S]*)<\/policy>/.exec(one)![1]!;
  return one.replace(rules, () => rules.repeat(1 + Math.ceil((mb * 1e6 - one.length) / rules.length)));
}

const many = (count: number, make: (at: number) => string) =>
  Array.from({ length: count }, (_, at) => make(at)).join('');

describe('the cost of the reading', () => {
  test('1, 5, 10 and 20 MB: a small multiple of the strict read, and the same for all', { timeout: 180_000 }, () => {
    // The engine compiles what runs often; until then costs are not told apart from those of starting.
    costOf(backupOf(5), 3);
    const costs = [1, 5, 10, 20].map((mb) => ({ mb, ...costOf(backupOf(mb), 3) }));
    console.info(costs.map(({ mb, strict, meaning }) => `${mb} MB: ${(meaning / strict).toFixed(2)}`).join(', '));
    for (const { mb, strict, meaning } of costs) {
      // Certificates and keys, of which a file has few, weigh most in a small one. Larger ones come to about 2, which the
      // bench measures; the bound here is for a machine that does other work.
      const bound = mb < 5 ? 10 : 4;
      expect([mb, meaning / strict < bound]).toEqual([mb, true]);
    }
    const perMb = costs.map(({ mb, meaning }) => meaning / mb);
    // A quadratic step would make the last one four times the second.
    expect(perMb[3]! / perMb[1]!).toBeLessThan(3);
  });

  const files: readonly (readonly [string, number, (size: number) => string])[] = [
    ['distinct tags', 4000, (size) => `<c>${many(size, (at) => `<t${at}>v${at % 977}</t${at}>`)}</c>`],
    [
      'distinct tags that hold records',
      2000,
      (size) => `<c>${many(size, (at) => `<t${at}><a${at}>v${at}</a${at}><b>w${at}</b></t${at}>`)}</c>`,
    ],
    [
      'one long list whose records name each other',
      8000,
      (size) => `<c>${many(size, (at) => `<i><name>n${at}</name><peer>n${(at * 7919) % size}</peer></i>`)}</c>`,
    ],
    [
      'tables that share their names',
      60,
      (size) =>
        `<c>${many(size, (table) => `<t${table}>${many(60, (at) => `<row><name>n${at}</name><ref>n${(at * 7) % 60}</ref></row>`)}</t${table}>`)}</c>`,
    ],
    [
      'maps whose records hold lists',
      400,
      (size) =>
        `<c>${many(size, (at) => `<pool-${at}><from>10.0.0.9</from>${many(3, (lease) => `<lease><ip>10.${at % 250}.0.${lease}</ip><host>h${lease}</host></lease>`)}</pool-${at}>`)}</c>`,
    ],
    [
      'a list of dotted names that no two branches share',
      1000,
      (size) => `<c>${many(size, (at) => `<v><ident>dev.nic${at}.0.flow</ident><value>${at % 3}</value></v>`)}</c>`,
    ],
    [
      'distinct tags that name each other by paths',
      2000,
      (size) =>
        `<c>${many(size, (at) => `<p${at}><name>u${at}</name><by>/c/p${(at * 7) % size}</by><by>p${(at * 3) % size}:u${(at * 3) % size}</by></p${at}>`)}</c>`,
    ],
    [
      'lines under distinct tags',
      2000,
      (size) => `<c>${many(size, (at) => `<p${at}>set w${at} port eth${at} to x${at}; set y${at} z</p${at}>`)}</c>`,
    ],
    [
      'kinds of record that are counted',
      2000,
      (size) =>
        `<c>${many(size, (at) => ['a', 'b'].map((own) => `<row kind="k${at}"><name>${own}${at}</name><x>${own}${(at * 7) % size}</x></row>`).join(''))}</c>`,
    ],
    [
      'a long property list',
      4000,
      (size) => `<c>${many(size, (at) => `<p key="net.zone${at % 300}.item${at}.name">v${at}</p>`)}</c>`,
    ],
  ];
  test.each(files)('%s: four times as many cost about four times as much', { timeout: 120_000 }, (_, size, make) => {
    const small = costOf(make(size), 4).meaning;
    const large = costOf(make(size * 4), 3).meaning;
    // Sixteen where a step is quadratic.
    expect(large / small).toBeLessThan(10);
  });
});
