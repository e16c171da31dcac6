import type { Graft } from '../../carry/graft.ts';
import { sectionPath } from '../../compile/leave-out.ts';
import { unitsOf } from '../../compile/units.ts';
import { bar, hiddenSpans, redacted } from '../../handover/redact.ts';
import { redactedDocument } from '../../handover/redact-document.ts';
import type { Patch } from '../../patch/patch-set.ts';
import { sectionIndex } from '../../reading/keys/sections.ts';
import { hiddenSites } from '../../reading/secrets/hidden-sites.ts';
import { hiddenIn } from '../../reading/secrets/secrets-in-text.ts';
import type { GraftChange, GraftChanges } from '../../views.ts';
import { nodeAround } from '../../xml/around.ts';
import { pathFinder, pathOf, siteAt } from '../../xml/path.ts';
import { valueAt } from '../../xml/site.ts';
import { isElement, type Tree } from '../../xml/tree.ts';
import type { OpenBackup } from '../backup/open.ts';
import { besides, type Comparison } from '../plan/compare.ts';

/** Longest text that a row of the list shows, in units, and how many rows are told. */
const ROW = 240;
const LISTED = 2000;
/** So much of what is put in is looked through for secrets, that none is shown in part. */
const MASKED = 200_000;

/** What a graft makes of the receiver's file, place by place in its order, and how its sections fare. */
export function graftChanges(donor: OpenBackup, { backup, reading }: OpenBackup, graft: Graft): GraftChanges {
  const { tree } = backup;
  const spans = hiddenSpans(tree, reading);
  const mask = masker(donor, graft);
  const sectionOf = sectionIndex(tree, reading.sections);
  const changes = graft.patches.patches.slice(0, LISTED).map((patch): GraftChange => {
    const node = holderOf(tree, patch);
    return {
      kind: patch.start === patch.end ? 'added' : patch.text.trim() === '' ? 'left-out' : 'changed',
      path: pathOf(tree, node),
      section: reading.sections[sectionOf(node)]?.name ?? '',
      line: backup.lines.at(patch.start).line,
      before: cut(redacted(tree.text, spans, patch.start, Math.min(patch.end, patch.start + ROW))),
      after: cut(mask(patch.text.slice(0, MASKED))),
    };
  });
  const { receiver } = graft.account;
  const states = reading.sections.map(() => ({ kept: 0, replaced: 0, removed: 0, added: 0 }));
  for (const node of unitsOf(tree, reading).nodes) {
    const state = states[sectionOf(node)];
    if (state) state[receiver.removed.has(node) ? 'removed' : receiver.replaced.has(node) ? 'replaced' : 'kept']++;
  }
  for (const { at, from, node } of graft.edits.foreign ?? []) {
    const state = isElement(from, node) ? states[sectionOf(at)] : undefined;
    if (state) state.added++;
  }
  return {
    changes,
    total: graft.patches.patches.length,
    sections: reading.sections.map((section, at) => ({
      path: sectionPath(tree, section),
      name: section.name,
      size: section.size,
      ...states[at]!,
    })),
  };
}

/** One section of the receiver before and after, whole lines, secrets blacked out; null where the path names nothing. */
export function compareGraft(
  donor: OpenBackup,
  { backup, reading }: OpenBackup,
  graft: Graft,
  path: string,
  limit: number,
): Comparison | null {
  const mask = masker(donor, graft);
  return besides(backup, reading, {
    patches: graft.patches,
    path,
    limit,
    spans: hiddenSpans(backup.tree, reading),
    shown: ({ text }) => mask(text),
  });
}

const cut = (text: string) => (text.length > ROW ? `${text.slice(0, ROW)}…` : text);

/** The innermost element that a patch lies in. */
function holderOf(tree: Tree, { start, end }: Patch): number {
  let node = Math.max(tree.root, nodeAround(tree, start));
  while (node > tree.root && !(isElement(tree, node) && tree.end[node]! >= end)) node = tree.parent[node]!;
  return node;
}

/** Blacks out what is put in: the donor's secrets as they are written, secrets that the plan sets, and what looks like one. */
function masker({ backup, reading }: OpenBackup, { plan }: Graft): (text: string) => string {
  const { tree } = backup;
  const hidden = hiddenSites(tree, reading);
  const values = new Set<string>();
  const add = (value: string) => {
    for (const line of value.split(/[\r\n]+/)) if (line.trim().length > 3) values.add(line.trim());
  };
  for (const { site } of hiddenIn(tree, reading)) add(valueAt(tree, site));
  const find = pathFinder(tree);
  for (const decision of plan.decisions) {
    if (decision.kind !== 'set-value') continue;
    const site = siteAt(tree, decision.path, find);
    if (site && hidden.has(site.node, site.attr)) add(decision.value);
  }
  const written = [...values].flatMap((value) => {
    const escaped = value.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
    return escaped === value ? [value] : [value, escaped];
  });
  written.sort((a, b) => b.length - a.length);
  return (text) => {
    let shown = text;
    for (const value of written) if (shown.includes(value)) shown = shown.replaceAll(value, bar(value.length));
    return redactedDocument(shown);
  };
}
