import { describe, expect, test } from 'vitest';
import { build, type Decision, decide, emptyPlan, loadPlan, planOf, planView, savePlan } from '../../src/core/index.ts';
import { decisionName } from '../../src/words/decisions.ts';
import { result } from '../corpus/files.ts';
import { chance, corpusFiles, dialects, type File, netconf, open, someSeeds } from './files.ts';
import { elements } from './outline.ts';

const text = (file: File, ...decisions: Decision[]) => Buffer.from(result(file, planOf(decisions))).toString('utf8');
const refusal = (file: File, ...decisions: Decision[]) => {
  const built = build(file.backup, file.reading, planOf(decisions));
  return built.ok ? null : built.trouble.code;
};

const box = open(`<box>
  <lists note="kept by hand">
    <!-- the tills -->
    <list><name>tills</name><mode>deny</mode><items><item><host>a1</host></item><item><host>a2</host></item></items></list>
    <list><name>desks</name><mode>deny</mode><items><item><host>b1</host></item><item><host>b2</host></item></items></list>
  </lists>
  <uses><use><list>tills</list></use><use><list>desks</list></use><use><list>tills</list></use></uses>
</box>
`);
const lists = '/box[1]/lists[1]';

describe('leave out and keep', () => {
  test('a record kept inside a section that is left out leaves the section as a shell', () => {
    const kept = text(box, { kind: 'leave-out', path: lists }, { kind: 'keep', path: `${lists}/list[2]` });
    expect(kept).toContain('<lists note="kept by hand">');
    expect(kept).not.toContain('<name>tills');
    expect(kept).not.toContain('the tills');
    expect(kept).toContain('<list><name>desks</name><mode>deny</mode><items><item><host>b1</host>');
  });

  test('a nested record kept keeps what the record around it says of itself, and no other nested one', () => {
    const kept = text(
      box,
      { kind: 'leave-out', path: lists },
      { kind: 'keep', path: `${lists}/list[2]/items[1]/item[2]` },
    );
    expect(kept).toContain(
      '<list><name>desks</name><mode>deny</mode><items><item><host>b2</host></item></items></list>',
    );
    expect(kept).not.toContain('b1');
    expect(kept).not.toContain('<name>tills');
  });

  test('all records of a collection go by one decision, and one of them may stay', () => {
    const all: Decision = { kind: 'leave-out', path: `${lists}/list[*]` };
    expect(text(box, all)).not.toContain('<name>');
    expect(text(box, all)).toContain('<lists note="kept by hand">');
    const one = text(box, all, { kind: 'keep', path: `${lists}/list[1]` });
    expect(one).toContain('tills</name>');
    expect(one).not.toContain('desks</name>');
  });

  test('keep and leave-out of one place exclude each other, the later counts', () => {
    const path = `${lists}/list[1]`;
    const plan = decide(decide(emptyPlan, { kind: 'leave-out', path }), { kind: 'keep', path });
    expect(plan.decisions).toEqual([{ kind: 'keep', path }]);
    expect(result(box, plan)).toEqual(result(box, emptyPlan));
  });

  test('a place that is not there is said', () => {
    expect(refusal(box, { kind: 'keep', path: '/box[1]/lists[1]/list[7]' })).toBe('plan-keep-missing');
    expect(refusal(box, { kind: 'leave-out', path: '/box[1]/lists[1]/other[*]' })).toBe('plan-path-missing');
    expect(refusal(box, { kind: 'leave-out', path: '/box[1]' })).toBe('plan-root-left-out');
  });

  test('a plan of eight thousand records is compiled without walking them for each', () => {
    const rows = Array.from({ length: 8000 }, (_, at) => `<row><id>r${at}</id><v>${at}</v></row>`);
    const many = open(`<box><rows>${rows.join('\n')}</rows></box>`);
    const plan = planOf(rows.map((_, at): Decision => ({ kind: 'leave-out', path: `/box[1]/rows[1]/row[${at + 1}]` })));
    const before = performance.now();
    expect(planView(many.backup, many.reading, plan).ledger.balances).toBe(true);
    // Generous, as other work shares the machine; walking the siblings for each path would take minutes.
    expect(performance.now() - before).toBeLessThan(10_000);
  });
});

describe('laws of leave out, keep and set-value', () => {
  const files: File[] = [netconf(), ...corpusFiles(['a02', 'a05', 'a11']), ...dialects(someSeeds(10))];

  test.each(files)('any order, two readers agree, the ledger balances: $name', (file) => {
    const rng = chance(`decisions ${file.name}`);
    const { tree } = file.backup;
    const places = elements(tree);
    const leaves = places.filter(({ leaf, node }) => leaf && node !== tree.root);
    for (let run = 0; run < 12; run++) {
      const decisions: Decision[] = [];
      for (let k = rng.int(0, 5); k > 0; k--)
        decisions.push({ kind: 'leave-out', path: rng.pick(places.slice(1)).path });
      for (let k = rng.int(0, 5); k > 0; k--) decisions.push({ kind: 'keep', path: rng.pick(places).path });
      for (let k = rng.int(0, 3); k > 0; k--) {
        const value = rng.pick(['', 'x', ' <a> & "b"', "]]>'", 'Größe\nzwei', 'τιμή']);
        decisions.push({ kind: 'set-value', path: rng.pick(leaves).path, value });
      }
      const plan = planOf(decisions);
      const one = build(file.backup, file.reading, plan);
      const other = build(file.backup, file.reading, planOf([...plan.decisions].reverse()));
      if (!one.ok) {
        // A value with a letter that neither the encoding nor a CDATA section can hold.
        expect(one.trouble.code).toBe('character-does-not-fit');
        continue;
      }
      expect(other.ok && Buffer.compare(one.value.bytes, other.value.bytes)).toBe(0);
      const { ledger } = planView(file.backup, file.reading, plan);
      expect(ledger.balances).toBe(true);
      expect(loadPlan(savePlan(plan))).toMatchObject({ ok: true, value: { troubles: [] } });
    }
  });
});

describe('set a value', () => {
  test('all of it, escaped as its place asks', () => {
    const path = '/box[1]/uses[1]/use[1]/list[1]';
    expect(text(box, { kind: 'set-value', path, value: 'a < b & c' })).toContain('<list>a &lt; b &amp; c</list>');
    expect(text(box, { kind: 'set-value', path: `${lists}/@note`, value: 'say "no"' })).toContain(
      'note="say &quot;no&quot;"',
    );
  });

  test('one item of a list, and a port beside it is renamed all the same', () => {
    const nets = (names: string) => `<net><id>${names}</id><port>eth${names.length}</port></net>`;
    const file = open(
      `<box><nets>${['lan', 'cams', 'berth', 'guests'].map(nets).join('')}</nets><rules>${['lan,cams', 'cams,berth', 'guests', 'berth,lan,guests', 'lan'].map((at) => `<rule><nets>${at}</nets><act>ok</act></rule>`).join('')}</rules></box>`,
    );
    const path = '/box[1]/rules[1]/rule[4]/nets[1]';
    expect(text(file, { kind: 'set-value', path, was: 'lan', value: 'cams' })).toContain('berth,cams,guests');
    expect(refusal(file, { kind: 'set-value', path, was: 'cams', value: 'lan' })).toBe('plan-value-other');
    const both = text(
      file,
      { kind: 'set-value', path, was: 'lan', value: 'x' },
      { kind: 'set-value', path, was: 'berth', value: 'y' },
    );
    expect(both).toContain('y,x,guests');
  });

  test('a whole value outweighs the renaming of a port in it', () => {
    const [file] = corpusFiles(['a01']) as [File];
    const { site } = file.reading.bindings[0]!;
    const path = elements(file.backup.tree).find(({ node }) => node === site.node)!.path;
    const out = text(
      file,
      { kind: 'rename-port', from: 'eth0', to: 'ix7' },
      { kind: 'set-value', path, value: 'eth9' },
    );
    expect(out).toContain('<port>eth9</port>');
    expect(out).not.toContain('<port>ix7</port>');
  });

  test('refuses what has no value, no place, or cannot be XML', () => {
    const set = (path: string, value = 'x') => refusal(box, { kind: 'set-value', path, value });
    expect(set('/box[1]/lists[1]')).toBe('value-holds-elements');
    expect(set('/box[1]/lists[1]/@other')).toBe('plan-value-missing');
    expect(set('/box[1]/uses[1]/use[1]/list[1]', 'a\u0000b')).toBe('value-not-allowed');
    expect(set('/box[1]/lists[1]/name()', 'two words')).toBe('name-not-allowed');
    expect(set('/box[1]/lists[1]/name()', 'sets')).toBe(null);
  });

  test('is not said where it may be a secret', () => {
    const [file] = corpusFiles(['a01']) as [File];
    const secret = file.reading.secrets.find(({ site }) => site.attr === -1)!;
    const path = elements(file.backup.tree).find(({ node }) => node === secret.site.node)!.path;
    const decision: Decision = { kind: 'set-value', path, value: 'fender-oak-tide-9' };
    const view = planView(file.backup, file.reading, planOf([decision]));
    expect(view.changes).toHaveLength(1);
    expect(JSON.stringify(view)).not.toContain('fender-oak');
    expect(decisionName(decision)).not.toContain('fender');
  });
});
