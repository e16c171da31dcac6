import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { asPlanned, type Decision, type Plan, planOf, provenCertificates } from '../../src/core/index.ts';
import { findingsOf, type Opened, opened } from './support.ts';

const hasOpenssl = spawnSync('openssl', ['version']).status === 0;
const ec = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes'];

// Source of every verdict: openssl, which makes the certificates and judges them. All keys are made here and thrown away.
describe.skipIf(!hasOpenssl)('who signed a certificate, against `openssl verify`', () => {
  let folder = '';
  const at = (name: string) => join(folder, name);
  const text = (name: string) => readFileSync(at(`${name}.crt`), 'utf8').trim();
  const openssl = (...args: string[]) =>
    execFileSync('openssl', args, { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] });
  const verifies = (certificate: string, ...authorities: string[]) => {
    writeFileSync(at('all.pem'), authorities.map(text).join('\n'));
    return spawnSync('openssl', ['verify', '-CAfile', at('all.pem'), at(`${certificate}.crt`)]).status === 0;
  };
  /** An authority; `quay` and `quay-new` have one name and two keys. */
  const authority = (file: string, name: string, ids: boolean) => {
    const none = ids ? [] : ['-addext', 'subjectKeyIdentifier=none', '-addext', 'authorityKeyIdentifier=none'];
    openssl(
      'req',
      '-x509',
      ...ec,
      '-days',
      '900',
      '-subj',
      `/CN=${name}`,
      ...none,
      '-keyout',
      `${file}.key`,
      '-out',
      `${file}.crt`,
    );
  };
  const leaf = (file: string, by: string, ids: boolean) => {
    openssl(
      'req',
      '-new',
      ...ec,
      '-subj',
      `/CN=${file}.kestrelquay.example`,
      '-keyout',
      `${file}.key`,
      '-out',
      `${file}.csr`,
    );
    writeFileSync(
      at('ids.ext'),
      ids ? 'authorityKeyIdentifier=keyid:always\n' : 'subjectKeyIdentifier=none\nauthorityKeyIdentifier=none\n',
    );
    openssl(
      'x509',
      '-req',
      '-in',
      `${file}.csr`,
      '-CA',
      `${by}.crt`,
      '-CAkey',
      `${by}.key`,
      '-CAcreateserial',
      '-days',
      '300',
      '-extfile',
      'ids.ext',
      '-out',
      `${file}.crt`,
    );
  };
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'signatures-'));
    for (const ids of [true, false]) {
      const sign = ids ? '' : '-bare';
      authority(`quay${sign}`, 'Kestrel Quay', ids);
      authority(`quay-new${sign}`, 'Kestrel Quay', ids);
      leaf(`gate${sign}`, `quay-new${sign}`, ids);
      leaf(`mast${sign}`, `quay${sign}`, ids);
    }
    authority('other', 'Another Quay', true);
    leaf('lamp', 'other', true);
    const der = openssl('x509', '-in', 'gate.crt', '-outform', 'DER');
    der[der.length - 1]! ^= 1;
    writeFileSync(at('forged.der'), der);
    openssl('x509', '-inform', 'DER', '-in', 'forged.der', '-out', 'forged.crt');
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const box = (authorities: readonly string[], leaves: readonly string[]) =>
    opened(
      `<box><authorities>${authorities.map((name, index) => `<authority><id>a${index}</id><text>${text(name)}</text></authority>`).join('')}</authorities>
<store>${leaves.map((name, index) => `<entry><id>c${index}</id><text>${text(name)}</text></entry>`).join('')}</store></box>`,
    );
  const entry = (index: number) => `/box[1]/store[1]/entry[${index}]/text[1]`;
  const ca = (index: number) => `/box[1]/authorities[1]/authority[${index}]/text[1]`;
  const set = (path: string, name: string): Decision => ({ kind: 'set-value', path, value: text(name) });
  const tried = async (file: Opened, plan: Plan) => {
    const planned = asPlanned(file.backup, file.reading, plan);
    return { of: planned.certificates, list: await provenCertificates(planned) };
  };
  const found = async (file: Opened, plan: Plan, isTried = true) => {
    const circumstances = isTried
      ? { proven: await provenCertificates(file.reading), provenSet: await tried(file, plan) }
      : {};
    return findingsOf(file, circumstances, plan)
      .filter(({ code }) => code.startsWith('certificate-'))
      .map(({ code, byPlan, place }) => `${code} ${byPlan ? 'plan' : 'file'} ${place!.path}`);
  };

  it('what the plan sets is tried as what stood there', async () => {
    const file = box(['quay-new', 'other'], ['gate', 'lamp']);
    expect(verifies('gate', 'quay-new') && verifies('lamp', 'other')).toBe(true);
    expect(await found(file, planOf([]))).toEqual([]);
    expect(verifies('forged', 'quay-new', 'other')).toBe(false);
    expect(await found(file, planOf([set(entry(2), 'forged')]))).toEqual([`certificate-signature plan ${entry(2)}`]);
    expect(await found(file, planOf([set(entry(2), 'gate')]))).toEqual([]);
    const [bad] = findingsOf(
      file,
      { provenSet: await tried(file, planOf([set(entry(2), 'forged')])) },
      planOf([set(entry(2), 'forged')]),
    ).filter(({ code }) => code === 'certificate-signature');
    expect(bad?.repairs).toEqual([
      { code: 'take-back', params: {}, decisions: [], withdraws: [`set-value ${entry(2)}`] },
    ]);
    // Before it is tried nobody is accused.
    expect(await found(file, planOf([set(entry(2), 'forged')]), false)).toEqual([]);
  });

  it('an authority that gives way to one of its name: what it signed no longer holds', async () => {
    const file = box(['quay-bare', 'other'], ['mast-bare', 'lamp']);
    expect(verifies('mast-bare', 'quay-new-bare', 'other')).toBe(false);
    expect(await found(file, planOf([set(ca(1), 'quay-new-bare')]))).toEqual([
      `certificate-signature plan ${entry(1)}`,
    ]);
    expect(await found(file, planOf([set(ca(2), 'quay-bare')]))).toEqual([
      `certificate-issuer-missing plan ${entry(2)}`,
    ]);
  });

  // RFC 5280, 4.2.1.1: the key identifier tells authorities of one name apart; where none is told the signature does.
  it.each([
    ['by key identifier', '', false],
    ['by signature alone', '-bare', true],
  ])('two authorities of one name: the right one, %s', async (_, sign, isTried) => {
    const [old, young] = [`quay${sign}`, `quay-new${sign}`];
    const file = box([old, young], [`gate${sign}`, `mast${sign}`]);
    expect([verifies(`gate${sign}`, old), verifies(`gate${sign}`, young)]).toEqual([false, true]);
    expect([verifies(`mast${sign}`, old), verifies(`mast${sign}`, young)]).toEqual([true, false]);
    const without = (index: number) =>
      found(file, planOf([{ kind: 'leave-out', path: `/box[1]/authorities[1]/authority[${index}]` }]), isTried);
    expect(await without(1)).toEqual([`certificate-issuer-left-out plan ${entry(2)}`]);
    expect(await without(2)).toEqual([`certificate-issuer-left-out plan ${entry(1)}`]);
    // Before a signature is tried either may have signed it, so nothing is said.
    if (isTried)
      expect(
        await found(file, planOf([{ kind: 'leave-out', path: '/box[1]/authorities[1]/authority[1]' }]), false),
      ).toEqual([]);
  });

  it('an authority that is held twice: one of both is enough', async () => {
    const file = box(['quay-new', 'quay-new'], ['gate']);
    for (const index of [1, 2])
      expect(
        await found(file, planOf([{ kind: 'leave-out', path: `/box[1]/authorities[1]/authority[${index}]` }])),
      ).toEqual([]);
    expect(await found(file, planOf([{ kind: 'leave-out', path: '/box[1]/authorities[1]' }]))).toEqual([
      `certificate-issuer-left-out plan ${entry(1)}`,
    ]);
  });
});
