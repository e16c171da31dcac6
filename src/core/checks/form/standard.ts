import {
  asWritten,
  type Fault,
  formats,
  type Judgement,
  judge,
  judgeAgain,
  type KnownFormat,
} from '../../reading/known/index.ts';
import type { Finding } from '../../views.ts';
import { TEXT } from '../../xml/site.ts';
import type { Tree } from '../../xml/tree.ts';
import { siteKey } from '../facts/tables.ts';
import type { CheckInput } from '../input.ts';
import { recordAround } from '../repairs/repairs.ts';

/**
 * What a document in a known format owes to its modules: types, what must be there, conditions. A box may deviate from a
 * module, so what the donor had already is to be looked at; what the plan would break, a box that follows it refuses.
 */
export function checkStandard(input: CheckInput): Finding[] {
  const { tree, reading } = input;
  const format = formats.find(({ name }) => name === reading.standard);
  const before = format && judgedAsWritten(tree, format);
  if (!format || !before) return [];
  const now = judged(input, format, before.judgement);
  const sources = new Map(format.modules.map(({ name, source }) => [name, source]));
  const isByPlan = (fault: Fault) => now !== before.judgement && !before.ids.has(idOf(fault));
  const findings = byCause(now.faults, isByPlan).map(({ fault, count }): Finding => {
    const byPlan = isByPlan(fault);
    const light = fault.is === 'not-there' || (fault.is === 'type' && fault.misfit.reason === 'newer');
    return {
      code: codeOf(fault),
      severity: light ? 'note' : byPlan ? 'error' : 'warning',
      place: input.place({ node: fault.node, attr: TEXT }),
      params: {
        module: fault.module,
        source: sources.get(fault.module) ?? '',
        ...saysOf(fault),
        ...recordOf(fault),
        ...(count > 1 && { count }),
      },
      byPlan,
    };
  });
  const [first] = now.untold;
  if (first)
    findings.push({
      code: 'schema-untold',
      severity: 'note',
      place: input.place({ node: first.node, attr: TEXT }),
      params: { count: now.untold.length },
      byPlan: false,
    });
  return findings;

  /** Where something is missing, its place is what lacks it. */
  function recordOf({ is, node }: Fault): Finding['params'] {
    return is === 'missing' ? { record: input.recordNamed(recordAround(input, node)) } : {};
  }
}

function codeOf(fault: Fault): Finding['code'] {
  switch (fault.is) {
    case 'type':
      return fault.misfit.reason === 'newer' ? 'schema-unknown' : 'schema-type';
    case 'not-there':
      return 'schema-unknown';
    case 'missing':
      return 'schema-missing';
    case 'too-many':
      return 'schema-too-many';
    case 'when':
      return 'schema-when';
    case 'must':
      return 'schema-must';
  }
}

function saysOf(fault: Fault): Finding['params'] {
  switch (fault.is) {
    case 'type':
      return fault.misfit.reason === 'newer'
        ? { name: fault.misfit.wants.replace(/^.*:/, '') }
        : { reason: fault.misfit.reason, wants: fault.misfit.wants };
    case 'not-there':
      return { name: fault.name };
    case 'missing':
      return { name: fault.name, least: fault.least };
    case 'too-many':
      return { name: fault.name, most: fault.most };
    case 'when':
    case 'must': {
      const has = fault.cause?.value?.replace(/^.*:/, '');
      return { test: bare(fault.test), ...fault.asked, ...(has !== undefined && { has }) };
    }
  }
}

/** Faults of one cause, told at the first of them; conditions that want what is said to be missing are told with that. */
function byCause(faults: readonly Fault[], isByPlan: (fault: Fault) => boolean): { fault: Fault; count: number }[] {
  const groups: { fault: Fault; count: number }[] = [];
  const missing = new Map<string, { fault: Fault; count: number }>();
  for (const fault of faults) {
    if (fault.is !== 'missing') continue;
    missing.set(`${fault.node} ${fault.name}`, { fault, count: 1 });
  }
  const known = new Map<string, { fault: Fault; count: number }>();
  for (const fault of faults) {
    if (fault.is === 'when' || fault.is === 'must') {
      const { cause, test } = fault;
      const lacking = cause && missing.get(`${cause.node} ${cause.name}`);
      if (lacking) {
        lacking.count++;
        continue;
      }
      const key = cause && `${cause.node} ${cause.name} ${test} ${isByPlan(fault)}`;
      const group = key === null ? undefined : known.get(key);
      if (group) {
        group.count++;
        continue;
      }
      groups.push({ fault, count: 1 });
      if (key !== null) known.set(key, groups[groups.length - 1]!);
    } else groups.push((fault.is === 'missing' && missing.get(`${fault.node} ${fault.name}`)) || { fault, count: 1 });
  }
  return groups;
}

/** An expression without the modules of its names, which fill the line and tell a reader little. */
const bare = (test: string) => test.replace(/[A-Za-z_][\w.-]*:(?=[A-Za-z_])/g, '');

const idOf = ({ node, module: _, ...rest }: Fault) => `${node} ${JSON.stringify(rest)}`;

interface Before {
  readonly judgement: Judgement;
  readonly ids: ReadonlySet<string>;
}

const written = new WeakMap<Tree, Before | null>();

/** The donor's own faults, once for a document. */
function judgedAsWritten(tree: Tree, format: KnownFormat): Before | null {
  let known = written.get(tree);
  if (known === undefined) {
    const judgement = judge(tree, format, asWritten(tree));
    known = judgement && { judgement, ids: new Set(judgement.faults.map(idOf)) };
    written.set(tree, known);
  }
  return known;
}

/** Judged again where the plan leaves something out or sets a value: new names of ports keep their types and meet again. */
function judged({ tree, set, leaves, gone }: CheckInput, format: KnownFormat, before: Judgement): Judgement {
  if (set.size === 0 && !leaves) return before;
  const own = asWritten(tree);
  const view = { value: (node: number) => set.get(siteKey(node, TEXT))?.value.trim() ?? own.value(node), gone };
  const changed = [...set.values()].map(({ site }) => site.node);
  return judgeAgain(tree, format, view, before, changed) ?? judge(tree, format, view)!;
}
