import { append } from '../lists.ts';
import { decodeBase64 } from './base64.ts';
import { childrenOf, contentOf, type Der, oidOf, readDer, Tag, wholeOf } from './der.ts';
import type { PublicHalf } from './key-pair.ts';
import { sshKeysIn, sshPrivateKey } from './ssh-key.ts';

/** What a piece of cryptographic material is. `key-store` holds keys under a password (PKCS #12, RFC 7292). */
export type MaterialKind =
  | 'certificate'
  | 'private-key'
  | 'encrypted-key'
  | 'key-store'
  | 'public-key'
  | 'certificate-request'
  | 'revocation-list'
  | 'shared-key'
  | 'other';

export interface Material {
  readonly kind: MaterialKind;
  /** The structure itself; null where the text tells what it is but the octets cannot be read. */
  readonly der: Uint8Array | null;
  /** The public half of a key as SSH writes it, where it shows that. */
  readonly half?: PublicHalf | null;
  /** What stands behind such a key: mostly whose it is. */
  readonly comment?: string;
}

const PEM_HEAD = '-----BEGIN ';
/** Base64 of `-----BEGIN `; the last letter depends on what follows. */
const PEM_HEAD_64 = 'LS0tLS1CRUdJTi';
const MAX_DEPTH = 3;

/**
 * Certificates and keys in a value, in their order; empty for any other value. Understood: PEM (RFC 7468) with its line
 * ends kept, turned into blanks or written `\n`; DER in base64 or hexadecimal; PEM in base64, wrapped or not; the bare
 * certificate bag of CMS (RFC 5652, 5); keys as OpenSSH writes them. Values of other kinds are told apart by their
 * first letters.
 */
export function materialIn(value: string, depth = 0): readonly Material[] {
  if (value.length < 40) return [];
  const found = byFirstLetter(value, depth);
  if (found.length > 0) return found;
  const ssh = sshKeysIn(value);
  if (ssh.length > 0)
    return ssh.map(({ key, comment }) => ({ kind: 'public-key', der: null, half: key.half, comment }));
  const head = value.indexOf(PEM_HEAD);
  // Text such as a subject line may stand before the first mark (RFC 7468, 2).
  return head >= 0 && head < 20_000 ? fromPem(value) : [];
}

function byFirstLetter(value: string, depth: number): readonly Material[] {
  switch (value.charCodeAt(0)) {
    case 76: // L
      return value.startsWith(PEM_HEAD_64) ? inner(value, depth) : [];
    case 77: // M: a DER sequence begins with 0x30
      return fromBase64Der(value);
    case 51: // 3
      return value.startsWith('30') ? fromHexDer(value) : [];
  }
  return [];
}

function inner(value: string, depth: number): readonly Material[] {
  const bytes = depth < MAX_DEPTH ? decodeBase64(value) : null;
  return bytes ? materialIn(latin(bytes), depth + 1) : [];
}

/** Octets as characters of the same number: enough for PEM, which is ASCII. */
function latin(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return text;
}

function fromPem(value: string): readonly Material[] {
  const text = value.includes('\\n') ? value.replace(/\\r\\n|\\n/g, '\n') : value;
  const found: Material[] = [];
  for (let at = text.indexOf(PEM_HEAD); at >= 0; at = text.indexOf(PEM_HEAD, at)) {
    const from = at + PEM_HEAD.length;
    const close = text.indexOf('-----', from);
    if (close < 0 || close - from > 60) {
      at = from;
      continue;
    }
    const label = text.slice(from, close);
    const end = text.indexOf(`-----END ${label}-----`, close + 5);
    at = end < 0 ? text.length : end;
    append(found, fromBlock(label, text.slice(close + 5, at)));
  }
  return found;
}

function fromBlock(label: string, body: string): readonly Material[] {
  const encrypted = /Proc-Type:\s*4,ENCRYPTED/.test(body) || label.includes('ENCRYPTED');
  // Headers of RFC 1421 end at an empty line.
  const headers = /^\s*[A-Za-z-]+:[^\n]*\n(?:[^\n]+\n)*\s*\n/.exec(body);
  const bytes = decodeBase64(body, headers ? headers[0].length : 0);
  const ssh = bytes && sshPrivateKey(bytes);
  if (ssh) return [{ kind: ssh.encrypted ? 'encrypted-key' : 'private-key', der: null, half: ssh.half }];
  const shaped = bytes && !encrypted ? shapeOf(bytes) : [];
  if (shaped.length > 0) return shaped;
  const kind = kindOfLabel(label, encrypted);
  return kind === null ? [] : [{ kind, der: null }];
}

function kindOfLabel(label: string, encrypted: boolean): MaterialKind | null {
  if (encrypted) return 'encrypted-key';
  if (/PRIVATE KEY/i.test(label)) return 'private-key';
  if (/PUBLIC KEY|SIGNATURE/i.test(label)) return 'public-key';
  if (/CERTIFICATE REQUEST/i.test(label)) return 'certificate-request';
  if (/CERTIFICATE/i.test(label)) return 'certificate';
  if (/CRL/.test(label)) return 'revocation-list';
  if (/\bkey\b|SECRET/i.test(label)) return 'shared-key';
  return 'other';
}

function fromBase64Der(value: string): readonly Material[] {
  const second = value.charCodeAt(1);
  if (second < 65 || second > 80) return [];
  // The length that the first octets tell has to fit what is there, before a megabyte is decoded.
  const head = decodeBase64(value, 0, 8);
  if (!head || !fits(head, Math.ceil((value.length * 3) / 4), value.length / 6 + 4)) return [];
  const bytes = decodeBase64(value);
  return bytes ? shapeOf(bytes) : [];
}

function fits(head: Uint8Array, most: number, slack: number): boolean {
  const first = head[1]!;
  const octets = first & 0x7f;
  if (first > 0x84) return false;
  let length = first;
  let header = 2;
  if (first > 0x80) {
    length = 0;
    header += octets;
    for (let at = 0; at < octets && at + 2 < head.length; at++) length = length * 256 + head[at + 2]!;
  }
  return length + header <= most && length + header >= most - slack;
}

function fromHexDer(value: string): readonly Material[] {
  if (!/^[0-9a-fA-F]{2}(?:[0-9a-fA-F]{2}|:[0-9a-fA-F]{2}){19}/.test(value) || !/^[0-9a-fA-F:\s]+$/.test(value))
    return [];
  const digits = value.replace(/[:\s]/g, '');
  if (digits.length % 2) return [];
  const bytes = new Uint8Array(digits.length / 2);
  for (let at = 0; at < bytes.length; at++) bytes[at] = Number.parseInt(digits.slice(at * 2, at * 2 + 2), 16);
  return shapeOf(bytes);
}

const CMS_SIGNED = '1.2.840.113549.1.7.2';
const CMS_DATA = '1.2.840.113549.1.7.1';

/** Tells a DER structure by the kinds of its parts. */
export function shapeOf(bytes: Uint8Array): readonly Material[] {
  const outer = readDer(bytes);
  if (!outer || outer.tag !== Tag.sequence || bytes.length - outer.to > 2) return [];
  const parts = childrenOf(outer);
  if (!parts || parts.length === 0) return [];
  const der = wholeOf(outer);
  const tags = parts.map((part) => part.tag);
  const [first, second, third] = parts;
  const firstInner = first!.tag === Tag.sequence ? childrenOf(first!) : null;
  // Certificate, CRL and request (RFC 5280, 4.1 and 5.1; RFC 2986, 4): to be signed, algorithm, signature.
  if (parts.length === 3 && firstInner && second!.tag === Tag.sequence && third!.tag === Tag.bitString) {
    return [{ kind: signedKind(firstInner), der }];
  }
  // SubjectPublicKeyInfo: algorithm, key.
  if (parts.length === 2 && firstInner?.[0]?.tag === Tag.oid && second!.tag === Tag.bitString)
    return [{ kind: 'public-key', der }];
  // EncryptedPrivateKeyInfo (RFC 5958, 3): algorithm, octets.
  if (parts.length === 2 && firstInner?.[0]?.tag === Tag.oid && second!.tag === Tag.octetString)
    return [{ kind: 'encrypted-key', der }];
  if (first!.tag === Tag.oid && oidOf(first!) === CMS_SIGNED) return fromCms(parts[1]);
  if (first!.tag !== Tag.integer) return [];
  // PKCS #12 begins with version 3 and its contents.
  if (
    second?.tag === Tag.sequence &&
    childrenOf(second)?.[0]?.tag === Tag.oid &&
    oidOf(childrenOf(second)![0]!) === CMS_DATA
  ) {
    return [{ kind: 'key-store', der }];
  }
  // PKCS #8 (RFC 5958, 2): version, algorithm, octets. SEC 1 (RFC 5915, 3): 1, octets. PKCS #1 (RFC 8017, A.1): nine integers or two.
  const pkcs8 = second?.tag === Tag.sequence && third?.tag === Tag.octetString;
  const sec1 = second?.tag === Tag.octetString && contentOf(first!)[0] === 1;
  if (pkcs8 || sec1 || (tags.length >= 9 && tags.every((tag) => tag === Tag.integer)))
    return [{ kind: 'private-key', der }];
  if (tags.length === 2 && tags[1] === Tag.integer && first!.to - first!.from > 60)
    return [{ kind: 'public-key', der }];
  return [];
}

function signedKind(parts: readonly Der[]): MaterialKind {
  const tags = parts.map((part) => part.tag);
  const versioned = tags[0] === Tag.context0;
  const offset = versioned ? 1 : 0;
  // serial, algorithm, issuer, validity, subject, key
  if (
    tags[offset] === Tag.integer &&
    tags.slice(offset + 1, offset + 6).every((tag) => tag === Tag.sequence) &&
    tags.length >= offset + 6
  )
    return 'certificate';
  if (tags[0] === Tag.integer && tags[3] === Tag.context0) return 'certificate-request';
  return tags.includes(0x17) || tags.includes(0x18) ? 'revocation-list' : 'other';
}

/** The certificates of a CMS SignedData: [0] after version, digests and content. */
function fromCms(content: Der | undefined): readonly Material[] {
  const signed = content && content.tag === Tag.context0 ? childrenOf(content)?.[0] : undefined;
  const bag = signed ? childrenOf(signed)?.find((part) => part.tag === Tag.context0) : undefined;
  const members = bag ? (childrenOf(bag) ?? []) : [];
  return members
    .filter((part) => part.tag === Tag.sequence)
    .map((part) => ({ kind: 'certificate', der: wholeOf(part) }) as const);
}
