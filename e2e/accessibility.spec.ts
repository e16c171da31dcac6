import { expect, test } from 'playwright/test';
import { violations } from './axe.ts';
import { choose, drop, goTo, large, open, plain, putOn, sheets } from './bench.ts';

const looks = [
  ['light', { colorScheme: 'light' }],
  ['dark', { colorScheme: 'dark' }],
  ['forced colours', { forcedColors: 'active' }],
] as const;

for (const [look, options] of looks) {
  test.describe(look, () => {
    test.use(options);

    test('empty page, its dialogs, a drop over it', async ({ page }) => {
      await page.goto('/');
      expect(await violations(page)).toEqual([]);
      for (const button of ['Paste text', 'Try the example marina', /^Keys/, 'How to check']) {
        await page.getByRole('button', { name: button }).first().click();
        await expect(page.getByRole('dialog')).toBeVisible();
        expect(await violations(page)).toEqual([]);
        await page.keyboard.press('Escape');
      }
      await drop(page, [{ name: 'x.xml', text: '<x/>' }], false);
      expect(await violations(page)).toEqual([]);
    });

    test('reading and refusing', async ({ page }) => {
      await page.goto('/');
      await choose(page, 'Open a file…', 'large.xml', large(1500));
      await expect(page.getByRole('progressbar')).toBeVisible();
      expect(await violations(page)).toEqual([]);
      await page.getByRole('button', { name: 'Cancel' }).click();
      await choose(page, 'Open a file…', 'cut.xml', plain().subarray(0, 20_000));
      await expect(page.getByRole('alert')).toBeVisible();
      expect(await violations(page)).toEqual([]);
    });

    test('ports: table, list of names, drawing, a clash', async ({ page }) => {
      test.slow();
      await page.goto('/');
      await open(page, 'quay.xml', plain());
      await goTo(page, 'Ports');
      await page.getByRole('button', { name: 'Table', exact: true }).click();
      await putOn(page, 'igb0', 'igb1');
      expect(await violations(page)).toEqual([]);
      await page.getByRole('button', { name: 'Names for igb2' }).click();
      await expect(page.getByRole('listbox')).toBeVisible();
      // While the list is open all else is hidden from readers, as for a dialog; Tab closes it before focus moves.
      expect(await violations(page, ['aria-hidden-focus'])).toEqual([]);
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: 'Drawing' }).click();
      await page
        .getByRole('group', { name: /^Patch bay/ })
        .getByRole('button')
        .nth(2)
        .click();
      expect(await violations(page)).toEqual([]);
      await goTo(page, 'Hand-over');
      await expect(page.getByRole('alert')).toBeVisible();
      expect(await violations(page)).toEqual([]);
    });

    test('carry, findings, changes, hand-over with decisions made', async ({ page }) => {
      test.slow();
      await page.goto('/');
      await open(page, 'quay.xml', plain());
      await goTo(page, 'Carry');
      await page.getByRole('checkbox', { name: 'Carry address-books', exact: true }).uncheck();
      await page.getByRole('button', { name: 'Records of people' }).click();
      await expect(page.getByRole('row', { level: 2 }).first()).toBeVisible();
      expect(await violations(page)).toEqual([]);
      await goTo(page, 'Findings');
      await page
        .getByRole('button', { name: /^line \d+/ })
        .first()
        .click();
      expect(await violations(page)).toEqual([]);
      await goTo(page, 'Hand-over');
      await expect(page.getByRole('checkbox', { name: /^I have read/ })).toBeVisible();
      expect(await violations(page)).toEqual([]);
      await goTo(page, 'Changes');
      expect(await violations(page)).toEqual([]);
      await page
        .getByRole('navigation', { name: 'Sections' })
        .getByRole('button', { name: /address-books/ })
        .click();
      await page.getByRole('button', { name: 'Open the source, both sides' }).click();
      await expect(page.locator('.editor.modified')).toBeVisible({ timeout: 30_000 });
      expect(await violations(page)).toEqual([]);
    });

    test('reading', async ({ page }) => {
      test.slow();
      await page.goto('/');
      await open(page, 'quay.xml', plain());
      for (const button of ['Sections', 'Records', 'What names what']) {
        await page.getByRole('button', { name: button, exact: true }).click();
        expect(await violations(page), button).toEqual([]);
      }
    });
  });
}

test.describe('a window of 320 units', () => {
  test.use({ viewport: { width: 320, height: 640 } });

  // WCAG 2.2, 1.4.10 Reflow: no scrolling in two directions at a width of 320 CSS pixels.
  test('nothing is cut off at the side', async ({ page }) => {
    await page.goto('/');
    const tooWide = () => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(await tooWide()).toBeLessThanOrEqual(0);
    await open(page, 'quay.xml', plain());
    for (const sheet of sheets) {
      await goTo(page, sheet);
      if (sheet === 'Ports') await page.getByRole('button', { name: 'Table', exact: true }).click();
      expect(await tooWide(), sheet).toBeLessThanOrEqual(0);
    }
  });
});

// WCAG 2.2, 2.5.8 Target Size (Minimum): 24 by 24 CSS pixels.
test('what is pressed is at least 24 units high and wide', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  for (const sheet of sheets) {
    await goTo(page, sheet);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('button, input, select, textarea')]
        .filter((element) => element.checkVisibility())
        .map((element) => ({ element, box: element.getBoundingClientRect() }))
        .filter(({ box }) => box.width > 0 && (box.height < 23.5 || box.width < 23.5))
        // A short link in a line of text keeps its height; its width is that of its words.
        .filter(({ element, box }) => !(element.classList.contains('link') && box.height >= 23.5))
        .map(({ element, box }) => `${element.outerHTML.slice(0, 90)} ${box.width} × ${box.height}`),
    );
    expect(small, sheet).toEqual([]);
  }
});
