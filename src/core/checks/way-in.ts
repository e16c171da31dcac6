import type { Reading } from '../reading/reading.ts';
import { lowerBound } from '../text/lower-bound.ts';
import { isDomainName } from '../values/names.ts';
import { isPortNumber } from '../values/numbers.ts';
import type { Finding } from '../views.ts';
import { type Site, TEXT } from '../xml/site.ts';
import { isWithin } from '../xml/tree.ts';
import { admission, admissionAsWas, rolesLetIn } from './admitting.ts';
import { shortName } from './certificates.ts';
import type { CheckInput } from './input.ts';
import { linksByRow } from './links.ts';
import { carry } from './repairs.ts';
import { ruleListsOf } from './rule-facts.ts';
import { hasAny, portWords } from './rule-words.ts';
import { type Column, eachCellAt, isBeside, once, siteOf, tablesOf } from './tables.ts';

/**
 * The box's own page or shell: a record that stands alone, holds the number of a port, and names a certificate or is called
 * after a shell or a page. Elsewhere the same signs mean services of the network, so a repeated record never counts.
 */
interface WayIn {
  readonly site: Site;
  readonly what: 'page' | 'shell';
  readonly port: number;
  /** Indices of the roles that it listens on; empty where it names none. */
  readonly roles: readonly number[];
  /** Where the roles are written, parallel to `roles`. */
  readonly roleSites: readonly Site[];
  /** The record of its certificate, -1 for none. */
  readonly certificate: number;
  readonly row: number;
}

const shellWords = new Set('ssh shell netconf'.split(' '));
const pageWords = new Set(
  'management admin administration webgui gui web https console verwaltung gestion administracion'.split(' '),
);
/** What else stands among the settings of the box and has a port: others ask it, or it asks others. */
const otherWords = new Set(
  'snmp syslog log logs trap traps ntp time radius ldap tacacs mail smtp dns proxy redirect flow netflow sflow backup update tftp ftp'.split(
    ' ',
  ),
);
/** Written as one word: `listenport`. */
const endsInPort = /\p{L}port$/u;

const waysIn = once((reading): readonly WayIn[] => {
  const links = linksByRow(reading);
  const { element, above } = reading.values;
  const roles = new Map(reading.roles.map(({ node }, index) => [node, index]));
  const repeated = reading.collections.filter(({ records }) => records.length > 1);
  const certificates = certificateRecords(reading);
  const ways: WayIn[] = [];
  for (const { columns } of tablesOf(reading).values())
    for (const column of columns) {
      const { field } = column;
      if (field.values.length !== 1 || field.rows[0] === -1 || !isPortNumber(field.values[0]!)) continue;
      const isPort = hasAny(column.words, portWords);
      const row = field.rows[0]!;
      if (liesInOneOfSeveral(row)) continue;
      const own = links.of(row);
      const certificate = own.find(({ reference }) => certificates.has(reference.to))?.reference.to ?? -1;
      const steps = field.steps
        .slice(-3)
        .join(' ')
        .toLowerCase()
        .split(/[^\p{L}]+/u);
      const what = hasAny(steps, shellWords) ? 'shell' : 'page';
      const isCalled = isPort && (what === 'shell' || hasAny(steps, pageWords)) && !hasAny(steps, otherWords);
      const isKept = certificate !== -1 && isPageOf(columns, column, isPort);
      if (!isKept && !(certificate === -1 && isCalled)) continue;
      const named = own.filter(({ reference }) => roles.has(reference.to));
      ways.push({
        site: siteOf(field, 0),
        what,
        port: Number(field.values[0]),
        roles: named.map(({ reference }) => roles.get(reference.to)!),
        roleSites: named.map(({ reference }) => reference.site),
        certificate,
        row,
      });
    }
  return ways;

  function liesInOneOfSeveral(row: number): boolean {
    for (let at = row; at !== -1; at = above[at]!) {
      const node = element[at]!;
      if (repeated.some(({ records }) => records[lowerBound(records, node)] === node)) return true;
    }
    return false;
  }
});

/** The lowest port of those that anybody may listen on (RFC 6335, 6), and that of pages behind a certificate (RFC 9110, 4.2.2). */
const [FREE, PAGE] = [1024, 443];

/**
 * Whether a number beside a certificate is the port of a page: it is called so, or is the only one there that could be, and
 * nothing beside it tells of another box or of a network, as with services.
 */
function isPageOf(columns: readonly Column[], column: Column, isPort: boolean): boolean {
  const beside = columns.filter((one) => one !== column && isBeside(one, column));
  const isOfOthers = ({ kind, field: { values } }: Column) =>
    kind === 'prefix' || kind === 'address' || kind === 'mixed' || kind === 'range' || values.some(isDomainName);
  if (beside.some(isOfOthers)) return false;
  if (isPort || [...column.words].some((word) => endsInPort.test(word))) return true;
  const isLikely = ({ field: { values } }: Column) =>
    values.length === 1 && isPortNumber(values[0]!) && (Number(values[0]) >= FREE || Number(values[0]) === PAGE);
  return isLikely(column) && !beside.some(isLikely);
}

/** Elements of the records that hold a certificate, and of those around them. */
function certificateRecords(reading: Reading): ReadonlySet<number> {
  const { above, element } = reading.values;
  const held = new Set<number>();
  const sites = reading.certificates.map(({ site }) => site);
  eachCellAt(reading, sites, ({ field, place }) => {
    for (let at = field.rows[place]!; at !== -1; at = above[at]!) held.add(element[at]!);
  });
  return held;
}

/** Whether the technician still reaches the box's own page after the plan, and what its certificate is called. */
export function checkWayIn(input: CheckInput): Finding[] {
  const findings: Finding[] = [];
  const ways = waysIn(input.reading);
  for (const way of ways) {
    findings.push(...certificateName(input, way));
    if (input.planned) findings.push(...reach(input, way));
  }
  if (input.planned && ways.length === 0)
    findings.push({ code: 'way-in-unknown', severity: 'note', place: null, params: { number: 0 }, byPlan: true });
  return findings;
}

function reach(input: CheckInput, { site, what, port, roles, roleSites }: WayIn): Finding[] {
  const { reading, donor, gone, place, recordNamed } = input;
  const made = (
    code: Finding['code'],
    severity: Finding['severity'],
    role = '',
    repairs: Finding['repairs'] = [],
    more: Finding['params'] = {},
  ): Finding[] => [
    { code, severity, place: place(site), params: { what, number: port, role, ...more }, byPlan: true, repairs },
  ];
  if (gone(site.node)) return made('way-in-left-out', 'warning', '', carry(input, site.node));
  const left = roles.filter((role, at) => !gone(reading.roles[role]!.node) && !gone(roleSites[at]!.node));
  if (roles.length > 0 && left.length === 0) return made('way-in-closed', 'warning', reading.roles[roles[0]!]!.name);
  // A page that names no network listens on all; common practice, no source.
  const listened = roles.length > 0 ? left : rolesLetIn(donor).filter((role) => !gone(reading.roles[role]!.node));
  const after = listened.map((role) => admission(reading, role, port, (node) => !gone(node)));
  if (after.some(({ rule }) => rule !== null)) return [];
  const before = listened.map((role) => admissionAsWas(donor, role, port));
  for (const [at, { rule }] of before.entries()) {
    if (!rule) continue;
    const isGone = gone(rule.node);
    return [
      {
        code: 'way-in-lost',
        severity: 'warning',
        place: place({ node: rule.node, attr: TEXT }),
        params: {
          what,
          number: port,
          role: nameOf(input, listened[at]),
          rule: recordNamed(rule.node),
          gone: Number(isGone),
          maybe: Number(after.some(({ maybe }) => maybe)),
        },
        byPlan: true,
        repairs: isGone ? carry(input, rule.node, { name: recordNamed(rule.node) }) : [],
      },
    ];
  }
  const role = nameOf(input, left[0]);
  const untold = (more: Finding['params']) => made('way-in-unknown', 'note', role, [], more);
  if (listened.length === 0) return untold({ missing: ruleListsOf(reading).length === 0 ? 'rules' : 'networks' });
  const doubt = after.find(({ maybe }) => maybe) ?? before.find(({ maybe }) => maybe);
  if (!doubt) return made('way-in-no-rule', 'note', role);
  const { unsure } = doubt;
  return untold({
    missing: 'rule',
    ...(unsure && { rule: recordNamed(unsure.node), gone: Number(gone(unsure.node)) }),
  });
}

const nameOf = ({ reading }: CheckInput, role: number | undefined) =>
  role === undefined ? '' : reading.roles[role]!.name;

/** Names beside the box's own in its record: its domain. */
const domainsOf = once((reading): readonly string[] => {
  const { host } = reading.about;
  if (host === null) return [];
  const cut = host.indexOf('.');
  const domains = cut === -1 ? [] : [host.slice(cut + 1)];
  for (const { columns } of tablesOf(reading).values()) {
    const own = columns.find(({ field }) => field.values.includes(host));
    if (!own || own.field.values.length > 1) continue;
    for (const { field } of columns)
      if (field.values.length === 1 && isDomainName(field.values[0]!)) domains.push(field.values[0]!);
  }
  return domains;
});

/** RFC 9525, 6.3: a name fits whole, or with `*` for its first label. */
export function fitsName(pattern: string, name: string): boolean {
  const [a, b] = [pattern.toLowerCase().replace(/\.$/, ''), name.toLowerCase().replace(/\.$/, '')];
  return a === b || (a.startsWith('*.') && b.indexOf('.') > 0 && a.slice(2) === b.slice(b.indexOf('.') + 1));
}

/** A certificate whose names are neither the box's nor of its domain; people may call the page by another name, so a note. */
function certificateName(input: CheckInput, { certificate }: WayIn): Finding[] {
  const { reading, tree, gone, place } = input;
  const { host } = reading.about;
  const domains = domainsOf(reading);
  if (certificate === -1 || host === null || domains.length === 0) return [];
  const held = reading.certificates.find(({ site }) => isWithin(tree, site.node, certificate));
  if (!held || held.isAuthority || !held.names.some(isDomainName) || gone(held.site.node)) return [];
  const full = host.includes('.') ? [host] : domains.map((domain) => `${host}.${domain}`);
  const known = held.names.some(
    (name) =>
      full.some((own) => fitsName(name, own)) ||
      fitsName(name, host) ||
      domains.some((domain) => name.toLowerCase().endsWith(`.${domain.toLowerCase()}`)),
  );
  if (known) return [];
  return [
    {
      code: 'certificate-name',
      severity: 'note',
      place: place({ node: held.site.node, attr: held.site.attr === TEXT ? TEXT : held.site.attr }),
      params: { subject: shortName(held), names: held.names.slice(0, 3).join(', '), host },
      byPlan: false,
    },
  ];
}
