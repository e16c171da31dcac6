import { expect, test } from 'playwright/test';
import { bytesIn, bytesOf, cell, download, goTo, marina, open, plain, putOn } from './bench.ts';

test('a corpus backup goes to other ports: the download is the expected file, byte for byte', async ({ page }) => {
  const { moved } = JSON.parse(bytesOf('test/fixtures/corpus/a01.truth.json').toString('utf8')) as {
    moved: Record<string, string>;
  };
  await page.goto('/');
  await open(page, 'a01.xml', bytesOf('test/fixtures/corpus/a01.xml'));
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  for (const [from, to] of Object.entries(moved)) await putOn(page, from, to);
  await expect(page.getByText(`${Object.keys(moved).length} of them moved.`)).toBeVisible();
  const { name, bytes } = await download(page);
  expect(name).toBe('a01.carried.xml');
  expect(bytes.equals(bytesOf('test/fixtures/corpus/a01.moved.xml'))).toBe(true);
});

test('ports change places in pairs, all at once', async ({ page }) => {
  const { swapped } = JSON.parse(bytesOf('test/fixtures/corpus/a05.truth.json').toString('utf8')) as {
    swapped: Record<string, string>;
  };
  await page.goto('/');
  await open(page, 'a05.xml', bytesOf('test/fixtures/corpus/a05.xml'));
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  const done = new Set<string>();
  for (const [from, to] of Object.entries(swapped)) {
    if (done.has(from)) continue;
    await page.getByLabel(`Change places: ${from} with`, { exact: true }).selectOption(to);
    await expect(cell(page, 'Your last decision')).toContainText(`Swap ${from} and ${to}`);
    done.add(from).add(to);
  }
  const { bytes } = await download(page);
  expect(bytes.equals(bytesOf('test/fixtures/corpus/a05.swapped.xml'))).toBe(true);
});

test('the marina: two ports move and a section stays behind, and nothing else changes', async ({ page }) => {
  // The expectation is made here by plain text, without the program: both names as whole values, and the lines of nacm.
  const text = marina().toString('utf8');
  const lines = text.split('\n');
  const from = lines.findIndex((line) => line.startsWith('  <nacm '));
  const to = lines.findIndex((line) => line.startsWith('  </nacm>'));
  expect(lines[from - 1]).not.toContain('-->');
  const expected = [...lines.slice(0, from), ...lines.slice(to + 1)]
    .join('\n')
    .replace(/>igc0</g, '>ix0<')
    .replace(/>igc2(\.\d+)?</g, (_, tag = '') => `>ix1${tag}<`);

  await page.goto('/');
  await open(page, 'kestrel-quay-netconf.xml', marina());
  await expect(page.getByText(/known from the standard/)).toBeVisible();
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await putOn(page, 'igc0', 'ix0');
  await putOn(page, 'igc2', 'ix1');
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry nacm', exact: true }).uncheck();
  await expect(cell(page, 'Your last decision')).toContainText('Leave out nacm');
  const { name, bytes } = await download(page);
  expect(name).not.toBe('kestrel-quay-netconf.xml');
  expect(bytes.toString('utf8')).toBe(expected);
});

test('what goes to the ledger adds up, and its double rule stands', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).uncheck();
  const ledger = cell(page, 'Ledger, records of the old file');
  await expect(ledger).toContainText('It balances');
  const numbers = (await ledger.locator('b').allTextContents()).map((text) => Number(text.replace(',', '')));
  expect(numbers).toHaveLength(4);
  expect(numbers[1]! + numbers[2]! + numbers[3]!).toBe(numbers[0]);
  expect(numbers[3]).toBeGreaterThan(0);
});

test('the account goes along as a table, with every record and no value', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).uncheck();
  const ledger = cell(page, 'Ledger, records of the old file');
  await expect(ledger.locator('b').nth(3)).not.toHaveText('0');
  const numbers = (await ledger.locator('b').allTextContents()).map((text) => Number(text.replace(',', '')));
  await goTo(page, 'Hand-over');
  await expect(page.getByText('Second reader agrees', { exact: true })).toBeVisible();
  const [got] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the account' }).click(),
  ]);
  expect(got.suggestedFilename()).toBe('quay.carried.account.csv');
  const table = (await bytesIn(got)).toString('utf8');
  const lines = table.trimEnd().split('\r\n').slice(1);
  expect(lines).toHaveLength(numbers[0]!);
  expect(lines.filter((line) => line.includes(',left out,1. Leave out radius'))).toHaveLength(numbers[3]!);
  expect(table).not.toContain('$6$');
});

test('one record stays behind, with its lines and nothing more', async ({ page }) => {
  const text = plain().toString('utf8');
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('button', { name: 'Records of kernel-values' }).click();
  const ticks = page.getByRole('checkbox', { name: 'Carry dev.igb.0.fc', exact: true });
  await ticks.uncheck();
  await expect(page.getByRole('checkbox', { name: 'Carry kernel-values', exact: true })).toHaveJSProperty(
    'indeterminate',
    true,
  );
  const { bytes } = await download(page);
  const lines = text.split('\n');
  const out = lines.filter((line) => line.includes('dev.igb.0.fc'));
  expect(out).toHaveLength(1);
  expect(bytes.toString('utf8')).toBe(lines.filter((line) => !line.includes('dev.igb.0.fc')).join('\n'));
});

test('without a decision the download is the old file, under another name', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  const { name, bytes } = await download(page);
  expect(name).toBe('quay.carried.xml');
  expect(bytes.equals(plain())).toBe(true);
  await page.getByLabel('File out').fill('quay.xml');
  await expect(page.getByText('That is the old file’s name. Give the result another.')).toBeVisible();
  await expect(page.getByRole('main').getByRole('button', { name: /^Download / })).toHaveAttribute(
    'aria-disabled',
    'true',
  );
});

test('two ports on one name block the download and say so', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  const field = page.getByRole('combobox', { name: 'New port for igb0', exact: true });
  await field.fill('igb1');
  await expect(page.getByText('igb1 goes there too.')).toBeVisible();
  await field.press('Enter');
  await expect(page.getByText('1 name would be given twice.')).toBeVisible();
  await goTo(page, 'Hand-over');
  await expect(page.getByRole('alert')).toContainText('Two ports would have one name');
  await expect(page.getByRole('main').getByRole('button', { name: /^Download/ })).toHaveAttribute(
    'aria-disabled',
    'true',
  );
});

test('findings that break something ask for a tick before the download', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry networks', exact: true }).uncheck();
  await goTo(page, 'Hand-over');
  const button = page.getByRole('main').getByRole('button', { name: /^Download/ });
  await expect(page.getByText('Second reader agrees', { exact: true })).toBeVisible();
  await expect(button).toHaveAttribute('aria-disabled', 'true');
  await page.getByRole('checkbox', { name: /^I have read/ }).check();
  await expect(button).toHaveAttribute('aria-disabled', 'false');
});

test('a finding leads to its place in the old file, secrets blacked out', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Findings');
  const place = page.getByRole('button', { name: /^line \d+/ }).first();
  const line = Number(/line (\d+)/.exec((await place.textContent())!)![1]);
  await place.click();
  const source = page.getByRole('region', { name: `The old file around line ${line}` });
  const written = plain().toString('utf8').split('\n')[line - 1]!.trim();
  await expect(source).toContainText(written.slice(0, 30));
  // The password hashes of the people are secrets: none is on the page, wherever it scrolls.
  await goTo(page, 'Reading');
  const people = page.getByRole('row').filter({ hasText: 'people' }).getByRole('button');
  await people.click();
  await expect(page.getByRole('region', { name: /^The old file around line/ })).toContainText('█');
  await expect(page.locator('body')).not.toContainText('$6$');
});

test('a file of one line: a place is shown within it', async ({ page }) => {
  const text = plain().toString('utf8').replace(/>\s+</g, '><').replaceAll('\n', ' ');
  await page.goto('/');
  await open(page, 'line.xml', Buffer.from(text));
  await goTo(page, 'Carry');
  await page.getByRole('button', { name: 'tunnels', exact: true }).click();
  await page.getByRole('button', { name: 'Source', exact: true }).click();
  await expect(page.locator('.around mark')).toContainText('<tunnels>');
  await page.getByRole('checkbox', { name: 'Carry tunnels', exact: true }).uncheck();
  const { bytes } = await download(page);
  const [from, to] = [text.indexOf('<tunnels>'), text.indexOf('</tunnels>') + '</tunnels>'.length];
  // Without line breaks nothing goes but the element itself.
  expect(bytes.toString('utf8')).toBe(text.slice(0, from) + text.slice(to));
});
