import { expect, test } from 'playwright/test';
import { bytesIn, cell, choose, download, goTo, open, plain, putOn } from './bench.ts';

test('decisions are undone and done again by name, by keys and by the title block', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  const radius = page.getByRole('checkbox', { name: 'Carry radius', exact: true });
  const tunnels = page.getByRole('checkbox', { name: 'Carry tunnels', exact: true });
  await radius.uncheck();
  await tunnels.uncheck();
  const last = cell(page, 'Your last decision');
  await expect(last).toContainText('Leave out tunnels');
  await expect(last).toContainText('2 in all');
  await page.keyboard.press('Control+z');
  await expect(last).toContainText('Leave out radius');
  await expect(tunnels).toBeChecked();
  await page.keyboard.press('Control+Shift+z');
  await expect(tunnels).not.toBeChecked();
  await last.getByRole('button', { name: 'Undo' }).click();
  await last.getByRole('button', { name: 'Undo' }).click();
  await expect(radius).toBeChecked();
  await expect(last.getByRole('button', { name: 'Undo' })).toBeHidden();
  // One more is nothing: the file itself is never undone.
  await page.keyboard.press('Control+z');
  await expect(cell(page, 'Old box')).toContainText('quay.xml');
  await expect(cell(page, 'Ledger')).toContainText('0 left out');
});

test('naming all ports by order is one step', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
  await page.getByLabel('By order from').fill('eno4');
  await page.getByRole('button', { name: /^Name all/ }).click();
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await expect(page.getByRole('combobox', { name: 'New port for igb0', exact: true })).toHaveValue('eno4');
  await expect(page.getByRole('combobox', { name: 'New port for igb2', exact: true })).toHaveValue('eno6');
  await expect(page.getByText('eno7.30')).toBeVisible();
  await page.getByRole('heading', { name: 'Ports' }).click();
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('combobox', { name: 'New port for igb0', exact: true })).toHaveValue('igb0');
});

test('a plan is saved and taken in again, with the same result', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await putOn(page, 'igb0', 'ix7');
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).uncheck();
  const first = await download(page);
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the plan' }).click(),
  ]);
  const plan = await bytesIn(saved);
  expect(JSON.parse(plan.toString('utf8'))).toMatchObject({ plan: 1, ports: { igb0: 'ix7' } });

  await page.reload();
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Hand-over');
  await choose(page, 'Load a plan…', saved.suggestedFilename(), plan);
  await expect(cell(page, 'Your last decision')).toContainText('Load the plan');
  const second = await download(page);
  expect(second.bytes.equals(first.bytes)).toBe(true);
});

test('a plan meets the next backup of the box: what fits is applied, what does not is listed, what is new is told', async ({
  page,
}) => {
  const text = plain().toString('utf8');
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await putOn(page, 'igb0', 'ix7');
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry radius', exact: true }).uncheck();
  await page.getByRole('checkbox', { name: 'Carry fixed-routes', exact: true }).uncheck();
  await goTo(page, 'Hand-over');
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the plan' }).click(),
  ]);
  const plan = await bytesIn(saved);
  // A saved plan tells nothing that is blacked out: neither the hashes of the people nor the keys.
  expect(plan.toString('utf8')).not.toMatch(/\$6\$|PRIVATE KEY/);

  // Next month: one section less, one record more, above all else.
  const cut = (all: string, from: string, to: string) =>
    all.slice(0, all.indexOf(from)) + all.slice(all.indexOf(to) + to.length);
  const book = text.slice(text.indexOf('    <book '), text.indexOf('</book>\n') + '</book>\n'.length);
  const name = /name="([^"]+)"/.exec(book)![1]!;
  const next = cut(text, '  <radius', '</radius>\n').replace(book, book.replace(name, 'ferry-office') + book);
  await page.reload();
  await open(page, 'quay-next.xml', Buffer.from(next));
  await goTo(page, 'Hand-over');
  await choose(page, 'Load a plan…', saved.suggestedFilename(), plan);
  const met = page.getByRole('status').filter({ hasText: 'Made for another backup' });
  await expect(met).toContainText('2 decisions fit and are applied');
  await expect(met).toContainText('Leave out radius: Nothing stands at its place now');
  await expect(met).toContainText('1 new: ferry-office');
  const { bytes } = await download(page);
  expect(bytes.toString('utf8')).toBe(
    cut(next, '  <fixed-routes>', '</fixed-routes>\n').replace(/([">])igb0(?=["<.])/g, '$1ix7'),
  );
});

test('a file that is no plan is refused in words and changes nothing', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Hand-over');
  await choose(page, 'Load a plan…', 'x.json', Buffer.from('{"plan": '));
  await expect(page.getByRole('alert')).toContainText('This is not a saved plan');
  await choose(page, 'Load a plan…', 'y.json', Buffer.from('{"plan": 99}'));
  await expect(page.getByRole('alert')).toContainText('saved by a newer Carryover');
  await expect(cell(page, 'Ledger')).toContainText('0 left out');
});

test('a decision that does not fit is listed and stays in the plan', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Hand-over');
  await choose(page, 'Load a plan…', 'p.json', Buffer.from('{"plan": 1, "ports": {"xe9": "ix0"}, "extra": 1}'));
  await expect(page.getByText('1 entry of the loaded plan could not be taken in')).toBeVisible();
  await goTo(page, 'Findings');
  await expect(page.getByRole('row').filter({ hasText: 'This file does not name that port' })).toBeVisible();
});

test('what you say about the reading counts, and can be taken back', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await page.getByRole('button', { name: 'What names what' }).click();
  const no = page.getByRole('button', { name: /^No, .* does not name it$/ }).first();
  await no.click();
  await expect(page.getByText('You corrected 1 thing.')).toBeVisible();
  await expect(page.getByText(/Not so, you say/)).toBeVisible();
  await page.getByRole('button', { name: 'Take back' }).first().click();
  await expect(page.getByText('You corrected 1 thing.')).toBeHidden();
  await page
    .getByRole('button', { name: /^Yes, .* names it$/ })
    .first()
    .click();
  await expect(page.getByText('you say so')).toBeVisible();
});

test('changes say what did them, and each is taken back on its own', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await putOn(page, 'igb0', 'ix7');
  await putOn(page, 'igb2', 'ix8');
  await goTo(page, 'Changes');
  const rows = page.getByRole('row').filter({ hasText: 'Put igb0 on ix7' });
  await expect(rows.first()).toContainText('igb0');
  await rows.first().getByRole('button', { name: 'Take back' }).click();
  await expect(rows).toHaveCount(0);
  await expect(page.getByRole('row').filter({ hasText: 'Put igb2 on ix8' }).first()).toBeVisible();
});

test('both sides of a section show what is downloaded; Ctrl+M lets Tab leave', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await putOn(page, 'igb0', 'ix7');
  await goTo(page, 'Changes');
  const requested: string[] = [];
  page.on('request', (request) => requested.push(request.url()));
  await page
    .getByRole('navigation', { name: 'Sections' })
    .getByRole('button', { name: /link-settings/ })
    .click();
  await page.getByRole('button', { name: 'Open the source, both sides' }).click();
  const [old, result] = [page.locator('.editor.original'), page.locator('.editor.modified')];
  await expect(old).toContainText('device="igb0"', { timeout: 20_000 });
  await expect(result).toContainText('device="ix7"');
  await expect(result).not.toContainText('igb0');
  expect(requested.some((address) => /diff-.*\.js$/.test(address))).toBe(true);
  await result.locator('.view-lines').click();
  await page.keyboard.press('Control+m');
  await page.keyboard.press('Tab');
  await expect(page.locator('.monaco-editor.focused')).toHaveCount(0);
});
