import { emptyPlan } from '../plan/plan.ts';
import type { Key, Reading } from '../reading/reading.ts';
import { hiddenIn } from '../reading/secrets/secrets-in-text.ts';
import type { Finding } from '../views.ts';
import { pathOf, sitePath } from '../xml/path.ts';
import { TEXT } from '../xml/site.ts';
import { backupView } from './backup/backup-view.ts';
import type { Backup } from './backup/open.ts';
import { type Circumstances, planView } from './plan/plan-view.ts';

/** What a reading found, said in paths: for scripts, tests and measurements. */
export interface Inspection {
  readonly encoding: string;
  readonly standard: string | null;
  readonly about: Reading['about'];
  readonly sections: readonly { path: string; name: string; records: number; bytes: number }[];
  readonly collections: readonly { parent: string; item: string | null; keyedBy: string | null; count: number }[];
  readonly bindings: readonly { role: string; port: string; at: string }[];
  readonly ports: readonly { at: string; value: string }[];
  readonly references: readonly { at: string; value: string; to: string; tier: string }[];
  readonly dangling: readonly { at: string; value: string; tier: string; nearest: string | null }[];
  readonly certificates: readonly Record<
    'at' | 'subject' | 'issuer' | 'notBefore' | 'notAfter' | 'keyAt',
    string | null
  >[];
  /** Secrets, and documents inside a value that hold some. */
  readonly secrets: readonly string[];
  readonly hardware: readonly string[];
  readonly findings: readonly Finding[];
}

export function inspect(backup: Backup, reading: Reading, circumstances: Circumstances = {}): Inspection {
  const { tree, decoded } = backup;
  const at = (site: Parameters<typeof sitePath>[1]) => sitePath(tree, site);
  return {
    encoding: decoded.bom && decoded.encoding === 'utf-8' ? 'utf-8-bom' : decoded.encoding,
    standard: reading.standard,
    about: reading.about,
    sections: backupView(backup, reading).sections.map(({ path, name, records, size }) => ({
      path,
      name,
      records,
      bytes: size,
    })),
    collections: reading.collections.map(({ parent, item, key, records }) => ({
      parent: pathOf(tree, parent),
      item,
      keyedBy: keyWords(key),
      count: records.length,
    })),
    bindings: reading.bindings.map(({ role, port, site }) => ({ role, port, at: at(site) })),
    ports: reading.mentions.map(({ site, value }) => ({ at: at(site), value })),
    references: reading.references
      .filter(({ tier }) => tier !== 'possible')
      .map(({ site, value, to, tier }) => ({ at: at(site), value, to: pathOf(tree, to), tier })),
    dangling: reading.dangling
      .filter(({ tier }) => tier !== 'possible')
      .map(({ site, value, tier, nearest }) => ({ at: at(site), value, tier, nearest })),
    certificates: reading.certificates.map(({ site, subject, issuer, notBefore, notAfter, keyAt }) => ({
      at: at(site),
      subject,
      issuer,
      notBefore,
      notAfter,
      keyAt: keyAt && at(keyAt),
    })),
    secrets: [...new Set(hiddenIn(tree, reading).map(({ site }) => at(site)))],
    hardware: reading.boxBound.map(({ node, attr }) => at({ node, attr: attr >= 0 ? attr : TEXT })),
    findings: planView(backup, reading, emptyPlan, circumstances).findings,
  };
}

function keyWords(key: Key): string | null {
  switch (key.by) {
    case 'tag':
      return 'name()';
    case 'attribute':
      return `@${key.name}`;
    case 'leaf':
      return key.path.join('/');
    case 'position':
      return null;
    default:
      return key satisfies never;
  }
}
