import { createPrivateKey, X509Certificate } from 'node:crypto';
import { expect, type Page, test } from 'playwright/test';
import { violations } from './axe.ts';
import { bytesIn, cell, choose, download, goTo, marina, open, plain } from './bench.ts';

const text = () => plain().toString('utf8');
const tick = (page: Page, name: string) => page.getByRole('checkbox', { name: `Carry ${name}`, exact: true });
const decided = (page: Page) => cell(page, 'Your last decision');
const graft = (page: Page) =>
  page.getByRole('group', { name: 'What comes out' }).getByRole('button', { name: 'Graft', exact: true });

/** Opens the example, and another file as the new box's backup. */
async function begin(page: Page, receiver: string | Buffer): Promise<void> {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  await choose(page, /^Graft$/, 'new.xml', Buffer.from(receiver));
}

const block = (from: string, to: string, all = text()) =>
  all.slice(all.indexOf(from), all.indexOf(to, all.indexOf(from)) + to.length);
const authority = block('    <authority name="quay-root">', '</authority>\n');
const gateWeb = block('    <pair name="gate-web">', '</pair>\n');

/** The new box: other ports, another name, another office network, and only one pair of keys in its cabinet. */
function newBox(): string {
  const radius = block('    <pair name="radius-2024">', '</pair>\n');
  return text()
    .replace(authority, '')
    .replace(gateWeb, '')
    .replace(radius, '')
    .replace('<box-name>quay-gate<', '<box-name>quay-gate-2<')
    .replace('address="10.30.10.1" length="24"', 'address="10.31.10.1" length="24"')
    .replace(/([">])igb([0-3])/g, '$1em$2');
}

test('a certificate goes over with its key and its authority in three actions', async ({ page }) => {
  const receiver = newBox();
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Carry');
  // One: what comes out. Two: the file. Three: the certificate.
  await choose(page, /^Graft$/, 'new.xml', Buffer.from(receiver));
  await page.getByRole('button', { name: 'Put it in, gate-web', exact: true }).click();

  const books = page.getByRole('table').filter({ hasText: 'Come to them' });
  await expect(books.getByRole('row').filter({ hasText: 'Come to them' })).toContainText('2');
  await expect(books.getByRole('row').filter({ hasText: 'Replaced' })).toContainText('0');
  const { name, bytes } = await download(page);
  expect(name).toBe('new.carried.xml');
  await expect(page.getByRole('row', { name: /^Records of the new box’s own file, to which 2 come/ })).toBeVisible();
  const made = bytes.toString('utf8');
  // Without what came to it, it is the new box's own backup, byte for byte.
  expect(made).toContain(authority);
  expect(made).toContain(gateWeb);
  expect(made.replace(authority, '').replace(gateWeb, '')).toBe(receiver);
  // The key fits the certificate, and the authority signed it (node:crypto, OpenSSL).
  const pem = (kind: string, within: string) => block(`-----BEGIN ${kind}-----`, `-----END ${kind}-----`, within);
  const own = new X509Certificate(pem('CERTIFICATE', block('<pair name="gate-web">', '</pair>', made)));
  const root = new X509Certificate(pem('CERTIFICATE', block('<authority name="quay-root">', '</authority>', made)));
  const key = createPrivateKey(pem('EC PRIVATE KEY', block('<pair name="gate-web">', '</pair>', made)));
  expect([own.checkPrivateKey(key), own.checkIssued(root), own.verify(root.publicKey)]).toEqual([true, true, true]);
});

test('sheet 5 shows the new box’s own file before and after, secrets blacked out', async ({ page }) => {
  const receiver = newBox();
  await begin(page, receiver);
  await page.getByRole('button', { name: 'Put it in, gate-web', exact: true }).click();
  await goTo(page, 'Changes');
  await expect(page.getByText(/^1 place of new\.xml comes out otherwise/)).toBeVisible();
  const rows = page.getByRole('table', { name: 'Changes of the new box’s backup, in the order of the file' });
  await expect(rows.getByRole('row').filter({ hasText: 'put in' })).toContainText('<authority name="quay-root">');
  await expect(rows).not.toContainText('BEGIN EC PRIVATE KEY');
  expect(await violations(page)).toEqual([]);
  await page
    .getByRole('navigation', { name: 'Sections of the new box’s backup' })
    .getByRole('button', { name: /^key-cabinet/ })
    .click();
  await page.getByRole('button', { name: 'Open the source, both sides' }).click();
  await expect(page.getByText('New box’s backup left, result right.')).toBeVisible();
});

test('the new box by its own backup on sheet 2 serves for the graft, too', async ({ page }) => {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await cell(page, 'New box').getByRole('button', { name: 'Describe it' }).click();
  await choose(page, 'Choose its own backup…', 'new.xml', Buffer.from(newBox()));
  await page.getByRole('button', { name: /^Use these \d+ ports$/ }).click();
  await goTo(page, 'Carry');
  await graft(page).click();
  await expect(page.getByRole('heading', { name: 'new.xml' })).toBeVisible();
  await page.getByRole('button', { name: 'Put it in, gate-web', exact: true }).click();
  await expect(page.getByRole('region', { name: 'What goes in' })).toContainText('gate-web, in key-cabinet');
});

test('two ports that change places do so in what is put in, and nowhere else', async ({ page }) => {
  const receiver = text().replace(block('    <network code="uplink">', '</network>\n'), '');
  await begin(page, receiver);
  await goTo(page, 'Ports');
  await page.getByRole('button', { name: 'Table', exact: true }).click();
  await page.getByLabel('Change places: igb0 with', { exact: true }).selectOption('igb2');
  await goTo(page, 'Carry');
  await page.getByRole('button', { name: 'Records of networks' }).click();
  await tick(page, 'Fibre from the harbour exchange').check();
  await page.getByRole('checkbox', { name: 'Take along what it needs and the new box lacks' }).uncheck();
  await expect(page.getByRole('region', { name: 'What goes in' })).toContainText('Fibre from the harbour exchange');
  const { bytes } = await download(page);
  const made = bytes.toString('utf8');
  const uplink = block('    <network code="uplink">', '</network>\n', made);
  expect(uplink).toBe(block('    <network code="uplink">', '</network>\n').replace('>igb0<', '>igb2<'));
  expect(made.replace(uplink, '')).toBe(receiver);
});

test.describe('a key that both have, with other content', () => {
  const office = (address: string, code = 'office') =>
    block('    <network code="office">', '</network>\n')
      .replace('"10.30.10.1"', `"${address}"`)
      .replace('"office"', `"${code}"`);
  const receiver = text().replace('address="10.30.10.1"', 'address="10.31.10.1"');
  const asked = async (page: Page) => {
    await begin(page, receiver);
    await page.getByRole('button', { name: 'Records of networks' }).click();
    await tick(page, 'Harbour office').check();
    await page.getByRole('button', { name: 'Answer 1 question' }).click();
    const dialog = page.getByRole('dialog');
    await expect(dialog).toContainText('Both files have Harbour office');
    return dialog;
  };

  test('the new box’s is kept', async ({ page }) => {
    const dialog = await asked(page);
    await dialog.getByRole('radio', { name: /^Keep the new box’s/ }).check();
    await dialog.getByRole('button', { name: 'Keep it' }).click();
    await expect(page.getByRole('button', { name: /^new box’s kept/ })).toBeVisible();
    const { bytes } = await download(page);
    expect(bytes.toString('utf8')).toBe(receiver);
  });

  test('it is replaced', async ({ page }) => {
    const dialog = await asked(page);
    await expect(dialog.getByRole('row').filter({ hasText: '10.30.10.1' })).toContainText('10.31.10.1');
    await dialog.getByRole('radio', { name: /^Replace it/ }).check();
    await dialog.getByRole('button', { name: 'Replace it' }).click();
    await expect(page.getByRole('button', { name: /^replaced/ })).toBeVisible();
    const { bytes } = await download(page);
    expect(bytes.toString('utf8')).toBe(text());
  });

  test('or it is carried under another name, and what goes along and names it follows', async ({ page }) => {
    const dialog = await asked(page);
    await dialog.getByRole('radio', { name: /^Carry it under another name/ }).check();
    await dialog.getByRole('button', { name: 'Carry it so' }).click();
    await expect(page.getByRole('region', { name: 'Both boxes have these' })).toBeHidden();
    await tick(page, 'event-log').check();
    await page.getByRole('button', { name: /^Answer 1 question$/ }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Replace it' }).click();
    const { bytes } = await download(page);
    const made = bytes.toString('utf8');
    expect(made).toContain(office('10.31.10.1'));
    expect(made).toContain(office('10.30.10.1', 'office-2'));
    expect(made).toContain('<sent-from>office-2</sent-from>');
    expect(
      made.replace(office('10.30.10.1', 'office-2'), '').replace('<sent-from>office-2<', '<sent-from>office<'),
    ).toBe(receiver);
  });
});

test.describe('what cannot be grafted is said', () => {
  test('a receiver of another kind', async ({ page }) => {
    await begin(page, marina());
    await tick(page, 'time').check();
    await expect(page.getByRole('alert')).toContainText('The new box writes another kind of backup');
    await goTo(page, 'Hand-over');
    await expect(page.getByRole('alert')).toContainText('The new box writes another kind of backup');
    await expect(page.getByRole('main').getByRole('button', { name: /^Download/ })).toHaveAttribute(
      'aria-disabled',
      'true',
    );
  });

  test('a receiver of another form takes whole sections and no single record', async ({ page }) => {
    const rooms = Array.from(
      { length: 40 },
      (_, at) => `<room no="${at}"><wing>north</wing><paint>grey</paint></room>`,
    );
    const other = `<site-record edition="9">\n  <rooms>${rooms.join('')}</rooms>\n  <roof><slates>340</slates><gutters>4</gutters></roof>\n</site-record>\n`;
    await begin(page, other);
    await expect(page.getByText(/^It is written in another form/)).toBeVisible();
    await page.getByRole('button', { name: 'Records of crews' }).click();
    await tick(page, 'keepers').check();
    await expect(page.getByRole('alert')).toContainText('The new backup is written in another form');
    await tick(page, 'keepers').uncheck();
    await tick(page, 'calendars').check();
    await expect(page.getByRole('table').filter({ hasText: 'Come to them' })).toBeVisible();
    // Single records have no place there, so none is offered.
    await expect(page.getByRole('checkbox', { name: /^Take along/ })).toBeHidden();
    await expect(page.getByRole('button', { name: /^Put it in/ })).toBeHidden();
    const { bytes } = await download(page);
    const made = bytes.toString('utf8');
    expect(made).toContain(block('  <calendars>', '</calendars>\n'));
    expect(made.replace(block('  <calendars>', '</calendars>\n'), '')).toBe(other);
  });

  test('the donor’s own backup', async ({ page }) => {
    await begin(page, plain());
    await expect(page.getByText(/^This is the old box’s own backup/)).toBeVisible();
    await tick(page, 'traffic-rules').check();
    await expect(page.getByRole('table').filter({ hasText: 'Come to them' })).toBeVisible();
    const { bytes } = await download(page);
    expect(bytes.equals(plain())).toBe(true);
  });

  test('a receiver that has no such section gets it whole, in its place', async ({ page }) => {
    const crews = block('  <crews>', '</crews>\n');
    const receiver = text().replace(crews, '');
    await begin(page, receiver);
    await tick(page, 'crews').check();
    await expect(page.getByRole('region', { name: 'What goes in' })).toContainText('crews');
    const { bytes } = await download(page);
    expect(bytes.toString('utf8')).toBe(text());
  });

  test('a file that is no backup, and one that is cut off: the one before stays', async ({ page }) => {
    await begin(page, newBox());
    await expect(page.getByRole('heading', { name: 'new.xml' })).toBeVisible();
    await choose(page, 'Open another…', 'half.xml', plain().subarray(0, 9000));
    await expect(page.getByRole('alert')).toContainText('It is at line');
    await expect(page.getByRole('heading', { name: 'new.xml' })).toBeVisible();
    await page.getByRole('button', { name: 'Put it away' }).click();
    await expect(page.getByRole('heading', { name: 'A graft needs the new box’s own backup' })).toBeVisible();
  });

  test('nothing is ticked', async ({ page }) => {
    await begin(page, newBox());
    await expect(page.getByText('Nothing is ticked yet')).toBeVisible();
    await goTo(page, 'Hand-over');
    await expect(page.getByRole('alert')).toContainText('Nothing is ticked yet');
  });
});

test('what is named and neither goes over nor is there is told, and taking it along mends it', async ({ page }) => {
  const receiver = text()
    .replace(block('    <person login="dockhand">', '</person>\n'), '')
    .replace(block('    <crew name="lookouts">', '</crew>\n'), '');
  await begin(page, receiver);
  await page.getByRole('button', { name: 'Records of crews' }).click();
  await tick(page, 'lookouts').check();
  const along = page.getByRole('checkbox', { name: 'Take along what it needs and the new box lacks' });
  await expect(page.getByText('1 record comes along:')).toContainText('Dock crew tablet');
  await along.uncheck();
  await expect(page.getByRole('heading', { name: '1 name would lead nowhere on the new box' })).toBeVisible();
  // Names that the new box has are no lack.
  await goTo(page, 'Findings');
  await expect(page.getByRole('row').filter({ hasText: 'dockhand' }).first()).toBeVisible();
  await expect(page.getByRole('row').filter({ hasText: 'winterwatch' })).toHaveCount(0);
  await goTo(page, 'Carry');
  await along.check();
  const { bytes } = await download(page);
  const made = bytes.toString('utf8');
  const [person, crew] = [
    block('    <person login="dockhand">', '</person>\n'),
    block('    <crew name="lookouts">', '</crew>\n'),
  ];
  expect(made).toContain(person);
  expect(made.replace(person, '').replace(crew, '')).toBe(receiver);
});

test('by keys alone: graft, file, tick, answer, download', async ({ page }) => {
  const receiver = text().replace('<zone>Europe/Dublin</zone>', '<zone>UTC</zone>');
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await page.keyboard.press('3');
  await expect(page.getByRole('heading', { name: 'Carry', exact: true })).toBeVisible();
  const focused = () =>
    page.evaluate(() => {
      const at = document.activeElement;
      return `${at?.getAttribute('aria-label') ?? ''} ${at?.textContent ?? ''}`.trim();
    });
  const tabTo = async (name: RegExp) => {
    for (let at = 0; at < 150; at++) {
      if (name.test(await focused())) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`Tab does not reach ${name}`);
  };
  await tabTo(/^Graft$/);
  const [dialog] = await Promise.all([page.waitForEvent('filechooser'), page.keyboard.press('Enter')]);
  await dialog.setFiles({ name: 'new.xml', mimeType: 'text/xml', buffer: Buffer.from(receiver) });
  await expect(page.getByRole('heading', { name: 'new.xml' })).toBeVisible();
  await page.keyboard.press('Control+Home');
  await tabTo(/^Skip to the sheet/);
  await tabTo(/^identity|Mark.*identity/);
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Space');
  await expect(decided(page)).toContainText('Carry time');
  await tabTo(/^Answer 1 question$/);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('dialog')).toBeVisible();
  await tabTo(/^Replace it$/);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('dialog')).toBeHidden();
  await page.keyboard.press('6');
  await expect(page.getByText('New box’s ledger balances')).toBeVisible();
  await tabTo(/^Download new\.carried\.xml$/);
  const [got] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  expect((await bytesIn(got)).toString('utf8')).toBe(text());
});

test('a rule comes to stand next to its neighbours, and where the list tells it to', async ({ page }) => {
  const rule = block('    <rule id="r-1190"', '</rule>\n');
  // A letter that the file can hold is put in as itself.
  const receiver = newBox().replace(rule, '');
  await begin(page, receiver);
  await page.getByRole('button', { name: 'Records of traffic-rules', exact: true }).click();
  const name = 'Wi-Fi for visitors – Café opens it on 1 April';
  await page.getByRole('searchbox', { name: /^Search names/ }).fill('r-1190');
  await tick(page, name).check();
  await page.getByRole('checkbox', { name: 'Take along what it needs and the new box lacks' }).uncheck();
  const places = page.getByRole('region', { name: 'Where it comes to stand' });
  await expect(places).toContainText('behind Guests stay outside, as on the old box');
  expect((await download(page)).bytes.toString('utf8')).toBe(newBox().replace('&#x2013;', '–'));

  await goTo(page, 'Carry');
  await places.getByRole('button', { name: `Another place for ${name}` }).click();
  const place = places.getByRole('combobox', { name: `What ${name} comes to stand behind` });
  await place.selectOption('At the start');
  await expect(decided(page)).toContainText(`Put ${name} at the start`);
  await expect(places).toContainText('at the start, as you say');
  const head = '  <traffic-rules>\n';
  expect((await download(page)).bytes.toString('utf8')).toBe(
    receiver.replace(head, head + rule.replace('&#x2013;', '–')),
  );

  await goTo(page, 'Carry');
  await places.getByRole('button', { name: `Take back the place of ${name}` }).click();
  await places.getByRole('button', { name: `Another place for ${name}` }).click();
  await expect(place.locator('option:checked')).toHaveText('Behind Guests stay outside');
});

for (const colorScheme of ['light', 'dark'] as const) {
  test.describe(colorScheme, () => {
    test.use({ colorScheme });
    test('axe finds nothing: no receiver, its books, a question, a refusal', async ({ page }) => {
      test.slow();
      await begin(page, newBox());
      await expect(page.getByRole('heading', { name: 'new.xml' })).toBeVisible();
      expect(await violations(page)).toEqual([]);
      await tick(page, 'networks').check();
      await tick(page, 'key-cabinet').check();
      await page.getByRole('button', { name: /^Answer \d+ questions?$/ }).click();
      await expect(page.getByRole('dialog')).toBeVisible();
      expect(await violations(page)).toEqual([]);
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: 'Records of networks' }).click();
      await page.getByRole('button', { name: 'Harbour office', exact: true }).first().click();
      expect(await violations(page)).toEqual([]);
      await goTo(page, 'Changes');
      expect(await violations(page)).toEqual([]);
      await goTo(page, 'Hand-over');
      await expect(page.getByText('New box’s ledger balances')).toBeVisible();
      expect(await violations(page)).toEqual([]);
      await goTo(page, 'Carry');
      await page.getByRole('button', { name: 'Put it away' }).click();
      expect(await violations(page)).toEqual([]);
      await choose(page, 'Open the new box’s backup…', 'other.xml', marina());
      await expect(page.getByRole('alert')).toBeVisible();
      expect(await violations(page)).toEqual([]);
    });
  });
}
