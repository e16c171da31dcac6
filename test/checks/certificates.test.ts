import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SOON } from '../../src/core/checks/credentials/certificates.ts';
import { careOf, planOf, provenCertificates } from '../../src/core/index.ts';
import { findingsOf, fixtures, type Opened, opened, openedFile, said, sentence } from './support.ts';

const hasOpenssl = spawnSync('openssl', ['version']).status === 0;
const family = /^certificate-/;

// Source of every verdict here: openssl, which makes the certificates and judges them.
describe.skipIf(!hasOpenssl)('certificates, against openssl', () => {
  let folder = '';
  const at = (name: string) => join(folder, name);
  const text = (name: string) => readFileSync(at(name), 'utf8').trim();
  const openssl = (...args: string[]) =>
    execFileSync('openssl', args, { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] });
  const root = (name: string) =>
    openssl(
      'req',
      '-x509',
      '-nodes',
      '-newkey',
      'ec',
      '-pkeyopt',
      'ec_paramgen_curve:P-256',
      '-days',
      '3650',
      '-subj',
      `/CN=Kestrel Quay ${name}`,
      '-keyout',
      `${name}.key`,
      '-out',
      `${name}.crt`,
    );
  const leaf = (name: string, days: number, digest: string, ...key: string[]) => {
    openssl(
      'req',
      '-new',
      '-nodes',
      ...key,
      '-subj',
      `/CN=${name}.kestrelquay.example`,
      '-keyout',
      `${name}.key`,
      '-out',
      `${name}.csr`,
    );
    openssl(
      'x509',
      '-req',
      '-in',
      `${name}.csr`,
      '-CA',
      'root.crt',
      '-CAkey',
      'root.key',
      '-CAcreateserial',
      '-days',
      String(days),
      `-${digest}`,
      '-out',
      `${name}.crt`,
    );
  };
  const ec = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256'];

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'certificates-'));
    root('root');
    root('other');
    leaf('gate', 100, 'sha256', ...ec);
    leaf('mast', 100, 'sha256', ...ec);
    leaf('short', 100, 'sha256', '-newkey', 'rsa:1024');
    leaf('long', 100, 'sha256', '-newkey', 'rsa:2048');
    leaf('old', 100, 'sha1', ...ec);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const box = (entries: readonly (readonly [certificate: string, key: string | null])[], authorities = ['root']) =>
    `<box>\n<authorities>${authorities.map((name) => `<authority><id>a-${name}</id><text>${text(`${name}.crt`)}</text></authority>`).join('\n')}</authorities>
<store>${entries.map(([certificate, key], index) => `<entry><id>c${index}</id><text>${text(`${certificate}.crt`)}</text>${key ? `<hidden>${text(`${key}.key`)}</hidden>` : ''}</entry>`).join('\n')}</store>\n</box>\n`;
  const codes = (xml: string, now: string | null) =>
    findingsOf(opened(xml), { now })
      .filter(({ code }) => family.test(code))
      .map(({ code }) => code);
  const date = (name: string, which: string) =>
    new Date(openssl('x509', '-in', `${name}.crt`, '-noout', which).toString().split('=')[1]!.trim()).getTime();

  it('expired, and not yet valid: the same verdict as `openssl verify -attime`, to the second', () => {
    const [from, to] = [date('gate', '-startdate'), date('gate', '-enddate')];
    const xml = box([['gate', 'gate']]);
    for (const time of [from - 86_400_000, from - 1000, from, from + 1000, to - 1000, to + 1000, to + 86_400_000]) {
      const { stderr } = spawnSync(
        'openssl',
        ['verify', '-attime', String(time / 1000), '-CAfile', at('root.crt'), at('gate.crt')],
        { encoding: 'utf8' },
      );
      const theirs = /has expired/.test(stderr)
        ? 'certificate-expired'
        : /not yet valid/.test(stderr)
          ? 'certificate-not-yet'
          : null;
      const ours = codes(xml, new Date(time).toISOString()).filter((code) => /expired|not-yet/.test(code));
      // The authority was made a moment before, so before its time it says so of itself too.
      expect([time - from, [...new Set(ours)]]).toEqual([time - from, theirs ? [theirs] : []]);
    }
  });

  // RFC 5280, 4.1.2.5: the last second belongs to the time. openssl's own comparison leaves it out.
  it('the last second still counts', () => {
    const xml = box([['gate', 'gate']]);
    expect(codes(xml, new Date(date('gate', '-enddate')).toISOString())).toEqual(['certificate-expiring']);
  });

  it('ends soon: from sixty days before, and never without a clock', () => {
    const to = date('gate', '-enddate');
    const xml = box([['gate', 'gate']]);
    const days = (number: number) => new Date(to - number * 86_400_000).toISOString();
    expect(codes(xml, days(SOON + 1))).toEqual([]);
    expect(codes(xml, days(SOON))).toEqual(['certificate-expiring']);
    expect(codes(xml, null)).toEqual([]);
    const [finding] = findingsOf(opened(xml), { now: days(14) }).filter(({ code }) => family.test(code));
    expect(sentence(finding!)).toMatch(
      /^The certificate of “gate\.kestrelquay\.example” ends on \d{4}-\d\d-\d\d, in 14 days\.$/,
    );
  });

  it('keys: missing beside others, and another one’s', () => {
    const publicOf = (name: string, ...args: string[]) => openssl(...args, `${name}`).toString();
    // openssl says which halves belong together.
    expect(publicOf('gate.crt', 'x509', '-noout', '-pubkey', '-in')).toBe(
      publicOf('gate.key', 'pkey', '-pubout', '-in'),
    );
    expect(publicOf('gate.crt', 'x509', '-noout', '-pubkey', '-in')).not.toBe(
      publicOf('mast.key', 'pkey', '-pubout', '-in'),
    );
    expect(
      codes(
        box([
          ['gate', 'gate'],
          ['mast', 'mast'],
          ['long', 'long'],
        ]),
        null,
      ),
    ).toEqual([]);
    expect(
      codes(
        box([
          ['gate', 'gate'],
          ['mast', null],
          ['long', 'long'],
        ]),
        null,
      ),
    ).toEqual(['certificate-key-missing']);
    expect(codes(box([['gate', 'mast']]), null)).toEqual(['certificate-key-strange']);
    expect(codes(box([['gate', null]]), null)).toEqual([]);
  });

  it('issuers: the one that `openssl verify` wants and does not find', () => {
    const { stderr } = spawnSync('openssl', ['verify', '-CAfile', at('other.crt'), at('gate.crt')], {
      encoding: 'utf8',
    });
    expect(stderr).toMatch(/unable to get local issuer/);
    expect(codes(box([['gate', 'gate']], ['other']), null)).toEqual(['certificate-issuer-missing']);
    expect(codes(box([['gate', 'gate']], ['other', 'root']), null)).toEqual([]);
  });

  it('signatures: the one that `openssl verify` finds wrong, and no other', async () => {
    // The last unit of the certificate is the last of its signature.
    const der = openssl('x509', '-in', 'gate.crt', '-outform', 'DER');
    der[der.length - 1]! ^= 1;
    writeFileSync(at('forged.der'), der);
    openssl('x509', '-inform', 'DER', '-in', 'forged.der', '-out', 'forged.crt');
    const verdict = (name: string) =>
      spawnSync('openssl', ['verify', '-CAfile', at('root.crt'), at(name)], { encoding: 'utf8' });
    expect(verdict('forged.crt').stderr).toMatch(/signature failure/);
    expect(verdict('gate.crt').stdout).toMatch(/OK/);
    const file = opened(
      box([
        ['gate', 'gate'],
        ['forged', 'gate'],
        ['long', 'long'],
      ]),
    );
    const found = async (file: Opened) =>
      findingsOf(file, { proven: await provenCertificates(file.reading) }).filter(({ code }) => family.test(code));
    const [wrong, ...others] = await found(file);
    expect(others).toEqual([]);
    expect(wrong).toMatchObject({
      code: 'certificate-signature',
      place: { path: '/box[1]/store[1]/entry[2]/text[1]' },
    });
    expect(sentence(wrong!)).toBe(
      'The certificate of “gate.kestrelquay.example” names “Kestrel Quay root” as its issuer. The name fits one in this file, the signature does not.',
    );
    // It still holds of the others, whatever the plan sets elsewhere.
    const elsewhere = planOf([{ kind: 'set-value', path: '/box[1]/store[1]/entry[3]/id[1]', value: 'c9' }]);
    const other = planOf([{ kind: 'set-value', path: '/box[1]/store[1]/entry[3]/text[1]', value: text('mast.crt') }]);
    for (const plan of [elsewhere, other])
      expect(
        findingsOf(file, { proven: await provenCertificates(file.reading) }, plan)
          .filter(({ code }) => code === 'certificate-signature')
          .map(({ byPlan }) => byPlan),
      ).toEqual([false]);
    // What was tried does not speak for what the plan puts in its place.
    const mended = planOf([{ kind: 'set-value', path: '/box[1]/store[1]/entry[2]/text[1]', value: text('gate.crt') }]);
    const proof = { proven: await provenCertificates(file.reading) };
    expect(findingsOf(file, proof, mended).filter(({ code }) => family.test(code))).toEqual([]);
    // What is not tried is not accused.
    expect(findingsOf(file).filter(({ code }) => family.test(code))).toEqual([]);
    expect(careOf(file.backup, file.reading).certificates.map(({ signature }) => signature)).toEqual(
      Array(4).fill('named'),
    );
    const proven = await provenCertificates(file.reading);
    expect(careOf(file.backup, file.reading, proven).certificates.map(({ signature }) => signature)).toEqual([
      'checked',
      'checked',
      'fails',
      'checked',
    ]);
    const away = opened(box([['gate', 'gate']], ['other']));
    expect((await found(away)).map(({ code }) => code)).toEqual(['certificate-issuer-missing']);
  });

  it('strength: what `openssl x509 -text` prints', () => {
    const shows = (name: string) => openssl('x509', '-in', `${name}.crt`, '-noout', '-text').toString();
    expect(shows('short')).toMatch(/\(1024 bit\)/);
    expect(shows('long')).toMatch(/\(2048 bit\)/);
    expect(shows('old')).toMatch(/ecdsa-with-SHA1/);
    const xml = (name: string) => box([[name, name]]);
    expect(codes(xml('short'), null)).toEqual(['certificate-weak-key']);
    expect(codes(xml('long'), null)).toEqual([]);
    expect(codes(xml('old'), null)).toEqual(['certificate-weak-digest']);
  });

  it('the plan: a key or an authority that stays behind', () => {
    const file = opened(box([['gate', 'gate']]));
    const without = (path: string) =>
      said(findingsOf(file, {}, planOf([{ kind: 'leave-out', path }])), family).map((line) => line.split(' ')[0]);
    expect(without('/box[1]/store[1]/entry[1]/hidden[1]')).toEqual(['certificate-key-left-out']);
    expect(without('/box[1]/authorities[1]')).toEqual(['certificate-issuer-left-out']);
    expect(without('/box[1]/store[1]')).toEqual([]);
  });

  it('what the plan sets is judged as what stood there: the verdicts of openssl again', () => {
    openssl(
      'x509',
      '-req',
      '-in',
      'mast.csr',
      '-CA',
      'root.crt',
      '-CAkey',
      'root.key',
      '-days',
      '20',
      '-out',
      'soon.crt',
    );
    const file = opened(
      box([
        ['gate', 'gate'],
        ['mast', 'mast'],
        ['long', 'long'],
      ]),
    );
    const entry = (at: number, part: string) => `/box[1]/store[1]/entry[${at}]/${part}[1]`;
    const after = (...set: readonly (readonly [path: string, value: string])[]) =>
      findingsOf(
        file,
        { now: new Date(date('soon', '-startdate') + 1000).toISOString() },
        planOf(set.map(([path, value]) => ({ kind: 'set-value', path, value }))),
      )
        .filter(({ code }) => family.test(code))
        .map(({ code, byPlan, place }) => `${code} ${byPlan} ${place!.path}`);
    expect(after()).toEqual([]);
    // The last day is within sixty; the key beside it is not its own, which stands in the second record.
    expect(after([entry(1, 'text'), text('soon.crt')])).toEqual([
      `certificate-key-strange true ${entry(1, 'hidden')}`,
      `certificate-expiring true ${entry(1, 'text')}`,
    ]);
    expect(after([entry(2, 'text'), text('soon.crt')])).toEqual([`certificate-expiring true ${entry(2, 'text')}`]);
    expect(after([entry(1, 'text'), text('other.crt')], [entry(1, 'hidden'), text('other.key')])).toEqual([]);
    expect(after([entry(1, 'text'), text('gate.crt').slice(0, 300)])).toEqual([
      `certificate-unread true ${entry(1, 'text')}`,
    ]);
    expect(after([entry(1, 'hidden'), text('mast.key')])).toEqual([
      `certificate-key-strange true ${entry(1, 'hidden')}`,
    ]);
    expect(after([entry(1, 'hidden'), ''])).toEqual([`certificate-key-missing true ${entry(1, 'hidden')}`]);
    expect(after([entry(1, 'text'), ''], [entry(1, 'hidden'), ''])).toEqual([]);
    const issuer = '/box[1]/authorities[1]/authority[1]/text[1]';
    expect(after([issuer, text('other.crt')])).toEqual(
      [1, 2, 3].map((at) => `certificate-issuer-missing true ${entry(at, 'text')}`),
    );
  });

  it('a key under a passphrase may be the right one, so nothing is said', () => {
    openssl('pkcs8', '-topk8', '-in', 'gate.key', '-passout', 'pass:halyard', '-out', 'locked.key');
    expect(text('locked.key')).toMatch(/ENCRYPTED/);
    expect(codes(box([['gate', 'locked']]), null)).toEqual([]);
  });

  it('names and digests as openssl prints them', () => {
    openssl(
      'req',
      '-x509',
      '-nodes',
      ...ec,
      '-days',
      '10',
      '-subj',
      '/CN=plain',
      '-addext',
      'subjectAltName=DNS:a.kestrelquay.example,IP:10.20.0.1',
      '-keyout',
      'n.key',
      '-out',
      'n.crt',
    );
    writeFileSync(at('n.xml'), box([['n', 'n']]));
    const { reading } = openedFile(at('n.xml'));
    const [made] = reading.certificates.filter(({ names }) => names.includes('a.kestrelquay.example'));
    expect(made).toMatchObject({ names: ['a.kestrelquay.example', '10.20.0.1'], digest: 'SHA-256' });
    expect(reading.certificates.find(({ subject }) => subject.includes('root'))).toMatchObject({ isAuthority: true });
  });
});

it('says nothing of the healthy marina and the corpus', () => {
  for (const file of ['site/marina-netconf.xml', 'corpus/a01.xml', 'corpus/a07.xml'])
    expect(said(findingsOf(openedFile(fixtures + file), { now: '2026-11-26T00:00:00Z' }), family)).toEqual([]);
});
