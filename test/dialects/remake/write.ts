// npx tsx test/dialects/remake/write.ts --from 1 --count 120 --out DIR [--held-back | --open]
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { isHeldBack } from '../generate.ts';
import { remadeCorpus } from './corpus.ts';

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
for (let seed = Number(values.from), done = 0; done < Number(values.count); seed++) {
  if (values['held-back'] && !isHeldBack(seed)) continue;
  if (values.open && isHeldBack(seed)) continue;
  done++;
  const made = remadeCorpus(seed);
  writeFileSync(join(values.out, `${made.name}.xml`), made.bytes);
  writeFileSync(join(values.out, `${made.name}.truth.json`), `${JSON.stringify(made.truth, null, 1)}\n`);
}
