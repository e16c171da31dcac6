import { embeddedText } from '../../reading/fields/embedded-text.ts';
import type { Embedded, Reading } from '../../reading/reading.ts';
import { wordsPattern } from '../../reading/references/remarks.ts';
import type { Finding } from '../../views.ts';
import { valueAt } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import { siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';

/** A longer document is searched up to here, in units. */
const MOST = 1 << 20;

const known = new WeakMap<readonly Embedded[], readonly (readonly string[])[]>();

/** For each document inside a value the ports of the file that it names, in alphabetical order. */
export function portsInDocuments(tree: Tree, { embedded, ports }: Reading): readonly (readonly string[])[] {
  let found = known.get(embedded);
  if (!found) {
    const pattern = wordsPattern(new Set(ports.map(({ name }) => name)));
    found = embedded.map(({ site, format }) => {
      const text = pattern && embeddedText(valueAt(tree, site).trim(), format).text;
      return text ? [...new Set(Array.from(text.slice(0, MOST).matchAll(pattern), ([name]) => name))].sort() : [];
    });
    known.set(embedded, found);
  }
  return found;
}

/** Documents inside values that name a port by its old name: nothing is rewritten in there. */
export function checkDocuments({ tree, reading, renames, set, gone, place }: CheckInput): Finding[] {
  const moved = new Map([...renames].filter(([from, to]) => from !== to));
  if (moved.size === 0 || reading.embedded.length === 0) return [];
  const deviceOf = new Map(reading.ports.map(({ name, parent }) => [name, parent ?? name]));
  const findings: Finding[] = [];
  for (const [at, names] of portsInDocuments(tree, reading).entries()) {
    const { site } = reading.embedded[at]!;
    const old = names.filter((name) => moved.has(name) || moved.has(deviceOf.get(name) ?? name));
    if (old.length === 0 || gone(site.node) || set.has(siteKey(site.node, site.attr))) continue;
    findings.push({
      code: 'port-in-document',
      severity: 'warning',
      place: place(site),
      params: { ports: old.join(', '), count: old.length },
      byPlan: true,
    });
  }
  return findings;
}
