import { writeFileSync } from 'node:fs';
import { expect, test } from 'playwright/test';
import { cell, choose, goTo, large, open, plain } from './bench.ts';

test('a large file shows its progress and can be cancelled; nothing of it comes later', async ({ page }) => {
  await page.goto('/');
  await choose(page, 'Open a file…', 'large.xml', large(2000));
  const ruler = page.getByRole('progressbar', { name: 'Reading large.xml' });
  await expect(ruler).toBeVisible();
  await expect(ruler).toHaveAttribute('aria-valuenow', /\d+/);
  await page.getByRole('button', { name: 'Cancel' }).click();
  await expect(page.getByRole('heading', { level: 1 })).toContainText('Drop the old box’s backup');
  await open(page, 'quay.xml', plain());
  await page.waitForTimeout(3000);
  await expect(cell(page, 'Old box')).toContainText('quay.xml');
});

test('cancelling keeps the file that was open, with its decisions', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).uncheck();
  await choose(page, 'Open…', 'large.xml', large(2000));
  await page.getByRole('button', { name: /Open it with an empty plan/ }).click();
  await expect(page.getByRole('progressbar')).toBeVisible();
  await page.getByRole('button', { name: 'Cancel' }).click();
  await expect(cell(page, 'Old box')).toContainText('quay.xml');
  const radius = page.getByRole('checkbox', { name: 'Carry radius', exact: true });
  await expect(radius).not.toBeChecked();
  await radius.check();
  await expect(cell(page, 'Ledger')).toContainText('0 left out');
});

test('the page stays quick while a large file is read', async ({ page }, info) => {
  // From the disk, as a person would: bytes handed over by the test itself are unpacked on the page's thread.
  const path = info.outputPath('large.xml');
  writeFileSync(path, large(1000));
  await page.goto('/');
  await page.evaluate(() => {
    const longest = { ms: 0 };
    Object.assign(window, { longest });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) longest.ms = Math.max(longest.ms, entry.duration);
    }).observe({ type: 'longtask' });
  });
  const [dialog] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open a file…' }).click(),
  ]);
  await dialog.setFiles(path);
  await expect(page.getByRole('heading', { name: 'Reading', exact: true })).toBeVisible({ timeout: 50_000 });
  const longest = await page.evaluate(() => (window as unknown as { longest: { ms: number } }).longest.ms);
  // Reading takes seconds; on the page's own thread it would be one task as long.
  expect(longest).toBeLessThan(500);
});
