import AxeBuilder from '@axe-core/playwright';
import { expect, type Locator, type Page, test } from 'playwright/test';
import { bytesIn, cell, choose, download, drop, goTo, open, plain, sheets } from './bench.ts';

/** What iproute2 prints for five sockets of a new box, in its form; see test/fixtures/receiver/SOURCES.md. */
const brief = `lo               UNKNOWN        00:00:00:00:00:00 <LOOPBACK,UP,LOWER_UP>
xe0              UP             02:00:5e:00:53:01 <BROADCAST,MULTICAST,UP,LOWER_UP>
xe1              UP             02:00:5e:00:53:02 <BROADCAST,MULTICAST,UP,LOWER_UP>
xe2              DOWN           02:00:5e:00:53:03 <NO-CARRIER,BROADCAST,MULTICAST,UP>
xe3              DOWN           02:00:5e:00:53:04 <NO-CARRIER,BROADCAST,MULTICAST,UP>
xe4              DOWN           02:00:5e:00:53:05 <NO-CARRIER,BROADCAST,MULTICAST,UP>
wg0              UNKNOWN        <POINTOPOINT,NOARP,UP,LOWER_UP>
`;

async function start(page: Page): Promise<void> {
  await page.goto('/');
  await open(page, 'quay.xml', plain());
  await goTo(page, 'Ports');
}

async function describeBox(page: Page, text: string): Promise<void> {
  await page.getByRole('button', { name: /^(Describe the new box…|The new box…)$/ }).click();
  const other = page.getByRole('button', { name: 'Describe it otherwise' });
  if (await other.isVisible()) await other.click();
  await page.getByLabel(/^Or paste what/).fill(text);
  await page.getByRole('button', { name: 'Read this text' }).click();
}

async function useBox(page: Page, text: string): Promise<void> {
  await describeBox(page, text);
  await page.getByRole('button', { name: /^Use th/ }).click();
  await expect(page.getByRole('dialog')).toBeHidden();
}

const bay = (page: Page) => page.getByRole('group', { name: /^Patch bay/ });
const oldPort = (page: Page, name: string) => bay(page).getByRole('button', { name: new RegExp(`^Port ${name}\\b`) });
const flag = (page: Page, title: string) => bay(page).getByRole('button', { name: new RegExp(`^\\d+ ${title}`) });
const newPort = (page: Page, name: string) => bay(page).getByRole('button', { name: new RegExp(` on ${name},`) });
/** The plate of a port of the new box, pressed or not. */
const plate = (page: Page, name: string) =>
  page
    .locator('.pl')
    .filter({ has: page.locator('.prow.fresh:first-child .nm', { hasText: new RegExp(`^${name}$`) }) });
const last = (page: Page) => cell(page, 'Your last decision');

/** Pulls by the pointer from the middle of one thing to the middle of another, in steps as a hand does. */
async function pull(page: Page, from: Locator, to: Locator): Promise<void> {
  await from.scrollIntoViewIfNeeded();
  const a = (await from.boundingBox())!;
  await page.mouse.move(a.x + a.width - 12, a.y + 14);
  await page.mouse.down();
  const b = (await to.boundingBox())!;
  await page.mouse.move(a.x + a.width + 20, a.y + 20, { steps: 3 });
  await page.mouse.move(b.x + 60, b.y + 14, { steps: 8 });
  await page.mouse.up();
}

async function saidBy(page: Page): Promise<Record<string, string>> {
  await goTo(page, 'Hand-over');
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the plan' }).click(),
  ]);
  return JSON.parse((await bytesIn(saved)).toString('utf8')).ports;
}

const swapped = { igb0: 'igb1', igb1: 'igb0' };

test.describe('two ports change places', () => {
  test('by pulling a cord', async ({ page }) => {
    await start(page);
    await pull(page, oldPort(page, 'igb0'), plate(page, 'igb1'));
    await page.getByRole('button', { name: /^Swap igb0 and igb1/ }).click();
    await expect(last(page)).toContainText('Swap igb0 and igb1');
    expect(await saidBy(page)).toEqual(swapped);
  });

  test('by keys alone', async ({ page }) => {
    await start(page);
    await oldPort(page, 'igb0').focus();
    await page.keyboard.press('Enter');
    await expect(newPort(page, 'igb0')).toBeFocused();
    await page.keyboard.press('ArrowDown');
    await expect(newPort(page, 'igb1')).toBeFocused();
    await page.keyboard.press('Enter');
    await expect(page.getByRole('dialog')).toBeVisible();
    await page.keyboard.press('Tab');
    while (!(await page.locator('dialog :focus', { hasText: /^Swap igb0 and igb1/ }).count()))
      await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await expect(last(page)).toContainText('Swap igb0 and igb1');
    expect(await saidBy(page)).toEqual(swapped);
  });

  test('by single presses: the port, then the new port', async ({ page }) => {
    await start(page);
    await oldPort(page, 'igb0').click();
    await newPort(page, 'igb1').click();
    await page.getByRole('button', { name: /^Swap igb0 and igb1/ }).click();
    expect(await saidBy(page)).toEqual(swapped);
  });

  test('by a list alone', async ({ page }) => {
    await start(page);
    await oldPort(page, 'igb0').click();
    await page.getByLabel('Change places: igb0 with', { exact: true }).selectOption('igb1');
    await expect(last(page)).toContainText('Swap igb0 and igb1');
    expect(await saidBy(page)).toEqual(swapped);
  });
});

test('arrows move among flags and ports, Escape gives back, and a pull is given back too', async ({ page }) => {
  await start(page);
  await flag(page, 'LTE standby line').focus();
  await page.keyboard.press('ArrowDown');
  await expect(flag(page, 'Harbour office')).toBeFocused();
  await page.keyboard.press('ArrowLeft');
  await expect(oldPort(page, 'igb2')).toBeFocused();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await expect(newPort(page, 'igb2')).toBeFocused();
  await page.keyboard.press('Escape');
  await expect(flag(page, 'Harbour office')).toBeFocused();
  await page.keyboard.press('Escape');
  await expect(newPort(page, 'igb2')).toHaveCount(0);
  const from = (await flag(page, 'Harbour office').boundingBox())!;
  const to = (await plate(page, 'igb0').boundingBox())!;
  await page.mouse.move(from.x + 40, from.y + 10);
  await page.mouse.down();
  await page.mouse.move(to.x + 40, to.y + 10, { steps: 6 });
  await expect(page.locator('.pl.over')).toHaveCount(1);
  await page.keyboard.press('Escape');
  await expect(page.locator('.pl.over')).toHaveCount(0);
  await page.mouse.up();
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await expect(cell(page, 'Ledger')).toContainText('0 changed');
});

test('what a command prints describes the new box, and says what was left aside', async ({ page }) => {
  await start(page);
  await describeBox(page, brief);
  const slip = page.getByRole('dialog');
  await expect(slip).toContainText('The new box has 5 ports');
  await expect(slip).toContainText('Taken for what “ip -br link”');
  await expect(slip).toContainText('wg0 (a tunnel');
  await slip.getByLabel('Label of xe1').fill('left  door');
  await slip.getByLabel('What you call it').fill('quay-new');
  await slip.getByRole('button', { name: 'Use these 5 ports' }).click();
  await expect(cell(page, 'New box')).toContainText('quay-new 5 ports');
  await expect(plate(page, 'xe1')).toContainText('label: left door');
  await expect(plate(page, 'xe2')).toContainText('nothing plugged in');
  await expect(bay(page)).toContainText('5 ports, 5 free');
  // It is no decision: the result stays byte for byte what it was.
  await expect(last(page).getByRole('button', { name: 'Undo' })).toBeHidden();
  expect((await download(page)).bytes.equals(plain())).toBe(true);
});

test('a description is saved, loaded, and forgotten', async ({ page }) => {
  await start(page);
  await describeBox(page, brief);
  await page.getByLabel('Label of xe0').fill('A');
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the description' }).click(),
  ]);
  const json = await bytesIn(saved);
  expect(JSON.parse(json.toString('utf8'))).toMatchObject({
    receiver: 1,
    ports: [{ name: 'xe0', label: 'A' }, {}, {}, {}, {}],
  });
  await page.getByRole('button', { name: 'Close' }).click();
  await expect(cell(page, 'New box')).toContainText('Ports as on the old box');
  await page.getByRole('button', { name: 'Describe the new box…' }).click();
  await choose(page, 'Choose its own backup…', saved.suggestedFilename(), json);
  await expect(page.getByLabel('Label of xe0')).toHaveValue('A');
  await page.getByRole('button', { name: /^Use th/ }).click();
  await expect(plate(page, 'xe0')).toContainText('label: A');
  await page.getByRole('button', { name: 'The new box…' }).click();
  await page.getByRole('button', { name: 'Forget the new box' }).click();
  await expect(cell(page, 'New box')).toContainText('Ports as on the old box');
});

/** The example with other names of ports: another box of the same make. Its comments and remarks are left as they are. */
const sister = () =>
  Buffer.from(
    plain()
      .toString('utf8')
      .split('\n')
      .map((line) => (/<!--|<remark>/.test(line) ? line : line.replace(/\bigb(\d)/g, 'em$1')))
      .join('\n'),
  );

test('its own backup describes the new box, chosen or dropped; the old one stays open', async ({ page }) => {
  await start(page);
  await drop(page, [{ name: 'sister.xml', text: sister().toString('utf8') }]);
  await page.getByRole('button', { name: /^It is the new box’s/ }).click();
  await expect(page.getByRole('dialog')).toContainText(/The new box has \d+ ports, by sister\.xml/, {
    timeout: 30_000,
  });
  await page.getByRole('button', { name: /^Use th/ }).click();
  await expect(cell(page, 'New box')).toContainText('sister.xml');
  await expect(cell(page, 'Old box')).toContainText('quay.xml');
  await expect(plate(page, 'em0')).toBeVisible();
  await page.getByRole('button', { name: 'Suggest…' }).click();
  const slip = page.getByRole('dialog');
  await expect(slip.getByRole('button', { name: /^by label/ })).toHaveAttribute('aria-disabled', 'false');
  await slip.getByRole('button', { name: /^by label/ }).click();
  await expect(slip.getByRole('row', { name: /igb0/ })).toContainText('em0');
  await slip.getByRole('button', { name: /^by order/ }).click();
  await slip.getByRole('button', { name: 'Take these 4' }).click();
  await expect(page.getByRole('heading', { name: 'Still to settle on this sheet' })).toBeHidden();
  expect((await download(page)).bytes.equals(sister())).toBe(true);
});

test('a paste that is something else is refused in clear words', async ({ page }) => {
  await start(page);
  const refusals = [
    ['default via 192.0.2.1 dev eth0\n10.0.0.0/8 via 192.168.1.1 dev eth1\n', 'a table of routes'],
    ['<box><port>eth0</port></box>', 'It looks like XML'],
    ['eth0\neth1\neth0\n', 'One port stands there twice'],
    ['lo: flags=8049<UP,LOOPBACK> mtu 16384\n', 'The new box has no ports here'],
    ['{"plan": 1, "ports": {}}', 'a saved plan'],
  ] as const;
  for (const [text, words] of refusals) {
    await describeBox(page, text);
    await expect(page.getByRole('alert')).toContainText(words);
    await page.getByRole('button', { name: 'Close' }).click();
  }
  await describeBox(page, 'eth0 ETH0 eth1');
  await expect(page.getByRole('dialog')).toContainText('Two ports differ in capital letters only');
  await page.getByRole('button', { name: 'Use these 3 ports' }).click();
  await expect(bay(page)).toContainText('3 ports, 3 free');
  await page.getByRole('button', { name: 'The new box…' }).click();
  await page.getByRole('button', { name: 'Describe it otherwise' }).click();
  await choose(page, 'Choose its own backup…', 'none.xml', Buffer.from('<box><a>1</a><b>2</b></box>'));
  await expect(page.getByRole('alert')).toContainText('Its backup names no port that we recognise');
});

test('suggestions are looked at before they are taken, in one step; a way that offers nothing says why', async ({
  page,
}) => {
  await start(page);
  await useBox(page, brief);
  await page.getByRole('button', { name: 'Suggest…' }).click();
  const slip = page.getByRole('dialog');
  await expect(slip.getByRole('button', { name: /^by speed/ })).toHaveAttribute('aria-disabled', 'true');
  await expect(slip).toContainText('Nothing by speed: the old backup tells no speed.');
  await expect(slip).toContainText('Nothing by label: the new box’s description tells no label.');
  await slip.getByRole('checkbox', { name: 'Put igb2 on xe2' }).uncheck();
  await slip.getByRole('button', { name: 'Take these 4' }).click();
  await expect(last(page)).toContainText('4 in all');
  await last(page).getByRole('button', { name: 'Undo' }).click();
  await expect(last(page).getByRole('button', { name: 'Undo' })).toBeHidden();
});

test('a role moves to a tagged device that the file does not have: one record more, and the way back', async ({
  page,
}) => {
  await start(page);
  await flag(page, 'Cameras & recorder').click();
  await page.getByLabel('VLAN ID').fill('4095');
  await expect(page.getByText('A VLAN ID is a number from 1 to 4094.')).toBeVisible();
  await page.getByLabel('VLAN ID').fill('444');
  await page.getByRole('combobox', { name: 'Port for Cameras & recorder' }).fill('igb2');
  await page.getByRole('button', { name: 'Move it alone' }).click();
  await expect(last(page)).toContainText('Move Cameras & recorder to igb2, tag 444');
  await expect(page.getByText('Adds one record')).toBeVisible();
  await expect(plate(page, 'igb2')).toContainText('Cameras & recorder');
  const { bytes } = await download(page);
  const lines = (text: string) => text.split('\n');
  const [before, after] = [lines(plain().toString('utf8')), lines(bytes.toString('utf8'))];
  const count = (all: string[]) =>
    all.reduce((map, line) => map.set(line, (map.get(line) ?? 0) + 1), new Map<string, number>());
  const [had, has] = [count(before), count(after)];
  const gone = before.filter((line) => (has.get(line) ?? 0) < had.get(line)!);
  const come = after.filter((line) => (had.get(line) ?? 0) < has.get(line)!);
  // One line changes: where the role names its device.
  expect(gone).toHaveLength(1);
  expect(gone[0]).toContain('igb3.40');
  expect(come.join('\n')).toContain('igb2.444');
  expect(after.length).toBeGreaterThan(before.length);
  await goTo(page, 'Ports');
  await flag(page, 'Cameras & recorder').click();
  await page.getByRole('button', { name: 'Give it back to igb3, tag 40' }).click();
  expect((await download(page)).bytes.equals(plain())).toBe(true);
});

test('fewer ports than roles: a role taken off its port is a loose end until it is put somewhere', async ({ page }) => {
  await start(page);
  await useBox(page, 'igb0 igb1 igb3 ix0 ix1');
  await expect(plate(page, 'igb2')).toContainText('the new box has no port of that name');
  await flag(page, 'Harbour office').click();
  await page.getByRole('button', { name: 'Take it off its port' }).click();
  await expect(bay(page).getByText('loose end')).toBeVisible();
  await expect(page.getByRole('heading', { level: 1 }).locator('..')).toContainText('1 loose end');
  await page.getByRole('combobox', { name: 'Port for Harbour office' }).fill('igb3');
  await page.getByLabel('VLAN ID').fill('20');
  await page.getByRole('button', { name: 'Move the role' }).click();
  await expect(bay(page).getByText('loose end')).toBeHidden();
  await expect(plate(page, 'igb3')).toContainText('Harbour office');
});

test('conflicts show at the plate and go when they are mended', async ({ page }) => {
  await start(page);
  await useBox(page, 'igb0 igb1 igb2 igb3 ix0 ix1 xe9');
  const settle = page.getByRole('heading', { name: 'Still to settle on this sheet' });
  await expect(settle).toBeHidden();

  // Two ports under one name.
  await pull(page, oldPort(page, 'igb0'), plate(page, 'igb1'));
  await page.getByRole('button', { name: /^Put both on igb1/ }).click();
  await expect(plate(page, 'igb1')).toContainText('would all be called igb1');
  await expect(settle).toBeVisible();
  await page.getByRole('button', { name: 'Keep igb0 where it is', exact: true }).click();
  await expect(settle).toBeHidden();
  await last(page).getByRole('button', { name: 'Undo' }).click();
  await last(page).getByRole('button', { name: 'Undo' }).click();

  // Two roles untagged on one port.
  await pull(page, flag(page, 'LTE standby line'), plate(page, 'igb2'));
  await page.getByRole('button', { name: /^Put both on igb2/ }).click();
  await expect(plate(page, 'igb2')).toContainText('both sit on igb2');
  await page
    .getByRole('button', { name: /^Move (LTE standby line|Harbour office) to / })
    .first()
    .click();
  await expect(plate(page, 'igb2')).not.toContainText('both sit on');
  await expect(settle).toBeHidden();

  // A port that an aggregate has taken.
  await flag(page, 'Guest Wi-Fi').click();
  await page.getByRole('combobox', { name: 'Port for Guest Wi-Fi' }).fill('ix0');
  await page.getByRole('button', { name: 'Move it alone' }).click();
  await expect(plate(page, 'ix0')).toContainText('one of the ports of lagg0');
  await page.getByRole('button', { name: /^Give Guest Wi-Fi back/ }).click();
  await expect(settle).toBeHidden();

  // A name that the new box does not have.
  await oldPort(page, 'igb0').click();
  const name = page.getByRole('combobox', { name: 'New port for igb0', exact: true });
  await name.fill('xe77');
  await name.press('Enter');
  await expect(plate(page, 'xe77')).toContainText('the new box has no port of that name');
});

test('leaving a role out shows what needs it first, and takes it along', async ({ page }) => {
  await start(page);
  await flag(page, 'Guest Wi-Fi').click();
  await page.getByRole('button', { name: /^Leave out, with \d+…/ }).click();
  const slip = page.getByRole('dialog', { name: 'Leave out Guest Wi-Fi?' });
  await expect(slip).toContainText('would point at nothing without it');
  await slip.getByRole('button', { name: /^Leave all \d+ out/ }).click();
  await expect(last(page)).toContainText('Leave out Guest Wi-Fi, with');
  await expect(flag(page, 'Guest Wi-Fi')).toContainText('left out');
  await goTo(page, 'Findings');
  await expect(page.getByRole('row').filter({ hasText: 'and you left' })).toHaveCount(0);
  await last(page).getByRole('button', { name: 'Undo' }).click();
  await expect(cell(page, 'Ledger')).toContainText('0 left out');
});

test('what follows a role is listed and leads to its place', async ({ page }) => {
  await start(page);
  await flag(page, 'Guest Wi-Fi').click();
  await page.getByRole('group').filter({ hasText: 'rule' }).locator('summary').first().click();
  await page
    .getByRole('button', { name: /^line \d+/ })
    .first()
    .click();
  await expect(page.getByRole('heading', { name: /^Line \d+/ })).toBeVisible();
});

test('a new box of 500 ports stays quick to use', async ({ page }) => {
  await start(page);
  await useBox(page, Array.from({ length: 500 }, (_, at) => `xe${at}`).join('\n'));
  await expect(bay(page)).toContainText('500 ports, 500 free');
  await expect(bay(page)).toContainText(/and 48\d free ports more/);
  await oldPort(page, 'igb0').click();
  const name = page.getByRole('combobox', { name: 'New port for igb0', exact: true });
  await name.fill('xe499');
  const from = Date.now();
  await name.press('Enter');
  await expect(plate(page, 'xe499')).toContainText('Fibre from the harbour exchange');
  // A few frames; the bound is for a loaded machine.
  expect(Date.now() - from).toBeLessThan(8000);
  await expect(bay(page)).toContainText('500 ports, 499 free');
});

for (const colorScheme of ['light', 'dark'] as const) {
  test(`nothing that axe finds, ${colorScheme}`, async ({ page }) => {
    test.slow();
    await page.emulateMedia({ colorScheme });
    const clean = async () => {
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
        .analyze();
      expect(violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 160)}`))).toEqual(
        [],
      );
    };
    await start(page);
    await page.getByRole('button', { name: 'Describe the new box…' }).click();
    await clean();
    await page.getByLabel(/^Or paste what/).fill('nothing of the kind');
    await page.getByRole('button', { name: 'Read this text' }).click();
    await clean();
    await page.getByRole('button', { name: 'Close' }).click();
    await describeBox(page, brief);
    await clean();
    await page.getByRole('button', { name: /^Use th/ }).click();
    await page.getByRole('button', { name: 'Suggest…' }).click();
    await expect(page.getByRole('button', { name: /^Take these/ })).toBeVisible();
    await clean();
    await page.getByRole('button', { name: 'Close' }).click();
    await flag(page, 'Guest Wi-Fi').click();
    await clean();
    await oldPort(page, 'igb0').click();
    await newPort(page, 'igb1').click();
    await clean();
    await page.getByRole('button', { name: /^Put both/ }).click();
    await page.getByRole('button', { name: 'Table', exact: true }).click();
    await clean();
  });
}

test('every sheet still opens with a new box described', async ({ page }) => {
  await start(page);
  await useBox(page, brief);
  for (const sheet of sheets) await goTo(page, sheet);
});
