import { expect, type Page, test } from 'playwright/test';
import { bytesIn, bytesOf, cell, open, plain } from './bench.ts';

/** Presses Tab until the element with this name has focus; the page has to let it be reached. */
async function tabTo(page: Page, name: RegExp, most = 120): Promise<void> {
  for (let at = 0; at < most; at++) {
    await page.keyboard.press('Tab');
    const focused = await page.evaluate(() => {
      const element = document.activeElement;
      return `${element?.getAttribute('aria-label') ?? ''} ${element?.textContent ?? ''}`.trim();
    });
    if (name.test(focused)) return;
  }
  throw new Error(`Tab does not reach ${name}`);
}

test('the whole job by keyboard alone', async ({ page }) => {
  const { moved } = JSON.parse(bytesOf('test/fixtures/corpus/a01.truth.json').toString('utf8')) as {
    moved: Record<string, string>;
  };
  await page.goto('/');
  await tabTo(page, /^Open a file/);
  const [dialog] = await Promise.all([page.waitForEvent('filechooser'), page.keyboard.press('Enter')]);
  await dialog.setFiles({
    name: 'a01.xml',
    mimeType: 'text/xml',
    buffer: bytesOf('test/fixtures/corpus/a01.xml'),
  });
  await expect(page.getByRole('heading', { name: 'Reading', exact: true })).toBeVisible();
  await page.keyboard.press('2');
  await expect(page.getByRole('heading', { name: 'Ports', exact: true })).toBeVisible();
  await tabTo(page, /^Table$/);
  await page.keyboard.press('Enter');
  for (const [from, to] of Object.entries(moved)) {
    await tabTo(page, new RegExp(`^New port for ${from}\\b`));
    await page.keyboard.press('Control+a');
    await page.keyboard.type(to);
    await page.keyboard.press('Enter');
  }
  await expect(page.getByText(`${Object.keys(moved).length} of them moved.`)).toBeVisible();
  // A key typed into a list of choices is for the list.
  await tabTo(page, /^Not a port/);
  await page.keyboard.press('6');
  await expect(page.getByText('Second reader agrees', { exact: true })).toBeVisible();
  const tick = page.getByRole('checkbox', { name: /^I have read/ });
  if (await tick.isVisible()) {
    await tabTo(page, /^I have read/);
    await page.keyboard.press('Space');
  }
  await tabTo(page, /^Download a01/);
  const [got] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  expect((await bytesIn(got)).equals(bytesOf('test/fixtures/corpus/a01.moved.xml'))).toBe(true);
});

test('single keys can be switched off, and stay off', async ({ page }) => {
  await page.goto('/');
  await page.keyboard.press('?');
  await expect(page.getByRole('dialog')).toContainText('Keys and settings');
  await page.getByRole('checkbox', { name: 'Single keys do something' }).uncheck();
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toBeHidden();
  await page.keyboard.press('?');
  await expect(page.getByRole('dialog')).toBeHidden();
  await page.reload();
  await open(page, 'quay.xml', plain());
  await page.keyboard.press('3');
  await expect(page.getByRole('heading', { name: 'Reading', exact: true })).toBeVisible();
  await page.getByRole('button', { name: /^Keys/ }).click();
  await page.getByRole('checkbox', { name: 'Single keys do something' }).check();
  await page.keyboard.press('Escape');
  await page.keyboard.press('3');
  await expect(page.getByRole('heading', { name: 'Carry', exact: true })).toBeVisible();
  await page.keyboard.press('/');
  await expect(page.getByRole('searchbox')).toBeFocused();
});

test('a dialog keeps focus inside, closes by Escape and gives focus back', async ({ page }) => {
  await page.goto('/');
  const button = page.getByRole('button', { name: 'Paste text' });
  await button.focus();
  await page.keyboard.press('Enter');
  const dialog = page.getByRole('dialog');
  await expect(dialog).toBeVisible();
  for (let at = 0; at < 8; at++) {
    await page.keyboard.press('Tab');
    const outside = await page.evaluate(() => {
      const focused = document.activeElement;
      return focused !== document.body && !document.querySelector('dialog')!.contains(focused);
    });
    expect(outside).toBe(false);
  }
  await page.keyboard.press('Escape');
  await expect(dialog).toBeHidden();
  await expect(button).toBeFocused();
});

test('what has focus is not hidden by the title block or a head of a table', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await page.keyboard.press('3');
  await expect(page.getByRole('heading', { name: 'Carry', exact: true })).toBeVisible();
  for (let at = 0; at < 90; at++) {
    await page.keyboard.press('Tab');
    const hidden = await page.evaluate(() => {
      const focused = document.activeElement!;
      if (focused === document.body) return null;
      const { left, top, width, height } = focused.getBoundingClientRect();
      const seen = document.elementFromPoint(left + width / 2, top + height / 2);
      const clear =
        seen !== null && (focused.contains(seen) || seen.contains(focused) || focused.parentElement!.contains(seen));
      return clear ? null : `${focused.outerHTML.slice(0, 120)} under ${seen?.outerHTML.slice(0, 120)}`;
    });
    expect(hidden).toBeNull();
  }
  await expect(cell(page, 'Old box')).toBeVisible();
});
