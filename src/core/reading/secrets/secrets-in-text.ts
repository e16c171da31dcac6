import { isPasswordHash } from '../../values/password-hash.ts';
import { type Site, valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import { embeddedText } from '../fields/embedded-text.ts';
import { sitesOfTexts } from '../outline/settings-in-text.ts';
import type { Embedded, Reading } from '../reading.ts';
import { nameSays } from './secret-names.ts';

const privateKey = /(-----BEGIN [A-Z ]*PRIVATE KEY-----)([\s\S]*?)(?:-----END [A-Z ]*PRIVATE KEY-----|$)/g;
const inUrl = /([A-Za-z][A-Za-z0-9+.-]{0,20}:\/\/[^\s/?#@:"']{0,200}:)([^\s/?#@"']{1,200})@/g;
// A name begins where no letter stands before it, so a long word is looked at once.
const pair =
  /(?<![\p{L}\p{N}_.-])((["']?)([\p{L}_][\p{L}\p{N}_.-]*)\2\s*[:=]\s*["']?)((?<=")(?:[^"\\]|\\.)*|(?<=')[^']*|[^\s,;{}[\]"'<>]+)/gu;
const element = /(<([\p{L}_][\p{L}\p{N}_.-]*)(?:\s[^<>]*)?>)([^<]+)<\//gu;
const word = /[^\s"',;<>()[\]:]{20,}/g;

const secret = new Set(['password', 'shared-secret', 'private-key', 'token']);
const isSecretName = (name: string) => secret.has(nameSays(name) ?? '');

/** Spans [from, to) of a text, in order and apart from each other. */
export type Spans = readonly (readonly [from: number, to: number])[];

/**
 * Where a text that nobody described holds a secret by its form (private keys in PEM, hashes of passwords, passwords in
 * addresses), or by the name that stands before it.
 */
export function secretsInText(text: string): Spans {
  const spans: [number, number][] = [];
  const add = (match: RegExpExecArray, before: string, found: string) => {
    const from = match.index + before.length;
    if (found.trim() !== '') spans.push([from, from + found.length]);
  };
  for (const match of text.matchAll(privateKey)) add(match, match[1]!, match[2]!);
  for (const match of text.matchAll(inUrl)) add(match, match[1]!, match[2]!);
  for (const match of text.matchAll(element)) if (isSecretName(match[2]!)) add(match, match[1]!, match[3]!);
  for (const match of text.matchAll(pair)) if (isSecretName(match[3]!)) add(match, match[1]!, match[4]!);
  for (const match of text.matchAll(word)) if (isPasswordHash(match[0])) add(match, '', match[0]);
  spans.sort((a, b) => a[0] - b[0]);
  const apart: [number, number][] = [];
  for (const [from, to] of spans) {
    const last = apart[apart.length - 1];
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else apart.push([from, to]);
  }
  return apart;
}

const known = new WeakMap<readonly Embedded[], readonly { readonly site: Site }[]>();

/** Places whose values are never shown as they are: secrets, and documents that hold some. */
export function hiddenIn(tree: Tree, { secrets, embedded }: Reading): readonly { readonly site: Site }[] {
  let documents = known.get(embedded);
  if (!documents) {
    const whole = embedded.filter(({ site, format }) => {
      const { text } = embeddedText(valueAt(tree, site).trim(), format);
      return text !== null && secretsInText(text).length > 0;
    });
    // Objects of JSON that are read setting by setting are documents all the same.
    const objects = sitesOfTexts(tree).filter((site) => {
      const text = valueAt(tree, site);
      return /^\s*\{/.test(text) && secretsInText(text).length > 0;
    });
    documents = [...whole, ...objects.map((site) => ({ site }))];
    known.set(embedded, documents);
  }
  return documents.length === 0 ? secrets : [...secrets, ...documents];
}
