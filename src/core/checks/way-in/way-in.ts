import { append } from '../../lists.ts';
import { isDomainName } from '../../values/names.ts';
import type { Finding } from '../../views.ts';
import { TEXT } from '../../xml/site.ts';
import { isWithin } from '../../xml/tree.ts';
import { shortName } from '../credentials/certificates.ts';
import { once } from '../facts/once.ts';
import { tablesOf } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { carry } from '../repairs/repairs.ts';
import { ruleListsOf } from '../rules/rule-facts.ts';
import { admission, admissionAsWas, rolesLetIn } from './admitting.ts';
import { type WayIn, waysIn } from './own-pages.ts';

/** Whether the technician still reaches the box's own page after the plan, and what its certificate is called. */
export function checkWayIn(input: CheckInput): Finding[] {
  const findings: Finding[] = [];
  const ways = waysIn(input.reading);
  for (const way of ways) {
    append(findings, certificateName(input, way));
    if (input.planned) append(findings, reach(input, way));
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
