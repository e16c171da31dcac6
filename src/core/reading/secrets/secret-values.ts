import { decodeBase64 } from '../../values/base64.ts';
import { classify, type ValueKind } from '../../values/classify.ts';
import { formatOf } from '../fields/embedded.ts';
import { embeddedText } from '../fields/embedded-text.ts';

/** Base64 of several lines, or of a document: no key that was drawn. */
export function isWrappedText(value: string): boolean {
  if (value.length < 40 || formatOf(value) !== 'base64-text') return false;
  const { what, text } = embeddedText(value, 'base64-text');
  return what !== 'text' || /\S\s*\n\s*\S/.test(text ?? '');
}

/** Base64 of 32 bytes. */
export function isKey32(value: string): boolean {
  return value.charCodeAt(43) === 61 && decodeBase64(value)?.length === 32;
}

/** Marks that stand for a secret that was taken out, or for none. */
export function isPlaceholder(value: string): boolean {
  const first = value.charCodeAt(0);
  if (value.length > 40) return false;
  // * • ! ( < [ $ { - x n
  if (first === 42 || first === 0x2022) return /^[*•]+$/.test(value);
  // Nobody can log in so (shadow(5), from memory).
  if (first === 33) return /^!+\*?$/.test(value);
  if (first === 40 || first === 60 || first === 91)
    return /^[(<[](?:hidden|removed|redacted|masked|none|empty|secret|unset)[)>\]]$/i.test(value);
  if (first === 36 || first === 123) return /^\$?\{\{?[\w.\s-]+\}?\}$/.test(value);
  return value === '-' || /^(?:none|null|n\/a|x{4,}|redacted|removed)$/i.test(value);
}

/** Kinds of value that nobody would take for a password. */
const typed = new Set<ValueKind>([
  'uuid',
  'mac',
  'netmask',
  'ipv4',
  'ipv6',
  'prefix',
  'address-range',
  'url',
  'mail-address',
  'date',
  'time',
  'port-range',
  'boolean',
  'epoch',
  'device',
  'domain-name',
]);
const addressed = new Set<ValueKind>(['mac', 'ipv4', 'ipv6', 'prefix']);
const methods =
  /^(?:none|psk|pre-?shared-?key|eap(?:-\w+)?|sae|open|wpa[23]?(?:-\w+)*|pap|(?:ms)?chap(?:v2)?|plain|clear(?:text)?|md5|sha-?\d{0,3}|bcrypt|scrypt|argon2\w*|crypt|local|radius|ldap|certificate|cert|rsa|x509|any|auto|default|all)$/i;

/** Text that may be a passphrase. */
export function couldBePhrase(value: string): boolean {
  if (methods.test(value) || /[<>{}\n\t]/.test(value) || !/\p{L}/u.test(value) || isList(value)) return false;
  const [kind] = classify(value);
  return kind === 'text' || kind === 'host-name' || kind === 'base64';
}

function isList(value: string): boolean {
  return /[,;|]/.test(value) && value.split(/\s*[,;|]\s*/).every((item) => item.length > 0 && !/\s/.test(item));
}

/** A value that nobody would take for a secret whatever its name says. */
export function isOtherKind(value: string): boolean {
  if (methods.test(value) || value.length > 512) return true;
  const [kind] = classify(value);
  if (typed.has(kind!)) return true;
  // An address that something follows, as where one fixes it to a client.
  if (/^\S+\s/.test(value) && addressed.has(classify(value.split(/\s/, 1)[0]!)[0]!)) return true;
  // Numbers joined are a mark of routes (RFC 1997: `64496:100`), a time, a range.
  if (/^\d+(?::\d+)+$/.test(value)) return true;
  // A number of fewer than four digits is a setting; a longer one may be a PIN.
  return /^-?\d+$/.test(value) && value.length < 4;
}
