import { sectionPath } from '../../compile/leave-out.ts';
import { unitsOf } from '../../compile/units.ts';
import { recordLists } from '../../reading/keys/record-lists.ts';
import { keyValue, recordName } from '../../reading/keys/record-name.ts';
import { sectionIndex } from '../../reading/keys/sections.ts';
import { linesOf } from '../../reading/outline/lines.ts';
import type { Reading } from '../../reading/reading.ts';
import type { RecordQuery, RecordsView, RecordView } from '../../views.ts';
import { pathOf } from '../../xml/path.ts';
import { nameOf } from '../../xml/tree.ts';
import type { Backup } from './open.ts';

/** The records that a query asks for, in the order of the file: those in [from, from + limit), and how many there are. */
export function recordsOf(backup: Backup, reading: Reading, query: RecordQuery): RecordsView {
  const { tree, lines } = backup;
  const units = unitsOf(tree, reading);
  const sectionOf = sectionIndex(tree, reading.sections);
  const lists = recordLists(reading);
  const secrets = new Int32Array(tree.size);
  const boxBound = new Uint8Array(tree.size);
  for (const { site } of reading.secrets) {
    const unit = units.of[site.node]!;
    if (unit !== -1) secrets[unit]!++;
  }
  for (const { node } of reading.boxBound) {
    const unit = units.of[node]!;
    if (unit !== -1) boxBound[unit] = 1;
  }
  const section =
    query.section === null ? -1 : reading.sections.findIndex((one) => sectionPath(tree, one) === query.section);
  if (query.section !== null && section === -1) return { total: 0, records: [] };
  const words = query.words.trim().toLowerCase();
  const records: RecordView[] = [];
  /** Ends of the units around the present one. */
  const around: number[] = [];
  let total = 0;
  for (const node of units.nodes) {
    while (around.length && node >= around.at(-1)!) around.pop();
    const depth = around.length;
    around.push(tree.after[node]!);
    const at = sectionOf(node);
    if (query.section !== null && at !== section) continue;
    const collection = lists.of(node);
    const name = collection ? recordName(tree, collection, node) : nameOf(tree, node);
    const key = collection
      ? (linesOf(tree).recordName(collection, node)?.key ?? keyValue(tree, collection.key, node))
      : '';
    const kind = nameOf(tree, node);
    if (words && ![name, key, kind].some((text) => text.toLowerCase().includes(words))) continue;
    if (total >= query.from && records.length < query.limit) {
      records.push({
        path: pathOf(tree, node),
        name,
        key: key === name ? '' : key,
        kind,
        section: reading.sections[at]?.name ?? '',
        line: lines.at(tree.start[node]!).line,
        start: tree.start[node]!,
        end: tree.end[node]!,
        depth,
        secrets: secrets[node]!,
        boxBound: boxBound[node] === 1,
      });
    }
    total++;
  }
  return { total, records };
}
