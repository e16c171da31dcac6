import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readCertificates, verifyIssuers } from '../../src/core/reading/certificates/certificates.ts';
import { readMaterial } from '../../src/core/reading/certificates/material.ts';
import { materialIn } from '../../src/core/values/key-material.ts';
import { AUTHORITIES, LEAVES } from '../dialects/pki.ts';
import { documentOf } from './document.ts';

const base64 = (text: string) => Buffer.from(text).toString('base64');
const body = (pem: string) => pem.replace(/-----[^-]+-----|\s/g, '');
const read = (leaves: readonly string[]) => {
  const xml = `<box>${leaves.map((leaf) => `<item><kept>${leaf}</kept></item>`).join('')}</box>`;
  const { fields } = documentOf(xml);
  const material = readMaterial(fields);
  return { material, certificates: readCertificates(material) };
};

describe('one certificate in many spellings (RFC 7468; DER in base64 and hexadecimal)', () => {
  const { cert } = LEAVES[0];
  const spellings: Record<string, string> = {
    PEM: cert,
    'PEM with CRLF': cert.replaceAll('\n', '\r\n'),
    'PEM whose line ends became blanks': cert.replaceAll('\n', ' '),
    'PEM with line ends written out': cert.replaceAll('\n', '\\n'),
    'PEM in CDATA': `<![CDATA[${cert}]]>`,
    'PEM after text': `subject=gate\n${cert}`,
    'PEM in base64': base64(cert),
    'PEM in base64, wrapped': base64(cert).replace(/.{64}/g, '$&\n'),
    'DER in base64': body(cert),
    'DER in base64, wrapped': body(cert).replace(/.{76}/g, '$&\n      '),
    'DER in base64 without padding': body(cert).replace(/=+$/, ''),
    'DER in hexadecimal': Buffer.from(body(cert), 'base64').toString('hex'),
    'DER in hexadecimal with colons': Buffer.from(body(cert), 'base64')
      .toString('hex')
      .replace(/..(?=.)/g, '$&:'),
  };
  test.each(Object.keys(spellings))('%s', (spelling) => {
    const { certificates } = read([spellings[spelling]]);
    expect(certificates.map(({ subject }) => subject)).toEqual(['O=Kestrel Quay Marina, CN=gate.kestrelquay.example']);
  });

  test('a chain in one leaf gives one entry for each certificate', () => {
    const { certificates } = read([`${cert}\n${AUTHORITIES[0].cert}`]);
    expect(certificates.map(({ issuerAt }) => issuerAt)).toEqual([1, 1]);
    expect(new Set(certificates.map(({ site }) => site.node)).size).toBe(1);
  });

  test.each([
    ['cut short', cert.slice(0, 200)],
    ['with a broken letter', body(cert).replace('M', '!')],
    ['whose structure breaks off', body(cert).slice(0, 400)],
    ['random base64 that begins alike', `MIIB${'QuayMarina09'.repeat(40)}`],
  ])('a certificate %s is not listed and stops nothing', (_, value) => {
    expect(read([value, cert]).certificates).toHaveLength(1);
  });
});

test('a key fits a certificate by number, whatever stands beside it', () => {
  const leaves = [...LEAVES.map(({ key }) => key), ...LEAVES.map(({ cert }) => body(cert)).reverse()];
  const { certificates, material } = read(leaves);
  const keys = material.filter(({ kind }) => kind === 'private-key').map(({ site }) => site.node);
  expect(certificates.map(({ keyAt }) => keys.indexOf(keyAt?.node ?? -1))).toEqual([...LEAVES.keys()].reverse());
});

test('the authority is found by name, and proven by signature', async () => {
  const { certificates, material } = read([...AUTHORITIES, ...LEAVES].map(({ cert }) => cert));
  const wanted = [
    ...AUTHORITIES.keys(),
    ...LEAVES.map(({ issuer }) => AUTHORITIES.findIndex(({ name }) => name === issuer)),
  ];
  expect(certificates.map(({ issuerAt }) => issuerAt)).toEqual(wanted);
  expect((await verifyIssuers(certificates, material)).map(({ issuerAt }) => issuerAt)).toEqual(wanted);
});

const site = new URL('../../../shared/standards/site/marina-netconf.xml', import.meta.url);
const marina = (() => {
  try {
    return readFileSync(site, 'utf8');
  } catch {
    return null;
  }
})();

test.skipIf(marina === null)(
  'certificates inside CMS (RFC 5652) of a NETCONF configuration, with the key in SEC 1 form (RFC 5915)',
  () => {
    const { tree, fields } = documentOf(marina!);
    const certificates = readCertificates(readMaterial(fields));
    expect(certificates.map(({ subject, issuerAt }) => [subject, issuerAt])).toEqual([
      ['O=Kestrel Quay Marina (example), CN=kqm-gw1.kestrelquay.example', 1],
      ['O=Kestrel Quay Marina (example), CN=Kestrel Quay Test CA', 1],
    ]);
    expect(tree.names[tree.name[certificates[0].keyAt!.node]]).toBe('cleartext-private-key');
  },
);

const openssl = (folder: string, ...words: string[]) =>
  execFileSync('openssl', words, { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
const hasOpenssl = (() => {
  try {
    return openssl('.', 'version') !== '';
  } catch {
    return false;
  }
})();

describe.skipIf(!hasOpenssl)('against openssl', () => {
  let folder: string;
  const file = (name: string) => readFileSync(join(folder, name), 'utf8');
  const kinds: Record<string, { make: string[]; type: string }> = {
    rsa: { make: ['-algorithm', 'RSA', '-pkeyopt', 'rsa_keygen_bits:2048'], type: 'RSA 2048' },
    p256: { make: ['-algorithm', 'EC', '-pkeyopt', 'ec_paramgen_curve:P-256'], type: 'EC P-256' },
    p384: { make: ['-algorithm', 'EC', '-pkeyopt', 'ec_paramgen_curve:P-384'], type: 'EC P-384' },
    p521: { make: ['-algorithm', 'EC', '-pkeyopt', 'ec_paramgen_curve:P-521'], type: 'EC P-521' },
    k256: { make: ['-algorithm', 'EC', '-pkeyopt', 'ec_paramgen_curve:secp256k1'], type: 'EC secp256k1' },
    ed25519: { make: ['-algorithm', 'ED25519'], type: 'Ed25519' },
    ed448: { make: ['-algorithm', 'ED448'], type: 'Ed448' },
  };

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'carryover-x509-'));
    for (const [name, { make }] of Object.entries(kinds)) {
      openssl(folder, 'genpkey', ...make, '-out', `${name}.key`);
      openssl(
        folder,
        'req',
        '-x509',
        '-new',
        '-key',
        `${name}.key`,
        '-days',
        '30',
        '-subj',
        `/O=Kestrel Quay Marina/CN=${name}.kestrelquay.example`,
        '-out',
        `${name}.crt`,
      );
    }
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test.each(Object.keys(kinds))('%s: serial, dates, key type, and the key that fits', (name) => {
    const { certificates, material } = read([file(`${name}.key`), file(`${name}.crt`)]);
    const [{ serial, notBefore, notAfter, keyType, keyAt, subject }] = certificates;
    const field = (flag: string) =>
      openssl(folder, 'x509', '-in', `${name}.crt`, '-noout', flag).trim().replace(/^\w+=/, '');
    expect(serial.toUpperCase()).toBe(field('-serial'));
    expect(notBefore).toBe(new Date(field('-startdate')).toISOString().replace('.000Z', 'Z'));
    expect(notAfter).toBe(new Date(field('-enddate')).toISOString().replace('.000Z', 'Z'));
    expect(subject).toBe(`O=Kestrel Quay Marina, CN=${name}.kestrelquay.example`);
    expect(keyType).toBe(kinds[name].type);
    expect(keyAt).toEqual(material[0].site);
  });

  test.each(['p256', 'p384', 'p521', 'k256'])('%s: a key without its public point, and one in SEC 1 form', (name) => {
    openssl(folder, 'ec', '-in', `${name}.key`, '-no_public', '-out', `${name}.bare`);
    openssl(folder, 'pkcs8', '-topk8', '-nocrypt', '-in', `${name}.bare`, '-out', `${name}.bare8`);
    expect(file(`${name}.bare8`).length).toBeLessThan(file(`${name}.key`).length);
    for (const key of ['bare', 'bare8'])
      expect(read([file(`${name}.crt`), file(`${name}.${key}`)]).certificates[0].keyAt).not.toBeNull();
  });

  test('RSA in PKCS #1 form; an encrypted key fits nothing and is a key all the same', () => {
    openssl(folder, 'rsa', '-in', 'rsa.key', '-traditional', '-out', 'rsa.pkcs1');
    openssl(folder, 'pkcs8', '-topk8', '-in', 'rsa.key', '-passout', 'pass:low tide', '-out', 'rsa.locked');
    openssl(
      folder,
      'rsa',
      '-in',
      'rsa.key',
      '-traditional',
      '-aes128',
      '-passout',
      'pass:low tide',
      '-out',
      'rsa.locked1',
    );
    openssl(
      folder,
      'pkcs12',
      '-export',
      '-inkey',
      'rsa.key',
      '-in',
      'rsa.crt',
      '-passout',
      'pass:low tide',
      '-out',
      'rsa.p12',
    );
    expect(read([file('rsa.crt'), file('rsa.pkcs1')]).certificates[0].keyAt).not.toBeNull();
    expect(materialIn(file('rsa.locked')).map(({ kind }) => kind)).toEqual(['encrypted-key']);
    expect(materialIn(file('rsa.locked1')).map(({ kind }) => kind)).toEqual(['encrypted-key']);
    expect(materialIn(readFileSync(join(folder, 'rsa.p12')).toString('base64')).map(({ kind }) => kind)).toEqual([
      'key-store',
    ]);
    expect(read([file('rsa.crt'), file('rsa.locked')]).certificates[0].keyAt).toBeNull();
  });

  test('CMS, requests, revocation lists and bare public keys are told apart', () => {
    openssl(folder, 'crl2pkcs7', '-nocrl', '-certfile', 'rsa.crt', '-certfile', 'p256.crt', '-out', 'two.p7b');
    openssl(folder, 'req', '-new', '-key', 'p256.key', '-subj', '/CN=x', '-out', 'p256.csr');
    openssl(folder, 'pkey', '-in', 'p256.key', '-pubout', '-out', 'p256.pub');
    const kindsOf = (name: string) =>
      [materialIn(file(name)), materialIn(body(file(name)))].map((list) => list.map(({ kind }) => kind));
    expect(kindsOf('two.p7b')).toEqual([
      ['certificate', 'certificate'],
      ['certificate', 'certificate'],
    ]);
    expect(kindsOf('p256.csr')).toEqual([['certificate-request'], ['certificate-request']]);
    expect(kindsOf('p256.pub')).toEqual([['public-key'], ['public-key']]);
  });

  test('of two authorities with one name the one whose signature holds, as openssl verify says', async () => {
    const name = '/O=Kestrel Quay Marina/CN=Quay root';
    const plain = ['-set_serial', '7', '-days', '30'];
    writeFileSync(join(folder, 'none.cnf'), '[req]\ndistinguished_name=dn\n[dn]\n');
    for (const ca of ['old', 'new']) {
      openssl(folder, 'genpkey', ...kinds.p256.make, '-out', `${ca}.key`);
      openssl(
        folder,
        'req',
        '-x509',
        '-new',
        '-config',
        'none.cnf',
        '-key',
        `${ca}.key`,
        '-subj',
        name,
        ...plain,
        '-out',
        `${ca}.crt`,
      );
    }
    openssl(folder, 'req', '-new', '-config', 'none.cnf', '-key', 'rsa.key', '-subj', '/CN=gate', '-out', 'gate.csr');
    openssl(
      folder,
      'x509',
      '-req',
      '-in',
      'gate.csr',
      '-CA',
      'new.crt',
      '-CAkey',
      'new.key',
      ...plain,
      '-out',
      'gate.crt',
    );
    expect(openssl(folder, 'verify', '-CAfile', 'new.crt', 'gate.crt')).toContain('OK');
    const { certificates, material } = read([file('old.crt'), file('new.crt'), file('gate.crt')]);
    const proven = await verifyIssuers(certificates, material);
    expect(proven.map(({ issuerAt }) => issuerAt)).toEqual([0, 1, 1]);
    const { certificates: alone, material: held } = read([file('old.crt'), file('gate.crt')]);
    expect((await verifyIssuers(alone, held)).map(({ issuerAt }) => issuerAt)).toEqual([0, -1]);
  });
});
