import { createPrivateKey, generateKeyPairSync, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { encodeBase64 } from '../../src/core/values/base64.ts';
import { asWritten } from '../../src/core/values/material-form.ts';
import { LEAVES } from '../dialects/pki.ts';

const [one, other] = LEAVES.map(({ cert }) => new X509Certificate(cert));
const lined = (text: string, gap: string) => text.trim().split('\n').join(gap);
const base64 = (cert: X509Certificate) => cert.raw.toString('base64');
const folded = (text: string, length: number, gap: string) => text.match(new RegExp(`.{1,${length}}`, 'g'))!.join(gap);

/** Each way to write a certificate, by Node's own X.509 and Buffer. */
const forms: Record<string, (cert: X509Certificate) => string> = {
  pem: (cert) => `\n      ${lined(cert.toString(), '\n      ')}\n    `,
  'pem-escaped': (cert) => lined(cert.toString(), '\\n'),
  'pem-line': (cert) => lined(cert.toString(), ' '),
  'base64-pem': (cert) => Buffer.from(cert.toString()).toString('base64'),
  base64: (cert) => base64(cert),
  hex: (cert) => cert.raw.toString('hex'),
};

describe('a certificate in the form of another', () => {
  it.each(Object.entries(forms))('%s', (form, write) => {
    for (const text of [other!.toString(), `Subject: quay\n${other!.toString().replaceAll('\n', '\r\n')}`])
      expect(asWritten(write(one!), text)).toEqual({ form, value: write(other!) });
  });

  it('keeps the lines of the old value', () => {
    const write = (cert: X509Certificate) => `\n\t${folded(base64(cert), 60, '\n\t')}\n`;
    expect(asWritten(write(one!), other!.toString())).toEqual({ form: 'base64', value: write(other!) });
    const capitals = (cert: X509Certificate) => cert.raw.toString('hex').toUpperCase();
    expect(asWritten(capitals(one!), other!.toString())?.value).toBe(capitals(other!));
  });

  it('a chain stays a chain, and goes in no place for one', () => {
    const chain = `${one}${other}`;
    expect(asWritten(forms.pem!(one!), chain)?.value.match(/BEGIN CERTIFICATE/g)).toHaveLength(2);
    expect(asWritten(forms.base64!(one!), chain)).toBeNull();
  });

  it('leaves alone what is no PEM, and places that hold something else', () => {
    for (const text of [
      '',
      'web.kestrelquay.example',
      base64(other!),
      '-----BEGIN CERTIFICATE-----\n?\n-----END CERTIFICATE-----',
    ])
      expect(asWritten(forms.base64!(one!), text)).toBeNull();
    for (const old of ['', 'crew', 'YQ==', '30 minutes']) expect(asWritten(old, other!.toString())).toBeNull();
  });

  it('a key keeps its label', () => {
    const key = generateKeyPairSync('ec', { namedCurve: 'P-256' }).privateKey.export({ type: 'pkcs8', format: 'pem' });
    const { value } = asWritten(forms['pem-line']!(one!), key.toString())!;
    expect(createPrivateKey(value.replaceAll(/ (?!PRIVATE|KEY)/g, '\n')).export({ type: 'pkcs8', format: 'pem' })).toBe(
      key,
    );
  });
});

// RFC 4648, 10, and Node's Buffer.
describe('base64', () => {
  it.each([
    ['', ''],
    ['f', 'Zg=='],
    ['fo', 'Zm8='],
    ['foo', 'Zm9v'],
    ['foobar', 'Zm9vYmFy'],
  ])('of %j', (text, expected) => {
    expect(encodeBase64(new TextEncoder().encode(text))).toBe(expected);
  });

  it('of any bytes, as another encoder has it', () => {
    const bytes = readFileSync(new URL(import.meta.url));
    for (const length of [100, 101, 102])
      expect(encodeBase64(bytes.subarray(0, length))).toBe(bytes.subarray(0, length).toString('base64'));
  });
});
