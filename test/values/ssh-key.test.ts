import { execFileSync, spawnSync } from 'node:child_process';
import { generateKeyPairSync } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { careOf } from '../../src/core/index.ts';
import { materialIn } from '../../src/core/values/key-material.ts';
import { publicHalfOf } from '../../src/core/values/key-pair.ts';
import { sshKeysIn, sshPublicKey } from '../../src/core/values/ssh-key.ts';
import { pathOf, sitePath } from '../../src/core/xml/path.ts';
import { open } from '../carry/files.ts';

const hasTool = spawnSync('ssh-keygen', ['-?']).error === undefined;
const string = (octets: Uint8Array | string) => {
  const bytes = Buffer.from(octets as string);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(bytes.length);
  return Buffer.concat([length, bytes]);
};

describe('public keys in their octets', () => {
  test('Ed25519 (RFC 8709, 4): the key of Node, written by hand', () => {
    const { publicKey } = generateKeyPairSync('ed25519');
    const spki = publicKey.export({ type: 'spki', format: 'der' });
    const octets = Buffer.concat([string('ssh-ed25519'), string(spki.subarray(-32))]);
    expect(sshPublicKey(octets)).toEqual({ algorithm: 'ssh-ed25519', half: publicHalfOf(spki) });
  });

  test('RSA (RFC 4253, 6.6): exponent and modulus, with the sign octet of an mpint', () => {
    const { publicKey } = generateKeyPairSync('rsa', { modulusLength: 2048 });
    const { n, e } = publicKey.export({ format: 'jwk' });
    const octets = Buffer.concat([
      string('ssh-rsa'),
      string(Buffer.from(e!, 'base64url')),
      string(Buffer.concat([Buffer.from([0]), Buffer.from(n!, 'base64url')])),
    ]);
    expect(sshPublicKey(octets)?.half).toEqual(publicHalfOf(publicKey.export({ type: 'spki', format: 'der' })));
    expect(sshPublicKey(octets)?.half?.keyType).toBe('RSA 2048');
  });

  test.each([
    ['P-256', 'nistp256'],
    ['P-384', 'nistp384'],
    ['P-521', 'nistp521'],
  ])('a point of %s (RFC 5656, 3.1)', (namedCurve, name) => {
    const { publicKey } = generateKeyPairSync('ec', { namedCurve });
    const { x, y } = publicKey.export({ format: 'jwk' });
    const point = Buffer.concat([Buffer.from([4]), Buffer.from(x!, 'base64url'), Buffer.from(y!, 'base64url')]);
    const octets = Buffer.concat([string(`ecdsa-sha2-${name}`), string(name), string(point)]);
    expect(sshPublicKey(octets)?.half).toEqual(publicHalfOf(publicKey.export({ type: 'spki', format: 'der' })));
  });

  test('octets that are cut short, or of another kind, are no key', () => {
    const octets = Buffer.concat([string('ssh-ed25519'), string(Buffer.alloc(32, 7))]);
    for (let size = 0; size < 15; size++) expect(sshPublicKey(octets.subarray(0, size))).toBeNull();
    expect(sshPublicKey(octets.subarray(0, 40))?.half).toBeNull();
    expect(sshPublicKey(string('office'))).toBeNull();
  });
});

describe.skipIf(!hasTool)('keys that ssh-keygen makes', () => {
  let folder = '';
  const made: Record<string, { secret: string; open: string; spki: Buffer | null }> = {};
  const kinds = { ed25519: [], rsa: ['-b', '2048'], ecdsa: ['-b', '384'] };
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'ssh-'));
    for (const [kind, size] of Object.entries(kinds)) {
      for (const passphrase of ['', 'bollard seven']) {
        const name = `${kind}${passphrase && '-locked'}`;
        const path = join(folder, name);
        const words = ['-q', '-t', kind, ...size, '-N', passphrase, '-C', `${name}@kestrelquay.example`, '-f', path];
        execFileSync('ssh-keygen', words);
        const pem =
          kind === 'ed25519' ? null : execFileSync('ssh-keygen', ['-e', '-m', 'PKCS8', '-f', `${path}.pub`]).toString();
        made[name] = {
          secret: readFileSync(path, 'utf8'),
          open: readFileSync(`${path}.pub`, 'utf8').trim(),
          spki: pem === null ? null : Buffer.from(pem.replace(/-----[^-]+-----|\s/g, ''), 'base64'),
        };
      }
    }
  }, 60_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test.each(Object.keys(kinds).flatMap((kind) => [kind, `${kind}-locked`]))('%s', (name) => {
    const { secret, open: line, spki } = made[name]!;
    const [key] = sshKeysIn(line);
    expect(key!.comment).toBe(`${name}@kestrelquay.example`);
    if (spki) expect(key!.key.half).toEqual(publicHalfOf(spki));
    expect(materialIn(secret)).toEqual([
      { kind: name.endsWith('locked') ? 'encrypted-key' : 'private-key', der: null, half: key!.key.half },
    ]);
    expect(materialIn(line).map(({ kind, half }) => [kind, half])).toEqual([['public-key', key!.key.half]]);
  });

  test('in a backup: the private ones are secret, the public ones are not, and each pair is told', () => {
    const names = Object.keys(made);
    const text = `<box><host-keys>${names
      .map((name) => `<key><called>${name}</called><held>${made[name]!.secret}</held></key>`)
      .join('')}</host-keys><users>${names
      .toReversed()
      .map((name) => `<user><called>u-${name}</called><may>no-pty ${made[name]!.open}</may></user>`)
      .join('')}<user><called>gull</called><may>${publicOnly()}</may></user></users></box>`;
    const { backup, reading } = open(text);
    const { tree } = backup;
    expect(reading.secrets.map(({ site, kind }) => [pathOf(tree, site.node), kind])).toEqual(
      names.map((_, at) => [`/box[1]/host-keys[1]/key[${at + 1}]/held[1]`, 'private-key']),
    );
    expect(reading.publicKeys.map(({ site, keyAt }) => [sitePath(tree, site), keyAt && sitePath(tree, keyAt)])).toEqual(
      [
        ...names.map((_, at) => [
          `/box[1]/users[1]/user[${at + 1}]/may[1]`,
          `/box[1]/host-keys[1]/key[${names.length - at}]/held[1]`,
        ]),
        [`/box[1]/users[1]/user[${names.length + 1}]/may[1]`, null],
      ],
    );
    expect(careOf(backup, reading).publicKeys.map(({ comment, keyPlace }) => [comment, keyPlace !== null])).toEqual([
      ...names.toReversed().map((name) => [`${name}@kestrelquay.example`, true]),
      ['gull', false],
    ]);
  });

  test('a certificate whose key is kept in this form has its key', () => {
    const key = join(folder, 'rsa');
    // OpenSSL reads PEM keys alone: ssh-keygen rewrites its own file in the older form.
    const copy = `${key}-pem`;
    execFileSync('cp', [key, copy]);
    execFileSync('chmod', ['600', copy]);
    execFileSync('ssh-keygen', ['-q', '-p', '-m', 'PEM', '-N', '', '-P', '', '-f', copy]);
    const words = ['req', '-x509', '-new', '-key', copy, '-subj', '/CN=gate.kestrelquay.example', '-days', '30'];
    const certificate = execFileSync('openssl', words, { stdio: ['ignore', 'pipe', 'ignore'] }).toString();
    const { backup, reading } = open(`<box><c>${certificate}</c><k>${made.rsa!.secret}</k></box>`);
    expect(reading.certificates.map(({ keyAt }) => keyAt && sitePath(backup.tree, keyAt))).toEqual(['/box[1]/k[1]']);
  });
});

function publicOnly(): string {
  const { publicKey } = generateKeyPairSync('ed25519');
  const octets = [string('ssh-ed25519'), string(publicKey.export({ type: 'spki', format: 'der' }).subarray(-32))];
  return `ssh-ed25519 ${Buffer.concat(octets).toString('base64')} gull`;
}
