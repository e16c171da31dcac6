import { existsSync, readFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'playwright/test';

const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** The browser that `node .ci/ensure.mjs --browser` found. */
function chromiumPath(): string {
  const note = join(root, 'node_modules', '.chromium-path');
  if (!existsSync(note)) throw new Error('No browser is known yet. Run: node .ci/ensure.mjs --browser');
  return readFileSync(note, 'utf8');
}

/** A port that is free now. The test processes read this file again and must agree, so it is kept in the environment. */
async function ownPort(): Promise<string> {
  process.env.CARRYOVER_E2E_PORT ??= await new Promise<string>((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => resolve(String(typeof address === 'object' && address?.port)));
    });
  });
  return process.env.CARRYOVER_E2E_PORT;
}

const port = await ownPort();
const baseURL = `http://127.0.0.1:${port}/`;

export default defineConfig({
  testDir: '.',
  outputDir: '../test-results',
  // Two cores: one browser at a time, or timings mean nothing.
  workers: 1,
  // A busy machine changes the order of things by chance; what fails twice has failed, what fails once is listed as flaky.
  retries: 1,
  forbidOnly: Boolean(process.env.CI),
  timeout: 60_000,
  expect: { timeout: 10_000 },
  reporter: 'list',
  use: {
    baseURL,
    browserName: 'chromium',
    viewport: { width: 1440, height: 900 },
    trace: 'retain-on-failure',
    launchOptions: {
      executablePath: chromiumPath(),
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
  // The built page, served as `npm start` serves it.
  webServer: {
    command: `npx vite preview --host 127.0.0.1 --port ${port} --strictPort`,
    cwd: root,
    url: baseURL,
    reuseExistingServer: false,
    timeout: 60_000,
  },
});
