import { expect, test } from 'playwright/test';
import { cell, choose, download, drop, goTo, marina, open, plain } from './bench.ts';

test('says what it is for, and that nothing leaves', async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Drop the old box’s backup anywhere on this page.');
  await expect(page.getByText('Nothing leaves this computer.')).toBeVisible();
  for (const name of ['Reading', 'Ports', 'Carry', 'Findings', 'Changes', 'Hand-over']) {
    await expect(page.getByRole('button', { name: new RegExp(name) })).toBeDisabled();
  }
});

for (const [choice, file, bytes] of [
  ['The marina in the IETF’s own format', 'kestrel-quay-netconf.xml', marina],
  ['The marina in a format nobody told us about', 'kestrel-quay-plain.xml', plain],
] as const) {
  test(`an example in two clicks: ${file}, exact to the byte`, async ({ page }) => {
    await page.goto('/');
    await page.getByRole('button', { name: 'Try the example marina' }).click();
    await page.getByRole('button', { name: choice }).click();
    await expect(page.getByRole('heading', { name: 'Reading', exact: true })).toBeVisible();
    await expect(cell(page, 'Old box')).toContainText(file);
    const got = await download(page);
    expect(got.bytes.equals(bytes())).toBe(true);
  });
}

test('takes a drop anywhere, with a word while it hangs over the page', async ({ page }) => {
  await page.goto('/');
  await drop(page, [{ name: 'quay.xml', text: plain().toString('utf8') }], false);
  await expect(page.getByText('Let go to open it here.')).toBeVisible();
  await page.dispatchEvent('body', 'dragleave', {
    dataTransfer: await page.evaluateHandle(() => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([''], 'x'));
      return transfer;
    }),
  });
  await expect(page.getByText('Let go to open it here.')).toBeHidden();
  await drop(page, [{ name: 'quay.xml', text: plain().toString('utf8') }]);
  await expect(page.getByRole('heading', { name: 'Reading', exact: true })).toBeVisible();
});

test('asks which one when several files are dropped', async ({ page }) => {
  await page.goto('/');
  await drop(page, [
    { name: 'notes.xml', text: '<notes/>' },
    { name: 'quay.xml', text: plain().toString('utf8') },
  ]);
  await expect(page.getByRole('dialog')).toContainText('You handed over 2 files');
  await page.getByRole('button', { name: /quay\.xml/ }).click();
  await expect(cell(page, 'Old box')).toContainText('quay.xml');
});

test('a drop on an open file asks first, and keeps what is said to be kept', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).uncheck();
  const again = [{ name: 'quay-later.xml', text: plain().toString('utf8') }];

  await drop(page, again);
  await page.getByRole('button', { name: 'Stay with quay.xml' }).click();
  await expect(cell(page, 'Old box')).toContainText('quay.xml');
  await expect(cell(page, 'Your last decision')).toContainText('Leave out radius');

  await drop(page, again);
  await page.getByRole('button', { name: /Open it and keep your decision/ }).click();
  await expect(cell(page, 'Old box')).toContainText('quay-later.xml');
  await expect(page.getByRole('checkbox', { name: 'Carry radius', exact: true })).not.toBeChecked();

  await drop(page, again);
  await page.getByRole('button', { name: /Open it with an empty plan/ }).click();
  await expect(page.getByRole('checkbox', { name: 'Carry radius', exact: true })).toBeChecked();
});

test('a refused file leaves the open one as it was', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).uncheck();
  await drop(page, [{ name: 'broken.xml', text: '<a><b></a>' }]);
  await page.getByRole('button', { name: /Open it and keep your decision/ }).click();
  await expect(page.getByRole('alert')).toContainText('This file breaks a rule of XML');
  await page.getByRole('button', { name: 'Back to quay.xml' }).click();
  await expect(page.getByRole('checkbox', { name: 'Carry radius', exact: true })).not.toBeChecked();
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).check();
  const { bytes } = await download(page);
  expect(bytes.equals(plain())).toBe(true);
});

test('opens pasted text from the dialog', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Paste text' }).click();
  await page.getByLabel('Text, with its first line').fill(plain().toString('utf8'));
  await page.getByRole('button', { name: 'Open this text' }).click();
  await expect(cell(page, 'Old box')).toContainText('pasted-text.xml');
});

test('opens what is pasted anywhere outside of fields, and reads its letters right', async ({ page }) => {
  await page.goto('/');
  const paste = (text: string) =>
    page.evaluate((given) => {
      const clipboardData = new DataTransfer();
      clipboardData.setData('text/plain', given);
      document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
    }, text);
  // As text the file is no longer in the encoding that its first line names.
  await paste('<?xml version="1.0" encoding="ISO-8859-1"?>\n<site><name>Café</name><name>Bar</name></site>\n');
  await expect(page.getByRole('heading', { name: 'Reading', exact: true })).toBeVisible();
  await goTo(page, 'Reading');
  await page
    .getByRole('main')
    .getByRole('button', { name: /look at/ })
    .first()
    .click();
  await expect(page.getByRole('region', { name: /^The old file/ })).toContainText('Café');
});

test('a text in a field is pasted there and opens nothing', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('searchbox').evaluate((field) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData('text/plain', '<other/>');
    field.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
  });
  await expect(page.getByRole('dialog')).toBeHidden();
  await expect(cell(page, 'Old box')).toContainText('quay.xml');
});

test('warns before the page is left only where decisions would be lost', async ({ page }) => {
  let asked = 0;
  page.on('dialog', (dialog) => {
    asked++;
    dialog.accept();
  });
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await page.reload();
  expect(asked).toBe(0);
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).uncheck();
  await page.reload();
  expect(asked).toBe(1);
});

test('the first load stays small', async ({ page }) => {
  const { gzipSync } = await import('node:zlib');
  const parts: Promise<number>[] = [];
  page.on('response', (response) => {
    parts.push(response.body().then((body) => (/\.woff2$/.test(response.url()) ? body.length : gzipSync(body).length)));
  });
  await page.goto('/');
  await page.evaluate(() => document.fonts.ready);
  await expect(page.getByRole('button', { name: 'Open a file…' })).toBeVisible();
  const total = (await Promise.all([...parts])).reduce((sum, one) => sum + one, 0);
  expect(total).toBeGreaterThan(60_000);
  expect(total).toBeLessThan(200_000);
});

test('choosing nothing changes nothing', async ({ page }) => {
  await page.goto('/');
  const [dialog] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open a file…' }).click(),
  ]);
  await dialog.setFiles([]);
  await expect(page.getByRole('heading', { level: 1 })).toContainText('Drop the old box’s backup');
  await choose(page, 'Open a file…', 'quay.xml', plain());
  await expect(page.getByRole('heading', { name: 'Reading', exact: true })).toBeVisible();
});
