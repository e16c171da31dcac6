import { append } from '../lists.ts';
import { type Patch, PatchSet } from '../patch/patch-set.ts';
import type { Plan } from '../plan/plan.ts';
import type { Reading } from '../reading/reading.ts';
import { lowerBound } from '../text/lower-bound.ts';
import { good, type Result, type Trouble } from '../trouble.ts';
import { type Fits, writeSpan, writeTag, writeValue } from '../xml/edit.ts';
import { sitePath } from '../xml/path.ts';
import { removePatches } from '../xml/remove.ts';
import { type Site, TAG, valueAt } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';
import { type Edits, siteKey, type ValueEdit } from './edits.ts';
import { leftOutNodes } from './leave-out.ts';
import { moveRoles } from './move-role.ts';
import { type PortRename, portRenames } from './rename-ports.ts';
import { type SpanChange, setValues } from './set-values.ts';

/** What a plan comes to for one file. Where `troubles` is not empty, some entry of the plan had no or no safe effect. */
export interface Compiled {
  readonly patches: PatchSet;
  readonly edits: Edits;
  readonly troubles: readonly Trouble[];
}

/** (tree, reading, plan) → patches on the original text, and the same said as facts. The order of decisions is nothing. */
export function compile(tree: Tree, reading: Reading, plan: Plan, fits: Fits): Compiled {
  const troubles: Trouble[] = [];
  const leftOut = leftOutNodes(tree, reading, plan, troubles);
  const gone = withinAny(tree, [...leftOut.keys()]);
  const removals = [...leftOut].map(([node, owner]) => ({ node, owner }));
  const removed = removePatches(tree, removals);
  const patches: Patch[] = removed.patches;
  const values = new Map<string, ValueEdit>();
  const tags = new Map<number, { name: string; owner: string }>();
  const set = setValues(tree, reading, plan, troubles);
  const moved = moveRoles(tree, reading, plan, fits, gone, troubles);
  append(patches, moved.patches);
  const renames = portRenames(reading, plan, troubles).map(spanOf);
  const changes = changesBySite([...set.parts, ...moved.parts, ...renames], troubles, tree);
  for (const [key, { site, value, owner }] of [...moved.whole, ...set.whole]) {
    const before = changes.get(key)?.owners.find((one) => one !== owner && !one.startsWith('rename-port'));
    if (before !== undefined) troubles.push({ code: 'plan-value-crossed', params: { path: sitePath(tree, site) } });
    changes.set(key, { site, value, owners: [owner], parts: null });
  }
  for (const [key, { site, value, owners, parts }] of changes) {
    if (gone(site.node) || value === valueAt(tree, site)) continue;
    const strange = reading.values.texts.has(site.node, site.attr)
      ? parts?.find((one) => !suitsText(tree, one))
      : undefined;
    if (strange) {
      troubles.push({ code: 'value-not-in-text', params: { path: sitePath(tree, site), text: strange.text } });
      continue;
    }
    const owner = owners.join(' + ');
    const made =
      site.attr === TAG ? writeTag(tree, site.node, value, owner) : written(tree, site, value, parts, fits, owner);
    if (!made.ok) {
      troubles.push(made.trouble);
      continue;
    }
    append(patches, made.value);
    if (site.attr === TAG) tags.set(site.node, { name: value, owner });
    else values.set(key, { site, value, owners });
  }
  return {
    patches: PatchSet.of(tree.text, patches),
    edits: { leftOut, goneComments: removed.comments, values, tags, added: moved.added, attributes: moved.attributes },
    troubles,
  };
}

/** The new value of a site; `parts` is null where all of it is new. */
interface SiteChange extends ValueEdit {
  readonly parts: readonly SpanChange[] | null;
}

const spanOf = ({ mention, at, to, owner }: PortRename): SpanChange => ({
  site: mention.site,
  from: at,
  to: at + mention.port.length,
  text: to,
  owner,
});

function written(
  tree: Tree,
  site: Site,
  value: string,
  parts: readonly SpanChange[] | null,
  fits: Fits,
  owner: string,
): Result<Patch[]> {
  if (!parts) return writeValue(tree, site, value, fits, owner);
  const patches: Patch[] = [];
  for (const { from, to, text, owner: own } of parts) {
    const made = writeSpan(tree, site, from, to, text, fits, own);
    if (!made.ok) return made;
    patches.push(made.value);
  }
  return good(patches);
}

/** Parts that change, site by site. Where two want the same letters, what was set there outweighs what is renamed. */
function changesBySite(spans: readonly SpanChange[], troubles: Trouble[], tree: Tree): Map<string, SiteChange> {
  const groups = new Map<string, SpanChange[]>();
  for (const span of spans) {
    const key = siteKey(span.site);
    const group = groups.get(key);
    if (group) group.push(span);
    else groups.set(key, [span]);
  }
  const changes = new Map<string, SiteChange>();
  for (const [key, group] of groups) {
    const { site } = group[0]!;
    const parts: SpanChange[] = [];
    for (const span of group) {
      const other = parts.find(({ from, to }) => from < span.to && span.from < to);
      if (!other) parts.push(span);
      else if (!span.owner.startsWith('rename-port'))
        troubles.push({ code: 'plan-value-crossed', params: { path: sitePath(tree, site) } });
    }
    parts.sort((a, b) => a.from - b.from);
    const owners = [...new Set(parts.map(({ owner }) => owner))];
    changes.set(key, { site, value: spliced(valueAt(tree, site), parts), owners, parts });
  }
  return changes;
}

/** Whether a part of a text of several settings can become another: nothing in it may look like the end of its setting. */
function suitsText(tree: Tree, { site, from, to, text }: SpanChange): boolean {
  const before = valueAt(tree, site).slice(from, to);
  return text !== '' && (text.match(/[^\p{L}\p{M}\p{N}_.:/@!#~+*-]/gu) ?? []).every((mark) => before.includes(mark));
}

/** The value with every part in it replaced; parts in ascending order. */
function spliced(value: string, parts: readonly SpanChange[]): string {
  let result = '';
  let at = 0;
  for (const { from, to, text } of parts) {
    result += value.slice(at, from) + text;
    at = to;
  }
  return result + value.slice(at);
}

/** A test whether a node lies in one of the given subtrees; they are in document order and none holds another. */
export function withinAny(tree: Tree, tops: readonly number[]): (node: number) => boolean {
  return (node) => {
    const top = tops[lowerBound(tops, node + 1) - 1];
    return top !== undefined && node < tree.after[top]!;
  };
}
