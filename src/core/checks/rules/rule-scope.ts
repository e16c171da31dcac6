import type { Reading } from '../../reading/reading.ts';
import { linksByRow } from '../facts/links.ts';
import { meaningsOf } from './rule-meanings.ts';
import { sideByWord } from './rule-sides.ts';

/** Records by which packets come to a list of rules, and to which they go from there, as `RuleParts` names them; null where it is not said. */
export interface RuleScope {
  readonly from: ReadonlySet<string> | null;
  readonly to: ReadonlySet<string> | null;
}

const unsaid: RuleScope = { from: null, to: null };

/** What the records around a list say of all its rules: `<pair from="office" to="guest"><rule>…`, `<network name="office"><rule>…`. */
export function scopeOf(reading: Reading, around: number): RuleScope {
  const { above, element } = reading.values;
  const links = linksByRow(reading);
  const meanings = meaningsOf(reading);
  const from = new Set<string>();
  const to = new Set<string>();
  const add = (node: number, sides: Set<string>) => {
    const roles = meanings.rolesAt(node);
    if (roles.length > 0) sides.add(`record ${node}`);
    for (const role of roles) sides.add(`record ${meanings.nodeOf(role)}`);
  };
  for (let at = around; at !== -1; at = above[at]!) {
    if (meanings.roleAt(element[at]!) !== -1) add(element[at]!, from);
    for (const { reference, column } of links.of(at))
      add(reference.to, sideByWord(column.template) === 'destination' ? to : from);
  }
  return from.size + to.size === 0 ? unsaid : { from: from.size > 0 ? from : null, to: to.size > 0 ? to : null };
}
