import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { openBackup } from '../../src/core/index.ts';
import type { Finding } from '../../src/core/views.ts';
import { fixture, hasStandards, hasYanglint, yanglint } from '../standards/support.ts';
import { findingsOf, fixtures, opened, openedFile } from './support.ts';

const said = ({ severity, code, place }: Finding) => `${severity} ${code} ${place?.line ?? 0}`;
const key = ({ code, params }: Finding) => `${code} ${JSON.stringify(params)}`;

// Source of the faults: the truth beside each file, written by whoever planted them.
describe('the names that lead nowhere in each corpus file', () => {
  it.each(Array.from({ length: 12 }, (_, at) => `a${String(at + 1).padStart(2, '0')}`))(
    '%s: the four that were planted, none invented',
    (name) => {
      const { dangling } = JSON.parse(readFileSync(`${fixtures}corpus/${name}.truth.json`, 'utf8')) as {
        dangling: { at: string }[];
      };
      const found = findingsOf(openedFile(`${fixtures}corpus/${name}.xml`))
        .filter(({ code }) => code.startsWith('reference-'))
        .map(({ place }) => place!.path);
      expect(dangling).toHaveLength(4);
      expect(found.sort()).toEqual(dangling.map(({ at }) => at).sort());
    },
  );
});

describe('the marina in an open standard', () => {
  const healthy = findingsOf(openedFile(`${fixtures}site/marina-netconf.xml`));

  // Source: yanglint accepts the file (test/fixtures/site). Read by eye: its outer addresses are of RFC 5737 and RFC 3849, it
  // has a door reader and card terminals, and its tunnel's key stands at both ends.
  it('healthy: notes for the sheet of the night, every one of them true, and nothing else', () => {
    expect(healthy.map(said)).toEqual([
      'note address-documentation 16',
      'note caution-mentioned 82',
      'note secrets-travel 890',
      'note caution-mentioned 977',
      'note secrets-travel 1008',
      'note secrets-travel 1138',
      'note secret-shared 1146',
    ]);
  });

  // Source: test/fixtures/site/broken/expected.md, printed by yanglint, which stops at the first fault; the lines are its own
  // where it prints them.
  it.each([
    ['01-dangling-leafref', ['warning reference-dangling 688']],
    ['02-duplicate-list-key', ['warning key-doubled 213']],
    // With this address the network of the tunnel's selector is nobody's any more.
    ['03-bad-ipv4', ['warning schema-type 37', 'warning reference-dangling 1181']],
    ['04-vlan-out-of-range', ['warning tag-name-differs 187', 'warning tag-out-of-range 192']],
    ['05-missing-mandatory', ['warning schema-missing 201']],
    ['07-mtu-out-of-range', ['warning frame-too-small 22']],
    // Four VLANs ask for what one port lacks.
    ['08-must-not-met', ['warning schema-must 145']],
    ['09-dangling-predicate-leafref', ['warning reference-dangling 1069']],
    // What has no place without the type rests on it.
    ['10-mandatory-and-when', ['warning schema-missing 95']],
  ] as const)('%s: what more is said', (name, wanted) => {
    const known = new Set(healthy.map(key));
    const found = findingsOf(openedFile(`${fixtures}site/broken/${name}.xml`));
    expect(found.filter((finding) => !known.has(key(finding))).map(said)).toEqual(wanted);
    // And nothing less than of the healthy one.
    const now = new Set(found.map(key));
    expect(healthy.filter((finding) => !now.has(key(finding)))).toEqual([]);
  });

  it('06-not-well-formed: it is refused, at the line that yanglint names', () => {
    const read = openBackup(new Uint8Array(readFileSync(`${fixtures}site/broken/06-not-well-formed.xml`)), 'x');
    expect(read.ok ? null : [read.trouble.code, read.trouble.line]).toEqual(['not-well-formed', 892]);
  });
});

/** The marina with one more protocol beside the static routes, whose two keys are given. */
const withProtocol = (type: string, name: string) =>
  fixture('marina-netconf.xml').replace(
    '    </control-plane-protocols>',
    `      <control-plane-protocol>\n        <type>${type}</type>\n        <name>${name}</name>\n      </control-plane-protocol>\n    </control-plane-protocols>`,
  );

// RFC 7950, 7.8.2: the values of all keys together are unique in a list.
describe('lists that two keys tell apart', () => {
  const doubled = (text: string) =>
    findingsOf(opened(text))
      .filter(({ code }) => code === 'key-doubled')
      .map(({ params }) => params.key);

  it('both keys alike are one double, one of them alike is none', () => {
    expect(doubled(withProtocol('rt:static', 'static'))).toEqual(['rt:static, static']);
    expect(doubled(withProtocol('rt:static', 'spare'))).toEqual([]);
  });

  it.skipIf(!hasYanglint || !hasStandards)('yanglint says the same', () => {
    expect(yanglint(withProtocol('rt:static', 'static'))).toContain('Duplicate instance of "control-plane-protocol"');
    expect(yanglint(withProtocol('rt:static', 'spare'))).not.toContain('Duplicate');
  });
});
