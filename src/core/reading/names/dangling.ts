import { largestOf } from '../../lists.ts';
import { parseBoolean } from '../../values/booleans.ts';
import { isDomainName } from '../../values/names.ts';
import { isLiteral, kindOf } from './literals.ts';

/** Names of well-known services: they stand where a service record may stand (IANA service names, a few common ones). */
const services = new Set(
  'ssh http https domain dns ntp smtp smtps imap imaps pop3 pop3s ftp tftp telnet snmp snmptrap syslog ldap ldaps sip sips rdp ms-wbt-server isakmp ipsec-nat-t radius radius-acct bootps bootpc dhcp mdns kerberos microsoft-ds netbios-ns netbios-ssn openvpn l2tp pptp rtsp mysql postgresql git rsync submission tcp udp icmp icmpv6 esp ah gre igmp'.split(
    ' ',
  ),
);
/** Words for any, none and the like, in several languages, from memory. */
const builtIn = new Set([
  'any',
  'all',
  'none',
  'self',
  'default',
  'auto',
  'true',
  'false',
  'yes',
  'no',
  'on',
  'off',
  'enabled',
  'disabled',
  '*',
  'never',
  'always',
  'this',
  ...'myself itself selbst selber soi mismo stesso zelf'.split(' '),
  ...'anyone anybody anything anywhere everyone everybody everything everywhere nobody nothing nowhere'.split(' '),
  ...'alle alles jeder jede beliebig keine keiner todos todas todo cualquiera ninguno tous toutes tout aucun tutti tutte qualsiasi nessuno qualquer nenhum iedereen geen wszystkie dowolny bilo svi libovolny vsechny все любой нет όλα όλοι καμία 任意 全部 すべて なし'.split(
    ' ',
  ),
]);

const LONGEST = largestOf([...builtIn, ...services].map(({ length }) => length));

/** Keywords of transport and tunnel protocols (IANA protocol numbers; a few as people write them). */
const protocols = new Set(
  'tcp udp tcp/udp icmp icmpv6 ipv6-icmp igmp esp ah gre sctp pim ospf ospfigp ipip'.split(' '),
);

/** True for a word that is a setting: yes, no, or a protocol. Records are not called so. */
export function isSetting(value: string): boolean {
  return protocols.has(value.toLowerCase()) || (parseBoolean(value) !== null && !/^\d$/.test(value));
}

/** True for a word that stands for itself wherever names stand. */
export function isBuiltIn(token: string): boolean {
  return isAny(token) || (token.length <= LONGEST && services.has(token.toLowerCase()));
}

/** True for a word that stands for all records, or for none of them. */
export const isAny = (token: string): boolean => token.length <= LONGEST && builtIn.has(token.toLowerCase());

/** A protocol and its port: `tcp/25`, `udp:5000-5010`, `25/tcp`. */
const service = /^(\p{L}[\p{L}\d-]{1,9})[/:]\d{1,5}(?:[-:]\d{1,5})?$/u;
const turned = /^\d{1,5}(?:[-:]\d{1,5})?[/:](\p{L}[\p{L}\d-]{1,9})$/u;

/** True where a token is a literal with marks or one word around it: `!10.0.0.1`, `except(80)`, `tcp/25`, `25/tcp`. */
export function wrapsLiteral(token: string): boolean {
  if (bare.test(token)) return false;
  const protocol = (service.exec(token) ?? turned.exec(token))?.[1];
  if (protocol !== undefined && protocols.has(protocol.toLowerCase())) return true;
  const core = unwrapped(token);
  if (core === token || core === '') return false;
  const kind = kindOf(core);
  return isLiteral(kind) || (kind === 'integer' && !/\p{L}\s/u.test(token));
}

/** Letters and digits of ASCII and what joins these: nothing stands around such a word. */
const bare = /^[A-Za-z0-9](?:[A-Za-z0-9._-]*[A-Za-z0-9])?$/;

/** A token without marks and one word around it. */
export function unwrapped(token: string): string {
  return token.replace(/^[^\p{L}\p{N}]*(?:\p{L}+[\s(:=[{<]+)?|[^\p{L}\p{N}]+$/gu, '');
}

/** Digits of identifiers, as machines write them. */
const digitsAlone = /^(?:[\dA-Z]+|[\da-f]+)$/;

/** True where a token could be a name of the kind that the keys are. */
export function couldName(token: string, keyValues: readonly string[]): boolean {
  const kind = kindOf(token);
  if (isLiteral(kind)) return false;
  const kinds = new Set<string>();
  // Of numbers and of identifiers.
  const lengths = new Set<number>();
  let dotted = false;
  const step = Math.max(1, Math.floor(keyValues.length / 40));
  for (let at = 0; at < keyValues.length; at += step) {
    const form = kindOf(keyValues[at]!);
    kinds.add(form);
    dotted ||= keyValues[at]!.includes('.');
    if (form === 'integer' || form === 'opaque') lengths.add(keyValues[at]!.length);
  }
  // Where no record is called so it is the name of a host, which may stand in place of an address.
  if (!dotted && isDomainName(token)) return false;
  if (kinds.has('integer') && kinds.size === 1) return kind === 'integer';
  // An identifier may be all digits, or nearly a word, by chance: it is as long as the others.
  const isDigits = digitsAlone.test(token) && lengths.has(token.length);
  if (kind === 'integer') return isDigits;
  if (kind === 'opaque') return kinds.has('opaque') || kinds.has('name');
  if (kinds.has('opaque') && kinds.size === 1) return isDigits;
  if (kind === 'phrase') return kinds.has('phrase');
  return true;
}
