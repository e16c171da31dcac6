import { readFileSync } from 'node:fs';
import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from 'playwright/test';
import { choose, download, goTo, open, plain, putOn } from './bench.ts';

const standards = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** One of the sheet's ways to look. */
const look = (page: Page, name: string) =>
  page.getByRole('group', { name: 'Look at' }).getByRole('button', { name, exact: true }).click();

/** Opens one field of the list of every field, found by words of its place. */
async function openField(page: Page, words: string, name: string): Promise<void> {
  await look(page, 'Every field');
  await page.getByRole('searchbox', { name: 'Search every field' }).fill(words);
  await page.getByRole('button', { name: new RegExp(`^${name} at \\S*${words}$`) }).click();
}

const corrected = (page: Page, amount: number) =>
  expect(page.getByText(`You corrected ${amount === 1 ? '1 thing' : `${amount} things`}.`)).toBeVisible();

test.beforeEach(async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
});

test('a key that is chosen tells the records apart at once, and can be taken back', async ({ page }) => {
  await look(page, 'Records');
  const byCode = page.getByRole('button', { name: 'networks is told apart by attribute code, change it' });
  await byCode.click();
  await page.getByRole('button', { name: 'Tell networks / network apart by title', exact: true }).click();
  await expect(page.getByRole('button', { name: 'networks is told apart by title, change it' })).toBeVisible();
  await expect(page.getByRole('row', { name: /networks.*Fibre from the harbour exchange/ }).first()).toBeVisible();
  await corrected(page, 1);
  await page.getByRole('button', { name: 'Take back what you say of networks / network' }).click();
  await expect(byCode).toBeVisible();
  await expect(page.getByText('You corrected')).toHaveCount(0);
});

test('a field said to hold a secret is blacked out in the file as well, and shown again when denied', async ({
  page,
}) => {
  await openField(page, 'identity/location', 'location');
  await expect(page.getByText('Clubhouse, comms cupboard')).toBeVisible();
  await page.getByRole('button', { name: 'It is a secret', exact: true }).click();
  await expect(page.getByText('secret, not shown')).toBeVisible();
  await expect(page.getByText('Clubhouse, comms cupboard')).toHaveCount(0);
  await look(page, 'Secrets and box-bound');
  await page.getByRole('button', { name: /, look at location in the file$/ }).click();
  await expect(page.getByRole('complementary')).toContainText('<location>████');
  await expect(page.getByRole('complementary')).not.toContainText('Clubhouse');
  await page.getByRole('button', { name: 'Take back what you say of location' }).click();
  await expect(page.getByRole('rowheader', { name: /^location/ })).toHaveCount(0);
});

test('a secret that is denied leaves the list and stays there to be taken back', async ({ page }) => {
  await look(page, 'Secrets and box-bound');
  const secrets = page.getByRole('table', { name: 'Fields that hold secrets' });
  const first = secrets.getByRole('button', { name: /^No, .* is no secret$/ }).first();
  const name = /^No, (.*) is no secret$/.exec((await first.getAttribute('aria-label'))!)![1]!;
  const answers = await secrets.getByRole('button', { name: /^No, / }).count();
  await first.click();
  await expect(secrets.getByText('Not so, you say, 1')).toBeVisible();
  await expect(secrets.getByRole('button', { name: /^No, / })).toHaveCount(answers - 1);
  await secrets.getByRole('button', { name: `Take back what you say of ${name}` }).click();
  await expect(secrets.getByRole('button', { name: /^No, / })).toHaveCount(answers);
});

test('what is bound to the old box can be denied and added, and the findings follow', async ({ page }) => {
  await look(page, 'Secrets and box-bound');
  const bound = page.getByRole('table', { name: 'Settings that fit the old box only' });
  const denials = bound.getByRole('button', { name: /^No, / });
  await expect(denials.first()).toBeVisible();
  const before = await denials.count();
  await denials.first().click();
  await expect(bound.getByText('Not so, you say, 1')).toBeVisible();
  await expect(denials).toHaveCount(before - 1);
  await openField(page, 'identity/location', 'location');
  await page.getByRole('button', { name: 'It is bound to the old box', exact: true }).click();
  await expect(page.getByText('Is bound to the old box.', { exact: true })).toBeVisible();
  await corrected(page, 2);
  await look(page, 'Secrets and box-bound');
  await expect(bound.getByRole('row', { name: /location.*bound to the old box, as you say/ })).toBeVisible();
  await goTo(page, 'Findings');
  await expect(page.getByText(/bound to the old box, as you say/).first()).toBeVisible();
});

test('a reference is added where the reading saw none', async ({ page }) => {
  await look(page, 'What names what');
  await page.getByRole('button', { name: 'Add one…' }).click();
  await page.getByRole('searchbox', { name: 'Search every field' }).fill('identity/location');
  await page.getByRole('button', { name: /^location at / }).click();
  await page.getByLabel('List that location names').selectOption({ label: 'networks / network' });
  await page.getByRole('button', { name: 'It names this list' }).click();
  await expect(page.getByText('Names networks / network.', { exact: true })).toBeVisible();
  await look(page, 'What names what');
  await page.getByRole('searchbox', { name: 'Search fields' }).fill('location');
  await expect(page.getByRole('row', { name: /location.*networks \/ network.*you say so/ })).toBeVisible();
});

test('corrections are saved alone and serve for another backup', async ({ page }) => {
  await openField(page, 'identity/location', 'location');
  await page.getByRole('button', { name: 'It is a secret', exact: true }).click();
  await corrected(page, 1);
  const [got] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save corrections' }).click(),
  ]);
  expect(got.suggestedFilename()).toBe('quay.reading.json');
  const saved = readFileSync(await got.path());
  expect(JSON.parse(saved.toString('utf8'))).toMatchObject({ corrections: [{ correct: 'secret', yes: true }] });
  await page.reload();
  await open(page, 'next.xml', plain());
  await choose(page, 'Load corrections…', 'quay.reading.json', saved);
  await corrected(page, 1);
  await expect(page.getByText('1 correction taken.')).toBeVisible();
  await look(page, 'Secrets and box-bound');
  await expect(page.getByRole('rowheader', { name: /^location/ })).toBeVisible();
});

test('signatures are tried once the file is shown, and one that does not fit is found', async ({ page }) => {
  // The last unit of the first certificate's signature is another one.
  const text = plain().toString('utf8');
  const [whole, body] = /-----BEGIN CERTIFICATE-----([\s\S]*?)-----END CERTIFICATE-----/.exec(
    text.slice(text.indexOf('gate-web', text.indexOf('<key-cabinet'))),
  )!;
  const der = Buffer.from(body!, 'base64');
  der[der.length - 1]! ^= 1;
  const forged = text.replace(whole!, () =>
    whole!.replace(body!, `\n${der.toString('base64').replace(/.{64}/g, '$&\n')}\n`),
  );
  await look(page, 'Secrets and box-bound');
  const certificates = page.getByRole('table', { name: 'Certificates, in the order of the file' });
  await expect(certificates.getByText(': signature checked').first()).toBeVisible();
  await expect(certificates.getByText(': the name fits, the signature does not')).toHaveCount(0);
  await page.goto('/');
  await open(page, 'forged.xml', Buffer.from(forged));
  await look(page, 'Secrets and box-bound');
  await expect(certificates.getByText(': the name fits, the signature does not')).toHaveCount(1);
  await goTo(page, 'Findings');
  await expect(page.getByText(/The name fits one in this file, the signature does not\./).first()).toBeVisible();
});

test('a document inside a value is shown without its secrets, and a port in it stays', async ({ page }) => {
  const script = 'listen on igb3.30\npassphrase = "bollard seven"\nevery: 60\n';
  const inside = `  <start-script>${Buffer.from(script).toString('base64')}</start-script>\n`;
  const text = plain().toString('utf8');
  const end = text.lastIndexOf('</');
  await page.goto('/');
  await open(page, 'scripted.xml', Buffer.from(text.slice(0, end) + inside + text.slice(end)));
  await look(page, 'Secrets and box-bound');
  const row = page
    .getByRole('table', { name: 'Documents inside values, in the order of the file' })
    .getByRole('row', { name: /start-script/ });
  await expect(row).toContainText('plain text, wrapped in base64');
  await expect(row).toContainText('igb3.30');
  await row.getByRole('button', { name: /^Show/ }).click();
  const shown = page.getByRole('dialog').getByRole('region', { name: 'What the value says' });
  await expect(shown).toContainText('passphrase = "████████"');
  expect((await new AxeBuilder({ page }).withTags(standards).analyze()).violations).toEqual([]);
  await page.keyboard.press('Escape');
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await putOn(page, 'igb3', 'ix5');
  await goTo(page, 'Findings');
  await expect(page.getByRole('cell', { name: /^A document inside this value speaks of/ })).toBeVisible();
  const { bytes } = await download(page);
  expect(bytes.toString('utf8')).toContain(inside);
});

for (const scheme of ['light', 'dark'] as const) {
  test(`its lists can be used by all, ${scheme}`, async ({ page }) => {
    await page.emulateMedia({ colorScheme: scheme });
    const clean = async () =>
      expect((await new AxeBuilder({ page }).withTags(standards).analyze()).violations).toEqual([]);
    await look(page, 'Records');
    await page.getByRole('button', { name: /^networks is told apart by / }).click();
    await expect(page.getByRole('button', { name: /^Tell networks/ }).first()).toBeVisible();
    await clean();
    await look(page, 'Secrets and box-bound');
    await page
      .getByRole('button', { name: /^No, .* is no secret$/ })
      .first()
      .click();
    await expect(page.getByText('Not so, you say, 1')).toBeVisible();
    await clean();
    await openField(page, 'identity/location', 'location');
    await clean();
  });
}
