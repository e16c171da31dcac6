import { gzipSync } from 'node:zlib';
import { expect, test } from 'playwright/test';
import { choose, marina, open, plain } from './bench.ts';

const cases: { name: string; bytes: Buffer; title: string; says: (string | RegExp)[] }[] = [
  {
    name: 'cut.xml',
    bytes: plain().subarray(0, 20_000),
    title: 'This file stops in the middle',
    says: [
      /It ends inside <\S+>/,
      /line \d+, column \d+/,
      'Last whole element',
      'Copy the file from the old box again',
    ],
  },
  {
    name: 'ampersand.xml',
    bytes: Buffer.from('<site>\n  <name>Bait & Tackle</name>\n</site>\n'),
    title: 'This file breaks a rule of XML',
    says: ['Bait & Tackle', /line 2, column \d+/],
  },
  {
    name: 'crossed.xml',
    bytes: Buffer.from('<site><a></b></site>'),
    title: 'This file breaks a rule of XML',
    says: [/line 1, column \d+/],
  },
  {
    name: 'backup.xml.gz',
    bytes: gzipSync(marina()),
    title: 'This is not an XML file',
    says: ['a file packed with gzip', 'Unpack it'],
  },
  { name: 'nothing.xml', bytes: Buffer.alloc(0), title: 'This file is empty', says: ['It holds no byte at all.'] },
  {
    name: 'page.xml',
    bytes: Buffer.from('<!doctype html><html><body>Sign in</body></html>'),
    title: 'This is not an XML file',
    says: ['a web page'],
  },
  {
    name: 'latin.xml',
    bytes: Buffer.from('<?xml version="1.0" encoding="UTF-8"?>\n<a><b>Caf\u00e9</b></a>\n', 'latin1'),
    title: 'A byte does not fit the encoding',
    says: ['0xE9', 'line 2'],
  },
  {
    name: 'strange.xml',
    bytes: Buffer.from('<?xml version="1.0" encoding="EBCDIC-CP-NL"?><a/>'),
    title: 'We do not know this encoding',
    says: ['EBCDIC-CP-NL'],
  },
  {
    name: 'two.xml',
    bytes: Buffer.from('<a/>\n<b/>\n'),
    title: 'Two documents stand in one file',
    says: ['line 2'],
  },
  {
    name: 'entities.xml',
    bytes: Buffer.from('<!DOCTYPE a [<!ENTITY x "y">]>\n<a>&x;</a>'),
    title: 'This file carries its own definitions',
    says: ['line 1'],
  },
  {
    name: 'deep.xml',
    bytes: Buffer.from('<a>'.repeat(1200) + '</a>'.repeat(1200)),
    title: 'Elements are nested too deep',
    says: ['More than 1,000'],
  },
];

test('each bad file is refused with what, where and what to do', async ({ page }) => {
  await page.goto('/');
  for (const { name, bytes, title, says } of cases) {
    await test.step(name, async () => {
      await choose(page, /^Open (a|another) file…$/, name, bytes);
      const alert = page.getByRole('alert').filter({ hasText: name });
      await expect(alert).toBeVisible();
      await expect(alert.getByRole('heading')).toHaveText(title);
      for (const words of says) await expect(alert).toContainText(words);
      await expect(alert).toContainText('What you can do');
    });
  }
  await open(page, 'quay.xml', plain());
});
