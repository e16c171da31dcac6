import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Download, expect, type Page } from 'playwright/test';

/** A file of the project, as bytes. */
export const bytesOf = (path: string): Buffer => readFileSync(fileURLToPath(new URL(`../${path}`, import.meta.url)));

export const marina = (): Buffer => bytesOf('public/examples/kestrel-quay-netconf.xml');
export const plain = (): Buffer => bytesOf('public/examples/kestrel-quay-plain.xml');

/** Hands a file over by the file dialog. */
export async function choose(page: Page, button: RegExp | string, name: string, buffer: Buffer): Promise<void> {
  const [dialog] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: button }).first().click(),
  ]);
  await dialog.setFiles({ name, mimeType: 'application/octet-stream', buffer });
}

/** Opens a backup and waits for its first sheet. */
export async function open(page: Page, name: string, buffer: Buffer): Promise<void> {
  await choose(page, /^(Open a file…|Open…|Open another file…)$/, name, buffer);
  await expect(page.getByRole('heading', { name: 'Reading', exact: true })).toBeVisible({ timeout: 30_000 });
}

export const sheets = ['Reading', 'Ports', 'Carry', 'Findings', 'Changes', 'Hand-over'] as const;
export type Sheet = (typeof sheets)[number];

export async function goTo(page: Page, sheet: Sheet): Promise<void> {
  await page
    .getByRole('navigation', { name: 'Sheets' })
    .getByRole('button', { name: new RegExp(`^\\d ${sheet}`) })
    .click();
  await expect(page.getByRole('heading', { name: sheet, exact: true })).toBeVisible();
}

/** Fills in the new name of one port, in the table. */
export async function putOn(page: Page, from: string, to: string): Promise<void> {
  const field = page.getByRole('combobox', { name: `New port for ${from}`, exact: true });
  await field.fill(to);
  await field.press('Enter');
}

/** Downloads the result from sheet 6; the findings that stop or break something are ticked where there are any. */
export async function download(page: Page): Promise<{ name: string; bytes: Buffer }> {
  await goTo(page, 'Hand-over');
  const button = page.getByRole('main').getByRole('button', { name: /^Download / });
  await expect(page.getByText('Second reader agrees', { exact: true })).toBeVisible();
  const read = page.getByRole('checkbox', { name: /^I have read/ });
  if (await read.isVisible()) await read.check();
  await expect(button).toHaveAttribute('aria-disabled', 'false');
  const [got] = await Promise.all([page.waitForEvent('download'), button.click()]);
  return { name: got.suggestedFilename(), bytes: await bytesIn(got) };
}

export async function bytesIn(got: Download): Promise<Buffer> {
  return readFileSync(await got.path());
}

/** Drops files on the page as the browser reports it: over it first, then let go. */
export async function drop(page: Page, files: { name: string; text: string }[], letGo = true): Promise<void> {
  const data = await page.evaluateHandle((given) => {
    const transfer = new DataTransfer();
    for (const { name, text } of given) transfer.items.add(new File([text], name, { type: 'text/xml' }));
    return transfer;
  }, files);
  await page.dispatchEvent('body', 'dragenter', { dataTransfer: data });
  await page.dispatchEvent('body', 'dragover', { dataTransfer: data });
  if (letGo) await page.dispatchEvent('body', 'drop', { dataTransfer: data });
}

/** The cell of the title block whose caption begins so. */
export const cell = (page: Page, caption: string) =>
  page
    .getByRole('contentinfo')
    .locator('> div')
    .filter({ has: page.locator('.cap').filter({ hasText: new RegExp(`^${caption}`) }) });

/** A backup of many megabytes: the plain example with its rules over and over. */
export function large(times: number): Buffer {
  const text = plain().toString('utf8');
  const [from, to] = [text.indexOf('<traffic-rules>'), text.indexOf('</traffic-rules>')];
  const rules = text.slice(from + '<traffic-rules>'.length, to);
  return Buffer.from(text.slice(0, to) + rules.repeat(times) + text.slice(to));
}
