import { AxeBuilder } from '@axe-core/playwright';
import { expect, type Page, test } from 'playwright/test';
import { bytesIn, cell, choose, download, goTo, open, plain } from './bench.ts';

const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const violations = async (page: Page) => (await new AxeBuilder({ page }).withTags(tags).analyze()).violations;

const role = (name: string, port: string, address: string, length: number) =>
  `<place><name>${name}</name><on>${port}</on><address>${address}</address><prefix>${length}</prefix></place>`;
const lend = (name: string, first: string, last: string, ...kept: string[]) =>
  `<lend><place>${name}</place><first>${first}</first><last>${last}</last>${kept
    .map((address, at) => `<kept><card>00:00:5e:00:53:${name.length}${at}</card><as>${address}</as></kept>`)
    .join('')}</lend>`;

/** The marina's networks in a dialect of its own, with three faults: a range too long, networks that overlap, a name in capitals. */
const faulty = Buffer.from(`<box>
<places>
${role('sea', 'eth0', '203.0.113.10', 29)}
${role('office', 'eth1', '10.20.0.1', 24)}
${role('guest', 'eth2', '10.20.50.1', 23)}
${role('cards', 'eth3', '10.20.51.1', 25)}
${role('pontoon', 'eth4', '192.168.201.1', 24)}
</places>
<lends>
${lend('office', '10.20.0.100', '10.20.0.255', '10.20.0.20', '10.20.0.21')}
${lend('guest', '10.20.50.100', '10.20.50.250', '10.20.50.20')}
${lend('pontoon', '192.168.201.50', '192.168.201.220', '192.168.201.9')}
</lends>
<sets>
${['crew', 'recorder', 'tills', 'bank', 'desks', 'cranes', 'pumps', 'lamps', 'masts']
  .map((name, at) => `<set><name>${name}</name><host>10.20.0.${at + 30}</host></set>`)
  .join('\n')}
</sets>
<rules>
${[
  'crew',
  'recorder',
  'tills',
  'bank',
  'desks',
  'cranes',
  'pumps',
  'lamps',
  'masts',
  'crew',
  'recorder',
  'bank',
  'Tills',
]
  .map((name) => `<rule><do>pass</do><at>office</at><from>${name}</from></rule>`)
  .join('\n')}
</rules>
</box>
`);

const start = async (page: Page) => {
  await page.goto('/');
  await open(page, 'quay-faults.xml', faulty);
  await goTo(page, 'Findings');
};
const row = (page: Page, words: string | RegExp) => page.getByRole('row').filter({ hasText: words });
const capitals = 'the record is written';

test('a finding says its reason and its ground, and leads to its line', async ({ page }) => {
  await start(page);
  const line =
    faulty
      .toString('utf8')
      .split('\n')
      .findIndex((text) => text.includes('Tills')) + 1;
  await row(page, capitals)
    .getByRole('button', { name: `line ${line}` })
    .click();
  await expect(page.getByText('Ground: XML 1.0, 1.2')).toBeVisible();
  await expect(page.getByText('rules / rule 13 / from')).not.toHaveCount(0);
  await expect(page.getByRole('region', { name: `The old file around line ${line}` })).toContainText(
    '<from>Tills</from>',
  );
});

test('on a small window the place comes into view beside its row', async ({ page }) => {
  await page.setViewportSize({ width: 900, height: 700 });
  await start(page);
  const opener = row(page, capitals).getByRole('button', { name: /^line/ });
  await opener.focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('region', { name: /^The old file around line/ })).toBeInViewport({ ratio: 0.5 });
  await expect(page.getByText('Ground: XML 1.0, 1.2')).toBeInViewport();
  await page.keyboard.press('Tab');
  await expect(page.getByRole('button', { name: /^Write tills/ }).last()).toBeInViewport();
});

test('on a small window a place at the end of the file is in view, too', async ({ page }) => {
  await page.setViewportSize({ width: 900, height: 620 });
  await page.goto('/');
  const late = plain().toString('utf8').replace('2026-11-20T06:10:04Z', '2031-02-03T04:05:06Z');
  await open(page, 'quay.xml', Buffer.from(late));
  await goTo(page, 'Findings');
  const opener = row(page, 'that time has not come yet').getByRole('button', { name: /^line/ });
  await opener.focus();
  await page.keyboard.press('Enter');
  await expect(page.getByText(/this computer’s clock\. It says/)).toBeInViewport();
  await expect(page.getByText('<at>2031-02-03T04:05:06Z</at>')).toBeInViewport({ ratio: 0.9 });
});

test('on paper all findings stand with their lines, and the file beside them does not', async ({ page }) => {
  await start(page);
  await row(page, capitals).getByRole('button', { name: /^line/ }).click();
  await page.emulateMedia({ media: 'print' });
  await expect(row(page, capitals).getByText(/^line \d+$/)).toBeVisible();
  await expect(row(page, capitals).getByText('Close', { exact: true })).toBeHidden();
  await expect(page.getByRole('region', { name: /^The old file around line/ })).toBeHidden();
  const list = page.locator('section[aria-label="List of findings"]');
  expect(await list.evaluate((node) => node.scrollHeight - node.clientHeight)).toBeLessThanOrEqual(0);
});

test('on paper the subnet map is as wide as the paper', async ({ page }) => {
  await start(page);
  await page.emulateMedia({ media: 'print' });
  const drawing = page.getByRole('img', { name: /^Subnet map of/ });
  const width = await drawing.evaluate((svg) => {
    svg.parentElement!.style.width = '300px';
    return svg.getBoundingClientRect().width;
  });
  expect(width).toBeLessThanOrEqual(300);
});

test('a certificate that ended is told with the clock it is judged by', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Findings');
  await row(page, 'ended on 2024-08-31').getByRole('button', { name: /^line/ }).click();
  await expect(page.getByText(/this computer’s clock\. It says \d{4}-\d\d-\d\d, \d\d:\d\d UTC\./)).toBeVisible();
});

test('a certificate that the plan sets is tried, too', async ({ page }) => {
  // The last unit of its signature is another one.
  const text = plain().toString('utf8');
  const from = text.indexOf('-----BEGIN CERTIFICATE-----', text.indexOf('gate-web', text.indexOf('<key-cabinet')));
  const pem = text.slice(from, text.indexOf('-----END CERTIFICATE-----', from) + 25);
  const der = Buffer.from(pem.replace(/-----.*?-----/g, ''), 'base64');
  der[der.length - 1]! ^= 1;
  const value = `-----BEGIN CERTIFICATE-----\n${der.toString('base64').replace(/.{64}/g, '$&\n')}\n-----END CERTIFICATE-----`;
  const plan = JSON.stringify({
    plan: 1,
    values: [{ path: '/site-record[1]/key-cabinet[1]/pair[1]/certificate[1]', value }],
  });
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Findings');
  await expect(row(page, 'the signature does not')).toHaveCount(0);
  await goTo(page, 'Hand-over');
  await choose(page, 'Load a plan…', 'forged.plan.json', Buffer.from(plan));
  await goTo(page, 'Findings');
  await expect(row(page, 'the signature does not')).toContainText('your plan');
  await page.keyboard.press('Control+z');
  await expect(row(page, 'the signature does not')).toHaveCount(0);
});

test('a repair is one decision, and undo brings the finding back', async ({ page }) => {
  await start(page);
  await row(page, capitals)
    .getByRole('button', { name: /^Write tills/ })
    .click();
  await expect(row(page, capitals)).toHaveCount(0);
  await expect(cell(page, 'Your last decision')).toContainText('Write “tills”');
  await expect(page.getByRole('region', { name: 'List of findings' })).toBeFocused();
  await page.keyboard.press('Control+z');
  await expect(row(page, capitals)).toHaveCount(1);
  await page.keyboard.press('Control+Shift+z');
  await expect(row(page, capitals)).toHaveCount(0);
  const { bytes } = await download(page);
  expect(bytes.toString('utf8')).toBe(faulty.toString('utf8').replace('>Tills<', '>tills<'));
});

test('a record whose own name is the odd one gets the name that all use, and undo takes all of it back', async ({
  page,
}) => {
  const odd = faulty.toString('utf8').replace('>Tills<', '>tills<').replace('<name>tills<', '<name>Tills<');
  await page.goto('/');
  await open(page, 'quay-odd.xml', Buffer.from(odd));
  await goTo(page, 'Findings');
  await expect(row(page, capitals)).toHaveCount(2);
  await row(page, capitals).first().getByRole('button', { name: /^line/ }).click();
  await page
    .getByRole('button', { name: /^Rename Tills to tills/ })
    .first()
    .click();
  await expect(row(page, capitals)).toHaveCount(0);
  await expect(cell(page, 'Your last decision')).toContainText('Rename “Tills” to “tills”');
  await page.keyboard.press('Control+z');
  await expect(row(page, capitals)).toHaveCount(2);
  await page.keyboard.press('Control+Shift+z');
  await expect(row(page, capitals)).toHaveCount(0);
  const { bytes } = await download(page);
  expect(bytes.toString('utf8')).toBe(odd.replace('<name>Tills<', '<name>tills<'));
});

test('the end of a range moves into its network', async ({ page }) => {
  await start(page);
  await row(page, 'the broadcast address')
    .getByRole('button', { name: /^End it at 10.20.0.254/ })
    .click();
  await expect(row(page, 'the broadcast address')).toHaveCount(0);
  const { bytes } = await download(page);
  expect(bytes.toString('utf8')).toBe(faulty.toString('utf8').replace('10.20.0.255', '10.20.0.254'));
});

test('a finding is set aside with a reason, which is saved with the plan and holds for it alone', async ({ page }) => {
  await start(page);
  const overlap = 'lies in';
  await row(page, overlap).getByRole('button', { name: /^line/ }).click();
  await page.getByRole('button', { name: 'Set aside, with a reason' }).click();
  const field = page.getByLabel('Why it is fine as it is');
  await expect(field).toBeFocused();
  await field.press('Enter');
  await expect(page.getByText('Give a reason: whoever reads the plan later wants to know it.')).toBeVisible();
  await field.fill('the tills move to a network of their own in May');
  await field.press('Enter');
  await expect(row(page, overlap)).toHaveCount(0);
  await page.getByRole('button', { name: 'Set aside 1' }).click();
  await expect(row(page, overlap)).toContainText('the tills move to a network of their own in May');
  await goTo(page, 'Hand-over');
  await expect(page.getByRole('heading', { name: /^Set aside, with your reason/ })).toBeVisible();
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the plan' }).click(),
  ]);
  const plan = await bytesIn(saved);
  expect(JSON.parse(plan.toString('utf8')).setAside).toMatchObject([{ code: 'subnets-overlap' }]);

  // The next backup of the box: a line more above, and the finding is known again.
  await page.reload();
  const next = faulty.toString('utf8').replace('<places>', '<places>\n<!-- spring -->');
  await open(page, 'quay-april.xml', Buffer.from(next));
  await goTo(page, 'Hand-over');
  await choose(page, 'Load a plan…', saved.suggestedFilename(), plan);
  await goTo(page, 'Findings');
  await expect(row(page, overlap)).toHaveCount(0);
  await page.getByRole('button', { name: 'Set aside 1' }).click();
  await row(page, overlap).getByRole('button', { name: /^line/ }).click();
  await page.getByRole('button', { name: 'Open it again' }).click();
  await page.getByRole('button', { name: /^All open/ }).click();
  await expect(row(page, overlap)).toHaveCount(1);
});

test('a group is set aside with one reason, as one step, and opened again', async ({ page }) => {
  await start(page);
  await page.getByRole('button', { name: 'By role' }).click();
  const head = page.getByRole('rowheader', { name: /^office, \d/ });
  await expect(head).toBeVisible();
  await page.getByRole('button', { name: 'By weight' }).click();
  const notes = page.getByRole('rowheader', { name: /^(Check|Note), \d/ }).first();
  const button = notes.getByRole('button', { name: /^Set \d+ aside/ });
  const amount = /\d+/.exec((await button.textContent())!)![0];
  await button.press('Enter');
  const field = page.getByLabel('Why it is fine as it is');
  await expect(field).toBeFocused();
  await field.press('Escape');
  await expect(button).toBeVisible();
  await button.click();
  await field.fill('looked at with the harbour office');
  await field.press('Enter');
  await page.getByRole('button', { name: `Set aside ${amount}` }).click();
  await expect(page.getByRole('row', { name: 'looked at with the harbour office' })).toHaveCount(Number(amount));
  await page.keyboard.press('Control+z');
  await expect(page.getByText('You set nothing aside.')).toBeVisible();
  await page.keyboard.press('Control+Shift+z');
  await page
    .getByRole('button', { name: /^Open \d+ again/ })
    .first()
    .click();
  await expect(page.getByText('You set nothing aside.')).toBeVisible();
});

test('what would break something cannot be set aside', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry networks', exact: true }).uncheck();
  await goTo(page, 'Findings');
  await page.getByRole('button', { name: /^Break \d/ }).click();
  await page
    .getByRole('row')
    .getByRole('button', { name: /^\d+ places/ })
    .first()
    .click();
  await page.getByRole('row').getByRole('button', { name: /^line/ }).first().click();
  await expect(page.getByText('Ground:')).toHaveCount(2);
  await expect(page.getByRole('button', { name: 'Set aside, with a reason' })).toHaveCount(0);
});

test('what one decision takes away is one row, and one step takes along what is needed', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await page.getByRole('checkbox', { name: 'Carry networks', exact: true }).uncheck();
  await goTo(page, 'Findings');
  const all = row(page, /^Break\d+ references name \d+ records that you left out with networks/);
  await expect(all).toHaveCount(1);
  await expect(row(page, 'reachable-from names office')).toHaveCount(0);
  const opener = all.getByRole('button', { name: /^\d+ places/ });
  await opener.focus();
  await page.keyboard.press('Enter');
  await expect(row(page, 'reachable-from names office')).toHaveCount(1);
  await expect(page.getByRole('button', { name: 'Put networks back' })).toBeVisible();
  expect(await violations(page)).toEqual([]);
  await goTo(page, 'Hand-over');
  await expect(
    page.getByRole('row').filter({ hasText: 'records that you left out with networks' }).first(),
  ).toContainText('from line');
  await goTo(page, 'Findings');
  await all.getByRole('button', { name: /^Take these \d+ along, and what they need/ }).click();
  await expect(row(page, 'left out with networks')).toHaveCount(0);
  await expect(row(page, 'and you left')).toHaveCount(0);
  await page.keyboard.press('Control+z');
  await expect(all).toHaveCount(1);
});

test('settings of one kind are left out, or set aside, as one', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Findings');
  const all = row(page, /3 settings of a driver or the kernel go along: hw\.ix\.flow_control/);
  await all.getByRole('button', { name: /^3 places/ }).click();
  await page.getByRole('button', { name: 'Set all 3 aside, with a reason' }).click();
  await page.getByLabel('Why it is fine as it is').fill('the new box has the same cards');
  expect(await violations(page)).toEqual([]);
  await page.keyboard.press('Enter');
  await expect(all).toHaveCount(0);
  await page.keyboard.press('Control+z');
  await all
    .getByRole('button', { name: /^Leave all 3 out/ })
    .first()
    .click();
  await expect(all).toHaveCount(0);
  await expect(cell(page, 'Ledger')).toContainText('3 left out');
});

test('the list is searched, shown in part, and grouped', async ({ page }) => {
  await start(page);
  await page.getByRole('searchbox', { name: 'Search findings' }).fill('tills');
  await expect(row(page, capitals)).toHaveCount(1);
  await expect(row(page, 'the broadcast address')).toHaveCount(0);
  await page.getByRole('searchbox', { name: 'Search findings' }).fill('no such words');
  await expect(page.getByText('No finding here says “no such words”.')).toBeVisible();
  await page.getByRole('searchbox', { name: 'Search findings' }).fill('');
  await page.getByRole('button', { name: 'By kind' }).click();
  await expect(page.getByRole('rowheader', { name: /^Addresses, \d/ })).toBeVisible();
  await page.getByRole('button', { name: /^With a repair/ }).click();
  await expect(row(page, 'lies in')).toHaveCount(0);
  await expect(row(page, capitals)).toHaveCount(1);
});

test('the subnet map says in its table what it draws', async ({ page }) => {
  await start(page);
  const map = page.getByRole('region', { name: 'Subnet map', exact: true });
  await expect(
    map.getByRole('img', { name: 'Subnet map of 5 networks, 2 of them overlap. The table says the same.' }),
  ).toBeVisible();
  await map.getByRole('button', { name: 'Table', exact: true }).click();
  const cards = map.getByRole('row').filter({ hasText: '10.20.51.0/25' });
  await expect(cards).toContainText('also in guest');
  await expect(map.getByRole('row').filter({ hasText: '10.20.0.0/24' })).toContainText('10.20.0.100 to 10.20.0.255');
  await cards.getByRole('button', { name: /^line 6/ }).click();
  await expect(page.getByRole('region', { name: 'The old file around line 6' })).toContainText('10.20.51.1');
  await page.getByRole('button', { name: 'Subnet map', exact: true }).click();
  await expect(map).toBeVisible();
});

for (const scheme of ['light', 'dark'] as const) {
  test(`no accessibility violation, ${scheme}: map, table, an open row, a reason, what was set aside`, async ({
    page,
  }) => {
    await page.emulateMedia({ colorScheme: scheme });
    await start(page);
    expect(await violations(page)).toEqual([]);
    await page.getByRole('button', { name: 'Table', exact: true }).click();
    expect(await violations(page)).toEqual([]);
    await row(page, capitals).getByRole('button', { name: /^line/ }).click();
    await page.getByRole('button', { name: 'Set aside, with a reason' }).click();
    expect(await violations(page)).toEqual([]);
    await page.getByLabel('Why it is fine as it is').fill('agreed');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Set aside 1' }).click();
    expect(await violations(page)).toEqual([]);
  });
}
