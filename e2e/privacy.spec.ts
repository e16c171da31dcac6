import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { expect, test } from 'playwright/test';
import { cell, download, goTo, open, plain, putOn } from './bench.ts';

test('nothing is asked of any other place in a whole job, and the page says so', async ({ page, baseURL }) => {
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.addInitScript(() => {
    const violated: string[] = [];
    Object.assign(window, { violated });
    document.addEventListener('securitypolicyviolation', (event) => violated.push(event.blockedURI));
  });
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await putOn(page, 'igb0', 'ix7');
  for (const sheet of ['Reading', 'Carry', 'Findings', 'Changes'] as const) await goTo(page, sheet);
  await page
    .getByRole('navigation', { name: 'Sections' })
    .getByRole('button', { name: /link-settings/ })
    .click();
  await page.getByRole('button', { name: 'Open the source, both sides' }).click();
  await expect(page.locator('.editor.modified')).toContainText('ix7', { timeout: 20_000 });
  await download(page);
  expect(asked.length).toBeGreaterThan(5);
  expect(asked.filter((address) => !address.startsWith(baseURL!) && !/^(?:blob|data):/.test(address))).toEqual([]);
  expect(await page.evaluate(() => (window as unknown as { violated: string[] }).violated)).toEqual([]);
  await expect(cell(page, 'Sent from this page')).toContainText('0 requests');
});

test('the policy stops what would be sent, from the page and from a worker, and the page counts it', async ({
  page,
}) => {
  let hits = 0;
  const canary = createServer((_request, response) => {
    hits++;
    response.setHeader('Access-Control-Allow-Origin', '*');
    response.end();
  });
  await new Promise<void>((resolve) => canary.listen(0, '127.0.0.1', resolve));
  const address = `http://127.0.0.1:${(canary.address() as AddressInfo).port}/`;
  try {
    // The canary does sing.
    expect((await fetch(address)).ok).toBe(true);
    expect(hits).toBe(1);
    await page.goto('/');
    await open(page, 'quay.xml', plain());
    await page.evaluate(async (to) => {
      await fetch(to).catch(() => {});
      navigator.sendBeacon(to, 'x');
      new Image().src = to;
      const source = `fetch(${JSON.stringify(to)}).catch(() => {}).then(() => postMessage(0))`;
      const worker = new Worker(URL.createObjectURL(new Blob([source])));
      await new Promise((resolve) => {
        worker.onmessage = resolve;
        worker.onerror = resolve;
      });
    }, address);
    await page.waitForTimeout(300);
    expect(hits).toBe(1);
    await page.getByRole('button', { name: 'How to check' }).click();
    await expect(page.getByRole('dialog')).toContainText(address.replace(/\/$/, ''));
  } finally {
    canary.close();
  }
});

test('the whole job works with the network cut', async ({ page, context }) => {
  await page.goto('/');
  // The page fetches its own parts ahead, shortly after it has loaded.
  await page.waitForTimeout(1600);
  await page.waitForLoadState('networkidle');
  await context.setOffline(true);
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await putOn(page, 'igb0', 'ix7');
  for (const sheet of ['Carry', 'Findings', 'Changes'] as const) await goTo(page, sheet);
  const { bytes } = await download(page);
  expect(bytes.toString('utf8')).toContain('ix7');
});

test('nothing of a file is kept in the browser', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).uncheck();
  await page.getByRole('button', { name: 'Night' }).click();
  const kept = await page.evaluate(async () => ({
    local: JSON.stringify({ ...localStorage }),
    session: JSON.stringify({ ...sessionStorage }),
    databases: (await indexedDB.databases()).length,
    caches: (await caches.keys()).length,
  }));
  expect(kept).toEqual({
    local: JSON.stringify({ 'carryover-settings': '{"theme":"dark","singleKeys":true}' }),
    session: '{}',
    databases: 0,
    caches: 0,
  });
  await page.reload();
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark');
});
