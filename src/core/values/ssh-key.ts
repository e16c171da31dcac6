import { decodeBase64 } from './base64.ts';
import { hex, type PublicHalf, pointHalf, rsaHalf } from './key-pair.ts';

/** A public key as SSH writes it. */
export interface SshPublicKey {
  /** `ssh-ed25519`, `ecdsa-sha2-nistp256`, … */
  readonly algorithm: string;
  /** Null for a kind of key that is not known here. */
  readonly half: PublicHalf | null;
}

/** What a line of `authorized_keys` or a `.pub` file says. */
export interface SshLine {
  readonly key: SshPublicKey;
  readonly comment: string;
}

/** What an OpenSSH private key shows without its passphrase. */
export interface SshPrivateKey {
  readonly encrypted: boolean;
  readonly half: PublicHalf | null;
}

const MOST_LINES = 200;
const line =
  /(?:^|[\s"])((?:ssh-|ecdsa-sha2-|sk-(?:ssh-|ecdsa-))[a-z0-9@.-]+)[ \t]+(AAAA[A-Za-z0-9+/]+={0,2})(?:[ \t]+([^\n]*))?/gm;
const algorithm = /^(?:ssh-|ecdsa-|sk-)[\x21-\x7e]*$/;
/** OIDs of the curves by the names that SSH gives them (RFC 5656, 10.1). */
const curves: Record<string, string> = {
  nistp256: '1.2.840.10045.3.1.7',
  nistp384: '1.3.132.0.34',
  nistp521: '1.3.132.0.35',
};

/** Public keys in a text: the octets in base64 alone, or behind the name of their algorithm (RFC 4253, 6.6). */
export function sshKeysIn(value: string): SshLine[] {
  if (value.startsWith('AAAA')) {
    const [, text = '', comment = ''] = /^([A-Za-z0-9+/]+=*)(?:\s+(.*))?$/s.exec(value) ?? [];
    const key = sshPublicKey(decodeBase64(text));
    return key ? [{ key, comment }] : [];
  }
  if (!/[ \t]AAAA/.test(value)) return [];
  const found: SshLine[] = [];
  for (const [, name, text, comment = ''] of value.matchAll(line)) {
    if (found.length === MOST_LINES) break;
    const key = sshPublicKey(decodeBase64(text!)) ?? { algorithm: name!, half: null };
    found.push({ key, comment: comment.trim().replace(/^"|"$/g, '') });
  }
  return found;
}

/** Fields one after the other, each behind its length (RFC 4251, 5: string). */
class Octets {
  constructor(
    private readonly bytes: Uint8Array,
    private at = 0,
  ) {}

  /** A number of 32 bits; -1 where the octets end. */
  number(): number {
    const { bytes, at } = this;
    if (at + 4 > bytes.length) return -1;
    this.at = at + 4;
    return bytes[at]! * 0x1000000 + (bytes[at + 1]! << 16) + (bytes[at + 2]! << 8) + bytes[at + 3]!;
  }

  string(): Uint8Array | null {
    const length = this.number();
    if (length < 0 || this.at + length > this.bytes.length) return null;
    this.at += length;
    return this.bytes.subarray(this.at - length, this.at);
  }

  text(): string | null {
    const octets = this.string();
    return octets && octets.length < 80 ? String.fromCharCode(...octets) : null;
  }
}

/** The public key that octets hold; null where they are none. */
export function sshPublicKey(bytes: Uint8Array | null): SshPublicKey | null {
  const octets = bytes && new Octets(bytes);
  const name = octets?.text();
  if (!octets || !name || !algorithm.test(name)) return null;
  return { algorithm: name, half: halfOf(name, octets) };
}

function halfOf(name: string, octets: Octets): PublicHalf | null {
  switch (name) {
    // RFC 4253, 6.6: exponent, modulus.
    case 'ssh-rsa': {
      const modulus = octets.string() && octets.string();
      return modulus && rsaHalf(modulus);
    }
    // RFC 8709, 4.
    case 'ssh-ed25519':
    case 'ssh-ed448': {
      const key = octets.string();
      const size = name === 'ssh-ed448' ? 57 : 32;
      if (key?.length !== size) return null;
      return { mark: `${name.slice(4)}:${hex(key)}`, keyType: name === 'ssh-ed448' ? 'Ed448' : 'Ed25519' };
    }
    default: {
      // RFC 5656, 3.1: name of the curve, point. Certificates and keys of a token have more in them.
      const curve = /^ecdsa-sha2-(nistp\d+)$/.exec(name)?.[1];
      const point = curve !== undefined && octets.text() === curve ? octets.string() : null;
      return point && curves[curve!] ? pointHalf(curves[curve!]!, point) : null;
    }
  }
}

const HEAD = 'openssh-key-v1\0';

/**
 * What the octets of an OpenSSH private key say in the clear: cipher, key derivation and the public half (OpenSSH's
 * PROTOCOL.key, from memory). Null for anything else.
 */
export function sshPrivateKey(bytes: Uint8Array): SshPrivateKey | null {
  for (let at = 0; at < HEAD.length; at++) if (bytes[at] !== HEAD.charCodeAt(at)) return null;
  const octets = new Octets(bytes, HEAD.length);
  const cipher = octets.text();
  if (cipher === null || octets.string() === null || octets.string() === null || octets.number() < 1) return null;
  return { encrypted: cipher !== 'none', half: sshPublicKey(octets.string())?.half ?? null };
}
