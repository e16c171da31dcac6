import { expect, type Page, test } from 'playwright/test';
import { violations } from './axe.ts';
import { bytesOf, cell, download, goTo, open, plain, putOn } from './bench.ts';

const text = () => plain().toString('utf8');
const tick = (page: Page, name: string) => page.getByRole('checkbox', { name: `Carry ${name}`, exact: true });
const results = (page: Page) => page.getByRole('group', { name: 'What comes out' });
/** Another result has other ticks: a box is looked at once they show. */
async function ask(page: Page, result: 'Whole file' | 'Only ticked' | 'Graft') {
  await results(page).getByRole('button', { name: result, exact: true }).click();
  await expect(page.getByRole('treegrid')).toHaveAttribute('aria-busy', 'false');
}
const decided = (page: Page) => cell(page, 'Your last decision');

/** The lines of a section of the example, with the comment right above it. */
function section(lines: readonly string[], tag: string): string[] {
  let from = lines.findIndex((line) => line.startsWith(`  <${tag}`));
  const to = lines.findIndex((line) => line.startsWith(`  </${tag}>`));
  if (lines[from - 1]!.startsWith('  <!--')) from--;
  return lines.slice(from, to + 1);
}

/** The example with its root and what stands before it, and no more than the given lines inside. */
function only(lines: readonly string[], inside: readonly string[]): string {
  const root = lines.findIndex((line) => line.startsWith('<site-record'));
  return [...lines.slice(0, root + 1), ...inside, '</site-record>', ''].join('\n');
}

test('only ticked: a well-formed file with its root and attributes that holds the chosen sections, byte for byte', async ({
  page,
}) => {
  const lines = text().split('\n');
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await ask(page, 'Only ticked');
  await expect(page.getByText('Tick what goes over; so far nothing does.')).toBeVisible();
  await page.getByRole('checkbox', { name: 'A tick takes along what it needs' }).uncheck();
  for (const name of ['calendars', 'link-settings', 'kernel-values']) await tick(page, name).check();
  await expect(decided(page)).toContainText('Carry kernel-values');
  await expect(decided(page)).toContainText('3 in all');
  const { bytes } = await download(page);
  const chosen = ['link-settings', 'calendars', 'kernel-values'].flatMap((tag) => section(lines, tag));
  expect(bytes.toString('utf8')).toBe(only(lines, chosen));
  expect(bytes.toString('utf8')).toContain('<site-record edition="7">');
});

test('only ticked: one record, with what it needs, and nothing else', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await ask(page, 'Only ticked');
  await page.getByRole('button', { name: 'Records of crews' }).click();
  await tick(page, 'keepers').check();
  // Its people come along, since it names them.
  await expect(tick(page, 'people')).toHaveJSProperty('indeterminate', true);
  const { bytes } = await download(page);
  const made = bytes.toString('utf8');
  for (const name of ['harbourmaster', 'contractor']) expect(made).toContain(`<person login="${name}">`);
  for (const name of ['dockhand', 'winterwatch', 'lookouts', 'site-record edition="8"'])
    expect(made).not.toContain(name);
  // Every line is one of the old file, in its order.
  const lines = text().split('\n');
  let at = 0;
  for (const line of made.split('\n')) {
    at = lines.indexOf(line, at);
    expect([line, at >= 0]).toEqual([line, true]);
    at++;
  }
});

test('the whole file: two ports change places, and a section stays behind', async ({ page }) => {
  const lines = text().split('\n');
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await page.getByLabel('Change places: igb0 with', { exact: true }).selectOption('igb2');
  await goTo(page, 'Carry');
  await tick(page, 'kernel-values').uncheck();
  const { bytes } = await download(page);
  const out = section(lines, 'kernel-values');
  const from = lines.indexOf(out[0]!);
  const expected = [...lines.slice(0, from), ...lines.slice(from + out.length)]
    .join('\n')
    .replace(/(>|")igb([02])(<|")/g, (_, a, digit, b) => `${a}igb${digit === '0' ? '2' : '0'}${b}`);
  expect(bytes.toString('utf8')).toBe(expected);
});

test('the ticks of one result wait while another is asked for', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await tick(page, 'radius').uncheck();
  await ask(page, 'Only ticked');
  await expect(tick(page, 'tunnels')).not.toBeChecked();
  await tick(page, 'time').check();
  await expect(decided(page)).toContainText('Carry time');
  await ask(page, 'Whole file');
  await expect(tick(page, 'radius')).not.toBeChecked();
  await expect(tick(page, 'time')).toBeChecked();
  await expect(tick(page, 'tunnels')).toBeChecked();
});

test('a role is left out with all that needs it: nothing names it any more', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('button', { name: 'Records of networks' }).click();
  await page.getByRole('button', { name: 'Guest Wi-Fi', exact: true }).first().click();
  await expect(page.getByRole('heading', { name: /^Needed by \d+/ })).toBeVisible();
  await page.getByRole('button', { name: /^Leave out it with \d+ that need it$/ }).click();
  await expect(decided(page)).toContainText('Leave out Guest Wi-Fi');
  await expect(page.getByText('nothing that goes needs them.')).toBeVisible();
  const { bytes } = await download(page);
  const made = bytes.toString('utf8');
  expect(made).not.toMatch(/[">]guest[<"]/);
  // What is gone is whole lines; all others are as they were, in their order.
  const lines = text().split('\n');
  let at = 0;
  for (const line of made.split('\n')) {
    at = lines.indexOf(line, at);
    expect([line, at >= 0]).toEqual([line, true]);
    at++;
  }
});

test('left out alone, what names it is told, and one press takes it along again', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('button', { name: 'Records of people' }).click();
  await page.getByRole('button', { name: 'Dock crew tablet', exact: true }).first().click();
  await page.getByRole('button', { name: 'Leave out only this' }).click();
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await expect(
    page.getByRole('heading', { name: /^Carried like this, \d+ references? points? at nothing$/ }),
  ).toBeVisible();
  await page.getByRole('button', { name: 'Records of crews' }).click();
  await page.getByRole('button', { name: 'lookouts', exact: true }).first().click();
  await page.getByRole('button', { name: /^Take what it needs: 1 record$/ }).click();
  await expect(decided(page)).toContainText('Carry what lookouts needs');
  const { bytes } = await download(page);
  expect(bytes.equals(plain())).toBe(true);
});

test('a value is set in place; a secret is never shown, nor one that is typed where a secret would stand', async ({
  page,
}) => {
  const old = text().replace('<shared-secret>bollard-rope-48</shared-secret>', '<shared-secret></shared-secret>');
  await page.goto('/');
  await open(page, 'quay.xml', Buffer.from(old));
  await goTo(page, 'Carry');
  await page.getByLabel('Search names, keys, values and remarks').fill('pontoon-switch-a');
  await page.getByRole('button', { name: 'pontoon-switch-a', exact: true }).first().click();
  await page.getByRole('button', { name: 'Edit shared-secret' }).click();
  const field = page.getByRole('textbox', { name: 'shared-secret', exact: true });
  await expect(field).toHaveAttribute('type', 'password');
  await field.fill('dory & oar 7');
  await page.getByRole('button', { name: 'Set it' }).click();
  await expect(decided(page)).toContainText('Change shared-secret');
  await goTo(page, 'Changes');
  await expect(page.getByRole('row').filter({ hasText: 'shared-secret' })).toContainText('█');
  await expect(page.locator('body')).not.toContainText('dory');
  const { bytes } = await download(page);
  await expect(page.locator('body')).not.toContainText('dory');
  expect(bytes.toString('utf8')).toBe(
    old.replace('<shared-secret></shared-secret>', '<shared-secret>dory &amp; oar 7</shared-secret>'),
  );
});

test('a certificate is pasted in place of another and written as that was; a key that is pasted is not shown', async ({
  page,
}) => {
  const between = (name: string, tag: string) => {
    const from = text().indexOf(`<${tag}>`, text().indexOf(`<pair name="${name}"`)) + tag.length + 2;
    return text().slice(from, text().indexOf(`</${tag}>`, from));
  };
  const [old, pem] = [between('gate-web', 'certificate'), between('radius-2024', 'certificate')];
  const body = (one: string) => one.replace(/-----.*?-----|\s/g, '');
  // In this file the old one is in base64 alone, folded at 60.
  const folded = (one: string) =>
    body(one)
      .match(/.{1,60}/g)!
      .join('\n\t');
  const file = text().replace(old, folded(old));
  await page.goto('/');
  await open(page, 'quay.xml', Buffer.from(file));
  await goTo(page, 'Carry');
  await page.getByLabel('Search names, keys, values and remarks').fill('gate-web');
  await page.getByRole('button', { name: 'gate-web', exact: true }).first().click();
  await page.getByRole('button', { name: 'Replace certificate' }).click();
  const field = page.getByRole('textbox', { name: 'certificate', exact: true });
  await expect(field).toBeFocused();
  await field.fill(pem);
  await expect(page.getByText('written as the old one is: base64 without the PEM marks')).toBeVisible();
  await page.getByRole('button', { name: 'Set it' }).click();
  await expect(decided(page)).toContainText('Change certificate');
  await page.getByRole('button', { name: 'Replace private-key' }).click();
  await expect(page.getByRole('textbox', { name: 'private-key', exact: true })).toHaveCSS(
    '-webkit-text-security',
    'disc',
  );
  await page.getByRole('button', { name: 'Leave it' }).click();
  await goTo(page, 'Findings');
  await expect(page.getByRole('cell', { name: /^The private key beside .* does not fit it/ })).toBeVisible();
  const { bytes } = await download(page);
  expect(bytes.toString('utf8')).toBe(file.replace(folded(old), folded(pem)));
});

test('settings bound to the old box and names that the new box lacks: one list each, answered at once', async ({
  page,
}) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  const bound = page.getByRole('region', { name: 'Settings bound to the old box' });
  await bound.getByRole('button', { name: /^Leave out all/ }).click();
  await expect(bound).toContainText('all answered');
  await expect(tick(page, 'kernel-values')).toHaveJSProperty('indeterminate', true);
  await page.keyboard.press('Control+z');
  await bound.getByRole('button', { name: 'Keep all' }).click();
  await expect(bound).toContainText('all answered');
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await putOn(page, 'igb0', 'em7');
  const { bytes } = await download(page);
  expect(bytes.toString('utf8')).toBe(text().replace(/([">])igb0([<"])/g, '$1em7$2'));
});

test('by keys alone: search, open, tick, take along', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await page.keyboard.press('3');
  await expect(page.getByRole('heading', { name: 'Carry', exact: true })).toBeVisible();
  await ask(page, 'Only ticked');
  await page.getByRole('checkbox', { name: 'A tick takes along what it needs' }).press('Space');
  const row = () => page.locator('[role="row"]:focus');
  await page.getByLabel('Search names, keys, values and remarks').focus();
  for (let at = 0; at < 20 && (await row().count()) === 0; at++) await page.keyboard.press('Tab');
  await expect(row()).toContainText('identity');
  await page.keyboard.press('End');
  await expect(row()).toContainText('last-saved');
  await page.keyboard.press('Home');
  for (let at = 0; at < 16; at++) await page.keyboard.press('ArrowDown');
  await expect(row()).toContainText('crews');
  await page.keyboard.press('ArrowRight');
  await expect(row()).toHaveAttribute('aria-expanded', 'true');
  await page.keyboard.press('ArrowDown');
  await expect(row()).toContainText('keepers');
  await page.keyboard.press('Space');
  await expect(decided(page)).toContainText('Carry keepers');
  await page.keyboard.press('ArrowLeft');
  await expect(row()).toContainText('1 needs what is out');
  await page.keyboard.press('ArrowLeft');
  await expect(row()).toHaveAttribute('aria-expanded', 'false');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('complementary').getByRole('heading', { name: 'crews' })).toBeVisible();
  const { bytes } = await download(page);
  const lines = text().split('\n');
  const crews = section(lines, 'crews');
  const keepers = crews.indexOf('    </crew>');
  expect(bytes.toString('utf8')).toBe(only(lines, [...crews.slice(0, keepers + 1), crews.at(-1)!]));
});

test('a hundred thousand records are ticked one by one, and only what is in sight is drawn', async ({ page }) => {
  test.slow();
  const nets = Array.from({ length: 50 }, (_, at) => `<net><id>n${at}</id><port>eth${at}</port></net>`);
  const rules = Array.from(
    { length: 100_000 },
    (_, at) => `<rule><nr>${at}</nr><net>n${at % 50}</net><act>pass</act></rule>`,
  );
  const big = `<box><nets>${nets.join('')}</nets><rules>${rules.join('\n')}</rules></box>`;
  await page.goto('/');
  await open(page, 'big.xml', Buffer.from(big));
  await goTo(page, 'Carry');
  await page.getByRole('button', { name: 'Records of rules' }).click();
  await expect(page.getByRole('treegrid')).toHaveAttribute('aria-rowcount', '100003', { timeout: 30_000 });
  await page.locator('[role="row"][tabindex="0"]').press('End');
  const row = page.locator('[role="row"]:focus');
  await expect(row).toContainText('99999');
  await page.keyboard.press('Space');
  await expect(decided(page)).toContainText('Leave out 99999');
  expect(await page.locator('.treegrid [role="row"]').count()).toBeLessThan(120);
  const { bytes } = await download(page);
  expect(bytes.toString('utf8')).toBe(big.replace(`\n${rules.at(-1)}`, '\n'));
});

for (const colorScheme of ['light', 'dark'] as const) {
  test.describe(colorScheme, () => {
    test.use({ colorScheme });
    test('axe finds nothing: only ticked, a record open, its needs as a list, a value being set', async ({ page }) => {
      await page.goto('/');
      await open(page, 'quay.xml', plain());
      await goTo(page, 'Carry');
      await ask(page, 'Only ticked');
      await tick(page, 'tunnels').check();
      await expect(decided(page)).toContainText('Carry tunnels');
      expect(await violations(page)).toEqual([]);
      await page.getByRole('button', { name: 'tunnels', exact: true }).click();
      await page.getByRole('button', { name: 'Records of tunnels' }).click();
      await page.getByRole('button', { name: 'List', exact: true }).click();
      await page.getByRole('button', { name: 'List', exact: true }).isVisible();
      expect(await violations(page)).toEqual([]);
      await page.getByRole('button', { name: 'Records of people' }).click();
      await page.getByRole('button', { name: 'Dock crew tablet', exact: true }).first().click();
      await page.getByRole('button', { name: 'Edit password-hash' }).click();
      expect(await violations(page)).toEqual([]);
    });
  });
}

test('lines of a flat list are sections and records: one network stays behind with all its lines', async ({ page }) => {
  const bytes = bytesOf('test/fixtures/schools/harbourd.xml');
  await page.goto('/');
  await open(page, 'harbour.xml', bytes);
  await expect(page.getByText(/^20 sections/)).toBeVisible();
  await goTo(page, 'Carry');
  const places = page
    .getByRole('row')
    .filter({ has: page.getByRole('checkbox', { name: 'Carry place', exact: true }) });
  await expect(places).toContainText('16');
  await places.getByRole('button').first().click();
  await page.getByRole('checkbox', { name: 'Carry Cameras', exact: true }).click();
  await expect(cell(page, 'Ledger')).toContainText('3 left out');
  await goTo(page, 'Ports');
  await expect(page.getByRole('button', { name: /Cameras left out/ })).toBeVisible();
  const got = await download(page);
  expect(got.bytes.toString('utf8')).toBe(bytes.toString('utf8').replace(/<s n="place\.eyes\..*\n/g, ''));
});
