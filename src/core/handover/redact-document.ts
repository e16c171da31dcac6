import { nameSays } from '../reading/secret-names.ts';
import { isPasswordHash } from '../values/password-hash.ts';
import { bar } from './redact.ts';

const privateKey = /(-----BEGIN [A-Z ]*PRIVATE KEY-----)[\s\S]*?(-----END [A-Z ]*PRIVATE KEY-----|$)/g;
const urlPassword = /([A-Za-z][A-Za-z0-9+.-]*:\/\/[^\s/?#@:"']*:)([^\s/?#@"']+)(?=@)/g;
const pair = /((["']?)([\p{L}_][\p{L}\p{N}_.-]*)\2\s*[:=]\s*)("(?:[^"\\]|\\.)*"|'[^']*'|[^\s,;{}[\]"'<>]+)/gu;
const element = /(<([\p{L}_][\p{L}\p{N}_.-]*)(?:\s[^<>]*)?>)([^<]+)(?=<\/)/gu;
const word = /[^\s"',;<>()[\]:]{20,}/g;

const secret = new Set(['password', 'shared-secret', 'private-key', 'token']);
const isSecretName = (name: string) => secret.has(nameSays(name) ?? '');

/**
 * Text of a document that nobody described, with everything blacked out that is a secret by its form (private keys in
 * PEM, hashes of passwords, passwords in addresses) or by the name that stands before it.
 */
export function redactedDocument(text: string): string {
  return text
    .replace(privateKey, (all, begin: string, end: string) => `${begin}\n${bar(all.length)}\n${end}`)
    .replace(urlPassword, (_, before: string, found: string) => before + bar(found.length))
    .replace(element, (all, open: string, name: string, found: string) =>
      isSecretName(name) ? open + bar(found.trim().length) : all,
    )
    .replace(pair, (all, before: string, _quote, name: string, found: string) => {
      if (!isSecretName(name)) return all;
      const quote = /^["']/.exec(found)?.[0] ?? '';
      return before + quote + bar(found.length - 2 * quote.length) + quote;
    })
    .replace(word, (found) => (isPasswordHash(found) ? bar(found.length) : found));
}
