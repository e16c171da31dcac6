// npx tsx test/dialects/write.ts --from 1 --count 40 --out DIR [--school NAME] [--meeting] [--held-back | --open]
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { generateDialect, isHeldBack } from './generate.ts';

const { values } = parseArgs({
  options: {
    from: { type: 'string', default: '1' },
    count: { type: 'string', default: '40' },
    out: { type: 'string' },
    school: { type: 'string' },
    meeting: { type: 'boolean', default: false },
    'held-back': { type: 'boolean', default: false },
    open: { type: 'boolean', default: false },
  },
});
if (values.out === undefined) {
  console.error('say where to write: --out DIR');
  process.exit(1);
}
mkdirSync(values.out, { recursive: true });
const tally = new Map<string, number>();
for (let seed = Number(values.from), done = 0; done < Number(values.count); seed++) {
  if (values['held-back'] && !isHeldBack(seed)) continue;
  if (values.open && isHeldBack(seed)) continue;
  done++;
  const g = generateDialect(seed, {
    ...(values.school === undefined ? {} : { school: values.school }),
    meeting: values.meeting,
  });
  const path = join(values.out, g.name);
  writeFileSync(`${path}.xml`, g.bytes);
  writeFileSync(`${path}.truth.json`, `${JSON.stringify(g.truth, null, 1)}\n`);
  writeFileSync(`${path}.moved.xml`, g.render(g.truth.moved).bytes);
  writeFileSync(`${path}.swapped.xml`, g.render(g.truth.swapped).bytes);
  tally.set(g.school, (tally.get(g.school) ?? 0) + 1);
}
console.log([...tally].map(([s, n]) => `${s} ${n}`).join(', '));
