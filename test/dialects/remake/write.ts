// npx tsx test/dialects/remake/write.ts --from 1 --count 120 --out DIR [--held-back | --open]
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { isHeldBack } from '../generate.ts';
import { remake } from './index.ts';

const { values } = parseArgs({
  options: {
    from: { type: 'string', default: '1' },
    count: { type: 'string', default: '40' },
    out: { type: 'string' },
    'held-back': { type: 'boolean', default: false },
    open: { type: 'boolean', default: false },
  },
});
if (values.out === undefined) {
  console.error('say where to write: --out DIR');
  process.exit(1);
}
mkdirSync(values.out, { recursive: true });
const corpus = new URL('../../fixtures/corpus/', import.meta.url);
for (let seed = Number(values.from), done = 0; done < Number(values.count); seed++) {
  if (values['held-back'] && !isHeldBack(seed)) continue;
  if (values.open && isHeldBack(seed)) continue;
  done++;
  const source = `a${String(((seed + 5 * Math.floor(seed / 12)) % 12) + 1).padStart(2, '0')}`;
  const truth = JSON.parse(readFileSync(new URL(`${source}.truth.json`, corpus), 'utf8'));
  const made = remake(source, readFileSync(new URL(`${source}.xml`, corpus)), truth, seed);
  writeFileSync(join(values.out, `${made.name}.xml`), made.bytes);
  writeFileSync(join(values.out, `${made.name}.truth.json`), `${JSON.stringify(made.truth, null, 1)}\n`);
}
