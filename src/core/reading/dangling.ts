import { isLiteral, kindOf, patternOf } from './literals.ts';

/** Names of well-known services: they stand where a service record may stand (IANA service names, a few common ones). */
const services = new Set(
  'ssh http https domain dns ntp smtp smtps imap imaps pop3 pop3s ftp tftp telnet snmp snmptrap syslog ldap ldaps sip sips rdp ms-wbt-server isakmp ipsec-nat-t radius radius-acct bootps bootpc dhcp mdns kerberos microsoft-ds netbios-ns netbios-ssn openvpn l2tp pptp rtsp mysql postgresql git rsync submission tcp udp icmp icmpv6 esp ah gre igmp'.split(
    ' ',
  ),
);
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
]);

/** True for a word that stands for itself wherever names stand. */
export function isBuiltIn(token: string): boolean {
  const word = token.toLowerCase();
  return builtIn.has(word) || services.has(word);
}

/** True where a token could be a name of the kind that the keys are. */
export function couldName(token: string, keyValues: readonly string[]): boolean {
  const kind = kindOf(token);
  if (isLiteral(kind)) return false;
  const kinds = new Set<string>();
  const step = Math.max(1, Math.floor(keyValues.length / 40));
  for (let at = 0; at < keyValues.length; at += step) kinds.add(kindOf(keyValues[at]!));
  if (kind === 'integer') return kinds.has('integer');
  if (kind === 'opaque') return kinds.has('opaque') || kinds.has('name');
  if (kinds.has('opaque') && kinds.size === 1) return false;
  if (kinds.has('integer') && kinds.size === 1) return false;
  if (kind === 'phrase') return kinds.has('phrase');
  return true;
}

/** The existing name that is at most two slips away; else one that differs only in case or marks; else null. */
export function nearestName(token: string, names: readonly string[]): string | null {
  const plain = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
  let best: string | null = null;
  let least = 3;
  const wanted = plain(token);
  for (const name of names.length > 5000 ? names.slice(0, 5000) : names) {
    if (plain(name) === wanted) return name;
    if (Math.abs(name.length - token.length) >= least) continue;
    const slips = distance(token, name, least);
    if (slips < least && slips < Math.min(token.length, name.length) / 2) {
      least = slips;
      best = name;
    }
  }
  return best && patternOf(best) === patternOf(token) && /^\D*\d+$/.test(best) ? null : best;
}

/** Damerau's distance, counted no further than `limit`. */
function distance(a: string, b: string, limit: number): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let low = i;
    for (let j = 1; j <= b.length; j++) {
      let cost = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, before[j - 2]! + 1);
      row.push(cost);
      if (cost < low) low = cost;
    }
    if (low >= limit) return limit;
    before = last;
    last = row;
  }
  return last[b.length]!;
}
