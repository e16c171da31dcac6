import { ed448 } from '@noble/curves/ed448.js';
import { ed25519, x25519 } from '@noble/curves/ed25519.js';
import { p256, p384, p521 } from '@noble/curves/nist.js';
import { secp256k1 } from '@noble/curves/secp256k1.js';
import { childrenOf, contentOf, type Der, oidOf, readDer, Tag } from './der.ts';

const RSA = '1.2.840.113549.1.1.1';
const RSA_PSS = '1.2.840.113549.1.1.10';
const EC = '1.2.840.10045.2.1';
const ED25519 = '1.3.101.112';
const ED448 = '1.3.101.113';

/** SEC 2 names of the curves (RFC 5480, 2.1.1.1) and how to find a point from a scalar. */
const curves: Record<string, { readonly name: string; readonly bytes: number; readonly curve: typeof p256 }> = {
  '1.2.840.10045.3.1.7': { name: 'P-256', bytes: 32, curve: p256 },
  '1.3.132.0.34': { name: 'P-384', bytes: 48, curve: p384 },
  '1.3.132.0.35': { name: 'P-521', bytes: 66, curve: p521 },
  '1.3.132.0.10': { name: 'secp256k1', bytes: 32, curve: secp256k1 },
};

/** The public half of a key, comparable as text, and what kind of key it is. */
export interface PublicHalf {
  /** `rsa:` and the modulus, `ec:` and the uncompressed point, `ed25519:` and the key, in hexadecimal digits. */
  readonly mark: string;
  /** For people: `RSA 2048`, `EC P-256`, `Ed25519`. */
  readonly keyType: string;
}

export const hex = (bytes: Uint8Array) => Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');

/** @param modulus octets, leading zeros allowed. */
export function rsaHalf(modulus: Uint8Array): PublicHalf {
  const number = hex(modulus).replace(/^(?:00)+/, '');
  const bits = number.length * 4 - Math.clz32(Number.parseInt(number[0] ?? '0', 16)) + 28;
  return { mark: `rsa:${number}`, keyType: `RSA ${bits}` };
}

/** @param octets a point, compressed or not (SEC 1, 2.3.3). */
export function pointHalf(curveId: string, octets: Uint8Array): PublicHalf | null {
  const known = curves[curveId];
  const keyType = `EC ${known?.name ?? curveId}`;
  if (octets[0] === 4 || !known) return { mark: `ec:${hex(octets)}`, keyType };
  try {
    return { mark: `ec:${known.curve.Point.fromBytes(octets).toHex(false)}`, keyType };
  } catch {
    return null;
  }
}

function pointOf(curveId: string, scalar: Uint8Array): PublicHalf | null {
  const known = curves[curveId];
  if (!known || scalar.length > known.bytes) return null;
  const padded = new Uint8Array(known.bytes);
  padded.set(scalar, known.bytes - scalar.length);
  try {
    return { mark: `ec:${hex(known.curve.getPublicKey(padded, false))}`, keyType: `EC ${known.name}` };
  } catch {
    return null;
  }
}

/** The public half that a SubjectPublicKeyInfo (RFC 5280, 4.1.2.7) holds. */
export function publicHalfOf(spki: Uint8Array): PublicHalf | null {
  const outer = readDer(spki);
  const [algorithm, key] = (outer && childrenOf(outer)) ?? [];
  const [kind, parameter] = (algorithm && childrenOf(algorithm)) ?? [];
  if (!kind || !key || kind.tag !== Tag.oid || key.tag !== Tag.bitString) return null;
  const octets = contentOf(key).subarray(1);
  switch (oidOf(kind)) {
    case RSA:
    case RSA_PSS: {
      const inner = readDer(octets);
      const modulus = inner && childrenOf(inner)?.[0];
      return modulus ? rsaHalf(contentOf(modulus)) : null;
    }
    case EC:
      return parameter?.tag === Tag.oid ? pointHalf(oidOf(parameter), octets) : null;
    case ED25519:
      return { mark: `ed25519:${hex(octets)}`, keyType: 'Ed25519' };
    case ED448:
      return { mark: `ed448:${hex(octets)}`, keyType: 'Ed448' };
    default:
      return { mark: `${oidOf(kind)}:${hex(octets)}`, keyType: oidOf(kind) };
  }
}

/** The first part of the marks that a private key's public half can have; null for a structure that is no such key. */
export function familyOfPrivate(der: Uint8Array): 'rsa' | 'ec' | 'ed25519' | 'ed448' | null {
  const outer = readDer(der);
  const second = outer && childrenOf(outer)?.[1];
  if (!second) return null;
  if (second.tag === Tag.integer) return 'rsa';
  if (second.tag === Tag.octetString) return 'ec';
  const kind = childrenOf(second)?.[0];
  switch (kind?.tag === Tag.oid ? oidOf(kind) : '') {
    case RSA:
    case RSA_PSS:
      return 'rsa';
    case EC:
      return 'ec';
    case ED25519:
      return 'ed25519';
    case ED448:
      return 'ed448';
    default:
      return null;
  }
}

/**
 * The public half that belongs to a private key: read from it, or computed where the key does not hold it. Takes PKCS #8
 * (RFC 5958), PKCS #1 (RFC 8017) and SEC 1 (RFC 5915) structures; null for any other.
 */
export function publicHalfOfPrivate(der: Uint8Array): PublicHalf | null {
  const outer = readDer(der);
  const parts = outer && childrenOf(outer);
  if (!parts || parts[0]?.tag !== Tag.integer) return null;
  const second = parts[1];
  if (second?.tag === Tag.integer) return rsaHalf(contentOf(second));
  if (second?.tag === Tag.octetString) return fromSec1(parts, null);
  const [kind, parameter] = (second && childrenOf(second)) ?? [];
  const wrapped = parts[2];
  if (!kind || kind.tag !== Tag.oid || wrapped?.tag !== Tag.octetString) return null;
  const inner = readDer(der, wrapped.from, wrapped.to);
  if (!inner) return null;
  switch (oidOf(kind)) {
    case RSA:
    case RSA_PSS: {
      const modulus = childrenOf(inner)?.[1];
      return modulus ? rsaHalf(contentOf(modulus)) : null;
    }
    case EC:
      return fromSec1(childrenOf(inner) ?? [], parameter?.tag === Tag.oid ? oidOf(parameter) : null);
    case ED25519:
      return fromSeed(contentOf(inner), 32, (seed) => ed25519.getPublicKey(seed), 'ed25519', 'Ed25519');
    case ED448:
      return fromSeed(contentOf(inner), 57, (seed) => ed448.getPublicKey(seed), 'ed448', 'Ed448');
    default:
      return null;
  }
}

/** ECPrivateKey: 1, scalar, [0] curve, [1] point. */
function fromSec1(parts: readonly Der[], outerCurve: string | null): PublicHalf | null {
  const named = parts.find((part) => part.tag === Tag.context0);
  const inner = named && childrenOf(named)?.[0];
  const curve = inner?.tag === Tag.oid ? oidOf(inner) : outerCurve;
  if (curve === null || parts[1]?.tag !== Tag.octetString) return null;
  const held = parts.find((part) => part.tag === Tag.context1);
  const bits = held && childrenOf(held)?.[0];
  if (bits?.tag === Tag.bitString) return pointHalf(curve, contentOf(bits).subarray(1));
  return pointOf(curve, contentOf(parts[1]));
}

function fromSeed(
  seed: Uint8Array,
  length: number,
  derive: (seed: Uint8Array) => Uint8Array,
  mark: string,
  keyType: string,
): PublicHalf | null {
  return seed.length === length ? { mark: `${mark}:${hex(derive(seed))}`, keyType } : null;
}

/** The public key of a bare 32-byte X25519 scalar (RFC 7748, 6.1): tells which of two bare keys is the private one. */
export function x25519Public(secret: Uint8Array): Uint8Array | null {
  return secret.length === 32 ? x25519.getPublicKey(secret) : null;
}
