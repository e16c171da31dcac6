import { append } from '../../lists.ts';
import type { Reading } from '../../reading/reading.ts';
import { lowerBound } from '../../text/lower-bound.ts';
import { wordsOf } from '../../values/name-words.ts';
import { isDomainName } from '../../values/names.ts';
import { isPortNumber } from '../../values/numbers.ts';
import type { Site } from '../../xml/site.ts';
import { type Link, type LinksByRow, linksByRow } from '../facts/links.ts';
import { once } from '../facts/once.ts';
import { type Column, eachCellAt, isBeside, rolesByNode, siteOf, tablesOf } from '../facts/tables.ts';
import { ownNames } from '../rules/rule-meanings.ts';
import { hasAny, portWords } from '../rules/rule-words.ts';

/**
 * The box's own page or shell: a record that stands alone, holds the number of a port, and names a certificate or is called
 * after a shell or a page. Elsewhere the same signs mean services of the network, so a repeated record never counts.
 */
export interface WayIn {
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
  'management mgmt admin administration webui gui web page webpage https console verwaltung oberflaeche weboberflaeche seite gestion administracion pagina gestione beheer'.split(
    ' ',
  ),
);
/** What else stands among the settings of the box and has a port: others ask it, or it asks others. */
const otherWords = new Set(
  'vpn ipsec ike tunnel tunnels snmp syslog log logs trap traps ntp time radius ldap tacacs mail smtp dns proxy redirect flow netflow sflow backup update tftp ftp'.split(
    ' ',
  ),
);
/** Written as one word: `listenport`, `portno`. */
const holdsPort = /^port\p{L}|\p{L}port$/u;

/** Ports of tunnels and of those who are asked for a password (IANA registry), where no page listens. */
const ofTunnels = new Set('500 1194 1701 1723 1812 1813 4500 51820'.split(' '));
/** Speeds of serial lines; common practice, no source. */
const speeds = new Set('1200 2400 4800 9600 19200 38400 57600'.split(' '));

export const waysIn = once((reading): readonly WayIn[] => {
  const links = linksByRow(reading);
  const { element, above } = reading.values;
  const roles = rolesByNode(reading);
  const repeated = reading.collections.filter(({ records }) => records.length > 1);
  const certificates = certificateRecords(reading);
  const isOwnName = ownNames(reading);
  const ways: WayIn[] = [];
  for (const { columns } of tablesOf(reading).values()) {
    const isOfSingles = areSingles(columns);
    const names = isOfSingles ? columns.filter(isOwnName) : [];
    const beside = new Besides(columns, links, (node) => roles.has(node) || certificates.has(node));
    for (const column of columns) {
      const { field } = column;
      if (field.values.length !== 1 || !mayBePage(field.values[0]!)) continue;
      const isPort = isCalledPort(column.words);
      if (!isPort && speeds.has(field.values[0]!)) continue;
      const row = field.rows[0]!;
      if (liesInOneOfSeveral(isOfSingles && row !== -1 ? above[row]! : row)) continue;
      const own = beside.of(column);
      const certificate = own.find(({ reference }) => certificates.has(reference.to))?.reference.to ?? -1;
      const title = names.map(({ field: { values }, placeOf }) => values[placeOf.get(row) ?? -1] ?? '');
      const called = calledIn([...field.steps.slice(-3), ...title], isPort);
      const isKept = certificate !== -1 && isPageOf(columns, column, isPort);
      if (!isKept && !(certificate === -1 && called)) continue;
      const named = own.filter(({ reference }) => roles.has(reference.to));
      ways.push({
        site: siteOf(field, 0),
        what: called ?? (hasAny(field.steps.slice(-3).flatMap(wordsOf), shellWords) ? 'shell' : 'page'),
        port: Number(field.values[0]),
        roles: named.map(({ reference }) => roles.get(reference.to)!),
        roleSites: named.map(({ reference }) => reference.site),
        certificate,
        row,
      });
    }
    append(ways, namedSettings(columns, isOwnName));
  }
  // One port is one page, however often it is told; what names networks or a certificate says most of it.
  const most = ways.sort((a, b) => b.roles.length - a.roles.length || b.certificate - a.certificate);
  return most.filter(({ port, what }, at) => most.findIndex((one) => one.port === port && one.what === what) === at);

  function liesInOneOfSeveral(row: number): boolean {
    for (let at = row; at !== -1; at = above[at]!) {
      const node = element[at]!;
      if (repeated.some(({ records }) => records[lowerBound(records, node)] === node)) return true;
    }
    return false;
  }
});

/** What is named beside a value: in its record, or in its element where it lies in none. Records may have many thousand fields. */
class Besides {
  private readonly known = new Map<number, readonly Link[]>();
  private rootless: Map<string, Link[]> | null = null;

  /** @param counts whether a record that is named is looked for. */
  constructor(
    private readonly columns: readonly Column[],
    private readonly links: LinksByRow,
    private readonly counts: (node: number) => boolean,
  ) {}

  of({ field, container }: Column): readonly Link[] {
    const row = field.rows[0]!;
    if (row === -1) return this.outside().get(container) ?? [];
    let own = this.known.get(row);
    if (!own) {
      own = this.links.of(row).filter(({ reference }) => this.counts(reference.to));
      this.known.set(row, own);
    }
    return own;
  }

  /** What is named outside all records, by what stands around it. */
  private outside(): ReadonlyMap<string, readonly Link[]> {
    if (this.rootless) return this.rootless;
    const found = new Map<string, Link[]>();
    const containers = new Map(this.columns.map(({ field, container }) => [field, container]));
    for (const link of this.links.of(-1)) {
      const container = containers.get(link.column);
      if (container !== undefined && this.counts(link.reference.to))
        found.set(container, [...(found.get(container) ?? []), link]);
    }
    this.rootless = found;
    return found;
  }
}

/** Records of one tag of which most fields come once: sections of settings, each of another kind. */
function areSingles(columns: readonly Column[]): boolean {
  return columns.filter(({ field }) => field.values.length === 1).length * 2 > columns.length;
}

/** A box has no more settings in one list. */
const MOST = 500;

/** Settings that are rows: `page_port` in one column, and its number in another. */
function namedSettings(columns: readonly Column[], isOwnName: (column: Column) => boolean): WayIn[] {
  const ways: WayIn[] = [];
  for (const { field: names, kind } of columns) {
    if (
      names.values.length > MOST ||
      kind !== 'other' ||
      names.several ||
      names.distinct.length < Math.max(2, names.values.length)
    )
      continue;
    const ports = names.values.map((name) => isCalledPort(new Set(wordsOf(name))));
    // Where many are called after ports they are services.
    if (ports.filter((is) => is).length * 2 > ports.length) continue;
    for (const [place, isPort] of ports.entries()) {
      const what = isPort ? calledIn([names.values[place]!], true) : null;
      if (!what) continue;
      const row = names.rows[place]!;
      for (const column of columns) {
        const { field: values, placeOf } = column;
        const at = placeOf.get(row);
        if (values === names || row === -1 || isOwnName(column) || at === undefined || !mayBePage(values.values[at]!))
          continue;
        const port = Number(values.values[at]);
        ways.push({ site: siteOf(values, at), what, port, roles: [], roleSites: [], certificate: -1, row });
        break;
      }
    }
  }
  return ways;
}

/** What names say that is behind a port; null where they speak of neither page nor shell, or of something else. */
function calledIn(names: readonly string[], isPort: boolean): WayIn['what'] | null {
  if (!isPort) return null;
  const words = names.flatMap(wordsOf);
  if (hasAny(words, otherWords)) return null;
  if (hasAny(words, shellWords)) return 'shell';
  return hasAny(words, pageWords) ? 'page' : null;
}

const mayBePage = (text: string): boolean => isPortNumber(text) && !ofTunnels.has(text);

const isCalledPort = (words: ReadonlySet<string>): boolean =>
  words.has('tcp') || hasAny(words, portWords) || [...words].some((word) => holdsPort.test(word));

/** The lowest port of those that anybody may listen on (RFC 6335, 6), and that of pages behind a certificate (RFC 9110, 4.2.2). */
const [FREE, PAGE] = [1024, 443];

/**
 * Whether a number beside a certificate is the port of a page: it is called so, or is the only one there that could be, and
 * nothing beside it tells of another box or of a network, as with services.
 */
function isPageOf(columns: readonly Column[], column: Column, isPort: boolean): boolean {
  const isLikely = ({ field: { values } }: Column) =>
    values.length === 1 && mayBePage(values[0]!) && (Number(values[0]) >= FREE || Number(values[0]) === PAGE);
  if (!isPort && !isLikely(column)) return false;
  const isOfOthers = ({ kind, field: { values } }: Column) =>
    kind === 'prefix' || kind === 'address' || kind === 'mixed' || kind === 'range' || values.some(isDomainName);
  const beside = columns.filter((one) => one !== column && isBeside(one, column));
  return !beside.some(isOfOthers) && (isPort || !beside.some(isLikely));
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
