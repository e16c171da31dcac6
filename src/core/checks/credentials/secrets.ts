import { leafName } from '../../reading/fields/fields.ts';
import { sectionIndex } from '../../reading/keys/sections.ts';
import type { Secret } from '../../reading/reading.ts';
import { hashOf } from '../../text/hash.ts';
import { passwordInUrl } from '../../values/names.ts';
import type { Finding } from '../../views.ts';
import type { Site } from '../../xml/site.ts';
import { TEXT } from '../../xml/site.ts';
import { isLeaf, nameOf } from '../../xml/tree.ts';
import { once } from '../facts/once.ts';
import { eachCellAt, siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { secretSites } from '../repairs/repairs.ts';

/** Words that stand in for a password until somebody chooses one; from memory, common practice. */
const common = new Set(
  (
    '0000 00000000 1111 11111111 1234 12345 123456 1234567 12345678 123456789 1234567890 abc123 abcd1234 access admin admin123 ' +
    'administrator changeme changeit default guest hello123 hola letmein login manager master monkey operator pass pass1234 passwd password password1 ' +
    'password123 passwort private public qwerty qwertz root secret secret123 supervisor support system temp test test123 ' +
    'tester user welcome welcome1 wifi1234 geheim kennwort contrasena motdepasse parol'
  ).split(' '),
);

interface Held {
  readonly site: Site;
  readonly kind: Secret['kind'];
  readonly field: string;
  /** Mark of the value, never the value. */
  readonly mark: string;
  readonly common: boolean;
}

const heldIn = once((reading): readonly Held[] => {
  const secrets = new Map(reading.secrets.map((secret) => [siteKey(secret.site.node, secret.site.attr), secret]));
  const marked = secretSites(reading);
  const held: Held[] = [];
  const sites = reading.secrets.map(({ site }) => site);
  eachCellAt(reading, sites, ({ field, place }, key) => {
    if (!marked.hasValue(field, place)) return;
    const { site, kind } = secrets.get(key)!;
    const value = field.values[place]!;
    const span = passwordInUrl(value);
    const own = span ? value.slice(span[0], span[1]) : value;
    held.push({
      site,
      kind,
      field: leafName(field),
      mark: `${own.length} ${hashOf(own)}`,
      common: kind !== 'hash' && common.has(own.toLowerCase()),
    });
  });
  return held.sort((a, b) => a.site.node - b.site.node);
});

/** Secrets that leave the box in clear, such as stand in several places, and such as look like nobody chose them. */
export function checkSecrets(input: CheckInput): Finding[] {
  const { reading, gone, place } = input;
  const held = heldIn(reading).filter(({ site }) => !gone(site.node));
  const findings: Finding[] = [];
  const add = (code: Finding['code'], severity: Finding['severity'], site: Site, params: Finding['params']) =>
    findings.push({ code, severity, place: place(site), params, byPlan: false });
  const plain = held.filter(({ kind }) => kind !== 'hash');
  // Sections of one name are said as one.
  const sections = new Map<string, { node: number; count: number }>();
  const sectionOf = sectionIndex(input.tree, reading.sections);
  for (const { site } of plain) {
    const own = reading.sections[sectionOf(site.node)];
    if (!own) continue;
    // Single lines of a flat list are sections of their own, but not worth a note each.
    const name = isLeaf(input.tree, own.node) && !own.lines ? nameOf(input.tree, own.node) : own.name;
    const section = sections.get(name) ?? { node: own.node, count: 0 };
    section.count++;
    sections.set(name, section);
  }
  for (const [section, { node, count }] of sections)
    add('secrets-travel', 'note', { node, attr: TEXT }, { section, count });
  const places = new Map<string, Held[]>();
  for (const secret of plain) {
    const list = places.get(secret.mark);
    if (list) list.push(secret);
    else places.set(secret.mark, [secret]);
  }
  for (const [first, ...others] of places.values())
    if (others.length > 0) add('secret-shared', 'note', first!.site, { count: others.length + 1, field: first!.field });
  for (const { site, field, common: weak } of plain) if (weak) add('secret-common', 'warning', site, { field });
  return findings;
}
