import type { Finding } from '../../core/index.ts';
import { findingWords, kindOf } from '../../words/findings.ts';
import { plain } from '../../words/said.ts';
import { isOpen, type Weight, weightNames, weightOf, weights } from '../../words/weights.ts';

export type Grouping = 'weight' | 'kind' | 'role';

/** What the list shows: what is open, of one weight or cause, or what was set aside. */
export type Shown = Weight | 'plan' | 'mend' | 'all' | 'aside';

export interface Member {
  readonly finding: Finding;
  readonly weight: Weight;
  /** Tells it from the others, also after the plan changed. */
  readonly key: string;
  /** What a search looks at. */
  readonly text: string;
}

export function membersOf(findings: readonly Finding[]): Member[] {
  const seen = new Map<string, number>();
  return findings.map((finding) => {
    const { code, place, params } = finding;
    const name = [code, place?.path ?? '', ...Object.values(params)].join(' ');
    const times = seen.get(name) ?? 0;
    seen.set(name, times + 1);
    const text =
      `${plain(findingWords(finding).what)} ${place?.path ?? ''} ${finding.aside?.reason ?? ''}`.toLowerCase();
    return { finding, weight: weightOf(finding), key: times ? `${name} ${times}` : name, text };
  });
}

const fits: Record<Exclude<Shown, Weight>, (finding: Finding) => boolean> = {
  all: isOpen,
  plan: (finding) => isOpen(finding) && finding.byPlan,
  mend: (finding) => isOpen(finding) && (finding.repairs?.length ?? 0) > 0,
  aside: (finding) => !isOpen(finding),
};

export const isShown = ({ finding, weight }: Member, shown: Shown): boolean =>
  shown in fits ? fits[shown as keyof typeof fits](finding) : isOpen(finding) && weight === shown;

export interface Group {
  readonly name: string;
  readonly members: readonly Member[];
}

const NO_ROLE = 'Of no one role';

const nameIn: Record<Grouping, (member: Member) => string> = {
  weight: ({ weight }) => weightNames[weight].name,
  kind: ({ finding }) => kindOf(finding.code),
  role: ({ finding }) => finding.role ?? NO_ROLE,
};

/** In the order of weights, or of kinds and roles as they come, those of no role last; groups of nothing are left out. */
export function groupsOf(members: readonly Member[], how: Grouping): Group[] {
  const groups = new Map<string, Member[]>();
  if (how === 'weight') for (const weight of weights) groups.set(weightNames[weight].name, []);
  for (const member of members) {
    const name = nameIn[how](member);
    const group = groups.get(name);
    if (group) group.push(member);
    else groups.set(name, [member]);
  }
  const loose = how === 'role' ? groups.get(NO_ROLE) : undefined;
  if (loose) {
    groups.delete(NO_ROLE);
    groups.set(NO_ROLE, loose);
  }
  return [...groups].flatMap(([name, list]) => (list.length > 0 ? [{ name, members: list }] : []));
}
