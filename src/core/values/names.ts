import { isIpv4, isIpv6 } from './ip.ts';
import { isPortNumber } from './numbers.ts';

const label = /^[A-Za-z0-9](?:[A-Za-z0-9_-]{0,61}[A-Za-z0-9])?$/;

/** One label of a host name: letters, digits and inner dashes, at most 63 (RFC 1123, 2.1). Inner underscores occur too. */
export function isHostLabel(text: string): boolean {
  return text.length <= 63 && label.test(text);
}

/** A host name of one label or several, at most 253 units; a last dot is allowed (RFC 1034, 3.1). */
export function isHostName(text: string): boolean {
  const name = text.endsWith('.') ? text.slice(0, -1) : text;
  return name.length > 0 && name.length <= 253 && name.split('.').every(isHostLabel);
}

/**
 * The host name that a text comes nearest to: letters without accents, a dash for all that has no place in one. Null where
 * nothing is left, or where it is written in another script.
 */
export function toHostName(text: string): string | null {
  const bare = text
    .trim()
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '');
  if (/[^\p{ASCII}\p{P}\s]/u.test(bare)) return null;
  const labels = bare.split('.').map((part) => {
    const plain = part.replace(/[^A-Za-z0-9_-]+/g, '-').replace(/^[-_]+/, '');
    return plain.slice(0, 63).replace(/[-_]+$/, '');
  });
  const name = labels.filter((part) => part !== '').join('.');
  return isHostName(name) ? name : null;
}

/** A host name of two or more labels whose last one is alphabetic (RFC 1123, 2.1) or an A-label (RFC 5890, 2.3.2.1). */
export function isDomainName(text: string): boolean {
  const last = text.lastIndexOf('.', text.length - 2);
  return (
    last > 0 &&
    text.length <= 254 &&
    /^(?:[A-Za-z]{2,}|[Xx][Nn]--[A-Za-z0-9-]+)\.?$/.test(text.slice(last + 1)) &&
    isHostName(text)
  );
}

const url = /^[A-Za-z][A-Za-z0-9+.-]{1,19}:\/\/(?:[^\s/?#@]*@)?(\[[^\]\s]*\]|[^\s/?#:@]*)(?::(\d+))?(?:[/?#]\S*)?$/;

/** `scheme://host…` (RFC 3986, 3); the host may be missing only in `file:///…`. */
export function isUrl(text: string): boolean {
  if (text.indexOf('://') < 2) return false;
  const parts = url.exec(text);
  if (!parts || (parts[2] !== undefined && !isPortNumber(parts[2]))) return false;
  const host = parts[1]!;
  if (host === '') return /^file:/i.test(text);
  return host.startsWith('[') ? isIpv6(host.slice(1, -1)) : isIpv4(host) || isHostName(host);
}

/** `user:password@` inside a URL (RFC 3986, 3.2.1, deprecates it): span of the password, or null. */
export function passwordInUrl(text: string): readonly [from: number, to: number] | null {
  if (text.indexOf('://') < 2) return null;
  const parts = /^([A-Za-z][A-Za-z0-9+.-]*:\/\/[^\s/?#@:]*:)([^\s/?#@]+)@/.exec(text);
  return parts ? [parts[1]!.length, parts[1]!.length + parts[2]!.length] : null;
}

/** `local@domain`, the plain shape of RFC 5322, 3.4.1. */
export function isMailAddress(text: string): boolean {
  const at = text.lastIndexOf('@');
  return (
    at > 0 && text.length <= 254 && /^[^\s@"(),:;<>[\]\\]+$/.test(text.slice(0, at)) && isHostName(text.slice(at + 1))
  );
}
