import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright';
import { build, preview } from 'vite';
import type { CoreCost } from './bench-core.ts';

/**
 * `npm run -s bench [-- MB...]`: opens the production page in headless Chromium and measures there. Times are compared
 * with the browser's own DOMParser on the same text, in the same page, turn about, so that the ratio holds on any
 * machine; what the reading and the findings cost is told in strict reads of the same text, all in one page, after the
 * worker's practice. A table for people; the last line is one JSON object.
 */
const root = fileURLToPath(new URL('../..', import.meta.url));
const PAIRS = 5;
/** Milliseconds. */
const WARM_UP = 3000;
const MOST = 60_000;
const asked = process.argv
  .slice(2)
  .map(Number)
  .filter((mb) => mb > 0);
const sizes = asked.length ? asked : [1, 5, 10, 20];

interface Row extends CoreCost {
  mb: number;
  open_ms: number;
  domparser_ms: number;
  ratio: number;
  decision_ms: number;
  reread_ms: number;
  longest_task_ms: number;
  heap_mb: number;
}

const quiet = { root, logLevel: 'silent' } as const;
await build(quiet);
const core = await bundled();
const server = await preview({ ...quiet, preview: { port: 0, host: '127.0.0.1' } });
const address = server.resolvedUrls!.local[0]!;
const browser = await launch();
try {
  const load = await firstLoad(browser);
  const rows: Row[] = [];
  for (const mb of sizes) {
    rows.push(await measure(browser, mb));
    show(rows.at(-1)!);
  }
  console.log(JSON.stringify({ sizes: rows, ...load }));
} finally {
  await browser.close();
  await server.close();
}

/** Path of a script that puts `bench-core.ts`, built as the page is, under the name `core`. */
async function bundled(): Promise<string> {
  const outDir = `${root}node_modules/.bench`;
  const lib = { entry: `${root}src/cli/bench-core.ts`, name: 'core', formats: ['iife' as const], fileName: 'core' };
  // As in the worker, whatever a module brings along stays.
  const rolldownOptions = { treeshake: { moduleSideEffects: true } };
  await build({ ...quiet, publicDir: false, build: { lib, outDir, emptyOutDir: true, rolldownOptions } });
  return `${outDir}/core.iife.js`;
}

/** In a page of its own: work is timed in calls, not by what a page shows. */
async function costOf(text: string): Promise<CoreCost> {
  const page = await browser.newPage();
  await page.addScriptTag({ path: core });
  const practice = readFileSync(`${root}public/examples/kestrel-quay-plain.xml`, 'utf8');
  const cost = await page.evaluate(
    ([content, first]) =>
      (globalThis as unknown as { core: typeof import('./bench-core.ts') }).core.coreCost(content, first),
    [text, practice] as const,
  );
  await page.close();
  return cost;
}

function launch(): Promise<Browser> {
  const noted = `${root}node_modules/.chromium-path`;
  const executablePath =
    process.env.CHROMIUM_PATH ?? (existsSync(noted) ? readFileSync(noted, 'utf8').trim() : '/usr/bin/chromium');
  const args = [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    '--no-first-run',
  ];
  return chromium.launch({ executablePath, args });
}

/** What the browser fetches before a file can be dropped, compressed as a server would, and whether Monaco is in it. */
async function firstLoad(browser: Browser) {
  const { gzipSync } = await import('node:zlib');
  const page = await browser.newPage();
  const bodies: Promise<number>[] = [];
  let monaco = false;
  page.on('response', (response) => {
    bodies.push(
      response.body().then((body) => {
        if (/monaco|editor\.main/i.test(response.url()) || body.includes('vs/editor')) monaco = true;
        return /\.woff2$/.test(response.url()) ? body.length : gzipSync(body, { level: 9 }).length;
      }),
    );
  });
  await page.goto(address);
  await page.getByRole('button', { name: /open a file/i }).waitFor();
  await page.evaluate(() => document.fonts.ready);
  const early = bodies.length;
  const bytes = (await Promise.all(bodies.slice(0, early))).reduce((sum, size) => sum + size, 0);
  await page.close();
  return { first_load_kb: Math.round(bytes / 1024), monaco_loaded_at_start: monaco };
}

/** A backup of about the given size: a corpus file's rules again and again, each with a key and a label of its own. */
function backupOf(mb: number): string {
  const one = readFileSync(`${root}test/fixtures/corpus/a01.xml`, 'latin1').replace('ISO-8859-1', 'UTF-8');
  const rules = /<policy>([\s\S]*)<\/policy>/.exec(one)![1]!;
  const parts = [rules];
  for (let size = one.length; size < mb * 1e6; size += parts.at(-1)!.length) {
    const copy = parts.length;
    const key = copy.toString(16).padStart(8, '0');
    parts.push(rules.replace(/(<rule id=")\w{8}/g, `$1${key}`).replaceAll('</label>', ` (${copy})</label>`));
  }
  return one.replace(rules, () => parts.join(''));
}

async function measure(browser: Browser, mb: number): Promise<Row> {
  const text = backupOf(mb);
  const pairs: { open: number; parser: number }[] = [];
  const row = { decision_ms: 0, reread_ms: 0, longest_task_ms: 0, heap_mb: 0 };
  for (let turn = 0; turn < PAIRS; turn++) {
    const page = await browser.newPage();
    // The script runner wraps functions in a helper of its own, which the page does not have.
    await page.addInitScript('globalThis.__name = (wrapped) => wrapped');
    await page.goto(address);
    await page.getByRole('button', { name: /open a file/i }).waitFor();
    // The page fetches its sheets and its reader once it is quiet; a person takes longer to find the file.
    await page.waitForTimeout(WARM_UP);
    const parserFirst = turn % 2 === 0 ? await page.evaluate(timeDomParser, text) : null;
    const { took, longest } = await openInPage(page, text);
    pairs.push({ open: took, parser: parserFirst ?? (await page.evaluate(timeDomParser, text)) });
    row.longest_task_ms = Math.max(row.longest_task_ms, round(longest));
    if (turn === PAIRS - 1) {
      row.decision_ms = round(await renameOnePort(page));
      row.reread_ms = round(await buildResult(page));
      row.heap_mb = round((await heapOf(page)) / 2 ** 20);
    }
    await page.close();
  }
  return {
    mb,
    open_ms: round(median(pairs.map(({ open }) => open))),
    domparser_ms: round(median(pairs.map(({ parser }) => parser))),
    ratio: Number(median(pairs.map(({ open, parser }) => open / parser)).toFixed(3)),
    ...row,
    ...(await costOf(text)),
  };
}

/** Milliseconds that the browser's own parser needs for the text; runs in the page. */
function timeDomParser(text: string): number {
  const begun = performance.now();
  const parsed = new DOMParser().parseFromString(text, 'application/xml');
  const took = performance.now() - begun;
  if (parsed.querySelector('parsererror')) throw new Error('the browser refused the document');
  return took;
}

/** Drops the text as a file; from the bytes handed over until the page has shown sections, reading and findings. */
function openInPage(page: Page, text: string): Promise<{ took: number; longest: number }> {
  return page.evaluate(async (content) => {
    const file = new File([content], 'kqm-gw1.xml', { type: 'text/xml' });
    const data = new DataTransfer();
    data.items.add(file);
    const tasks: PerformanceEntry[] = [];
    const watch = new PerformanceObserver((list) => tasks.push(...list.getEntries()));
    watch.observe({ type: 'longtask' });
    const begun = performance.now();
    document.body.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    const shown = await new Promise<number>((resolve, reject) => {
      const look = () => {
        if (document.querySelector('[role=alert]'))
          reject(new Error(document.querySelector('[role=alert]')!.textContent ?? ''));
        if (document.querySelector('h1')?.textContent !== 'Reading') return;
        seen.disconnect();
        requestAnimationFrame(() => setTimeout(() => resolve(performance.now())));
      };
      const seen = new MutationObserver(look);
      seen.observe(document.body, { childList: true, subtree: true, characterData: true });
    });
    await new Promise((resolve) => setTimeout(resolve, 100));
    tasks.push(...watch.takeRecords());
    const own = tasks.filter(({ startTime }) => startTime >= begun && startTime <= shown);
    return { took: shown - begun, longest: Math.max(0, ...own.map(({ duration }) => duration)) };
  }, text);
}

async function sheet(page: Page, name: string): Promise<void> {
  const tabs = page.getByRole('navigation', { name: 'Sheets' });
  await tabs.getByRole('button', { name: new RegExp(`^\\d ${name}`) }).click();
}

/** From changing one port until the ledger and the findings that follow are shown. */
async function renameOnePort(page: Page): Promise<number> {
  await sheet(page, 'Ports');
  await page.getByText('Table', { exact: true }).click();
  const field = page.getByRole('combobox', { name: 'New port for eth0', exact: true });
  await field.fill('ixl7');
  const [took] = await Promise.all([startWatch(page, '.account-sum', 'changed'), field.press('Enter')]);
  return took;
}

/** From asking for the result until both readers have agreed on it. */
async function buildResult(page: Page): Promise<number> {
  const [took] = await Promise.all([
    startWatch(page, 'main', 'Second reader agrees(?!: being)'),
    sheet(page, 'Hand-over'),
  ]);
  return took;
}

/** Milliseconds from now until the text of the given place of the page is another one and matches. */
function startWatch(page: Page, place: string, pattern: string): Promise<number> {
  return page.evaluate(
    ([where, wanted, most]) => {
      if (!document.querySelector(where)) throw new Error(`nothing is at ${where}`);
      const begun = performance.now();
      const text = () => document.querySelector(where)?.textContent ?? '';
      const before = text();
      return new Promise<number>((resolve, reject) => {
        setTimeout(() => reject(new Error(`${where} did not come to say ${wanted}`)), most);
        const seen = new MutationObserver(() => {
          if (text() === before || !new RegExp(wanted).test(text())) return;
          seen.disconnect();
          requestAnimationFrame(() => resolve(performance.now() - begun));
        });
        seen.observe(document.body, { childList: true, subtree: true, characterData: true });
      });
    },
    [place, pattern, MOST] as const,
  );
}

/** Bytes in use on the heaps of the page and of its workers. */
async function heapOf(page: Page): Promise<number> {
  const session = await page.context().newCDPSession(page);
  let sum = ((await session.send('Runtime.getHeapUsage')) as { usedSize: number }).usedSize;
  const answers = new Map<string, (size: number) => void>();
  session.on('Target.receivedMessageFromTarget', ({ sessionId, message }) => {
    const { result } = JSON.parse(message) as { result?: { usedSize?: number } };
    answers.get(sessionId)?.(result?.usedSize ?? 0);
  });
  const attached: string[] = [];
  session.on('Target.attachedToTarget', ({ sessionId }) => attached.push(sessionId));
  await session.send('Target.setAutoAttach', { autoAttach: true, waitForDebuggerOnStart: false, flatten: false });
  for (const sessionId of attached) {
    const size = new Promise<number>((resolve) => answers.set(sessionId, resolve));
    await session.send('Target.sendMessageToTarget', {
      sessionId,
      message: JSON.stringify({ id: 1, method: 'Runtime.getHeapUsage' }),
    });
    sum += await size;
  }
  return sum;
}

function median(values: number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}

function show(row: Row): void {
  if (row.mb === sizes[0])
    console.log(
      Object.keys(row)
        .map((key) => key.padStart(16))
        .join(''),
    );
  console.log(
    Object.values(row)
      .map((value) => String(value).padStart(16))
      .join(''),
  );
}
