/** `/box/zones/zone` is `zones / zone`, `/dump/table{zone}/row` `zone / row`, `/list/zone/*` `zone`. */
export function listName(list: string): string {
  const steps = list
    .split('/')
    .slice(2)
    .map((step) => /\{(.+)\}$/.exec(step)?.[1] ?? /\[(.+)\]$/.exec(step)?.[1] ?? step);
  if (steps.at(-1) === '*') steps.pop();
  return steps.join(' / ') || list;
}

/** What one record of a list is: `zone` of `/box/zones/zone`, and of `/dump/table{zone}/row`, whose tag says nothing. */
export function kindOfRecord(list: string): string {
  const [last, around] = list.split('/').reverse() as [string, string?];
  const called = /[}\]*]$/.test(last) ? null : /[{[]([^{}[\]]+)[}\]]$/.exec(around ?? '');
  return called ? called[1]! : listName(list).split(' / ').pop()!;
}
