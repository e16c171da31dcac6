// Checks the types of every realm, each against its own globals, and shows the errors of all.
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const realms = ['.', 'src/core', 'src/worker', 'src/cli', 'test', 'e2e'];
const tsc = join(root, 'node_modules', 'typescript', 'bin', 'tsc');

let failed = 0;
for (const realm of realms) {
  const { status } = spawnSync(process.execPath, [tsc, '-p', realm], { cwd: root, stdio: 'inherit' });
  console.log(`${status === 0 ? 'ok    ' : 'FAILED'} types of ${realm}`);
  if (status !== 0) failed++;
}
process.exit(failed ? 1 : 0);
