import type { Finding, Repair } from '../core/index.ts';
import { lastStep } from './decisions.ts';
import { findingWords, manyReasonWords, reasonWords } from './findings.ts';
import { count, number } from './numbers.ts';
import { repairWords } from './repairs.ts';
import { plain, type Said, say, value } from './said.ts';

/** How many names are told; the list below the row has all of them. */
const FEW = 3;

/** `a`, `b` and 7 more; each name apart, since names hold commas. */
function names(all: readonly string[]): Said {
  const shown = all.length > FEW + 1 ? all.slice(0, FEW) : all;
  const rest = all.length - shown.length;
  return shown.reduce<Said>((said, name, at) => {
    const sign = at === 0 ? '' : at === all.length - 1 ? ' and ' : ', ';
    const end = at === shown.length - 1 && rest > 0 ? ` and ${number(rest)} more` : '';
    return say`${said}${sign}${value(name)}${end}`;
  }, []);
}

/** Why it matters that they all stand, and what you can do. */
export const bundleWhy = (findings: readonly Finding[]): string =>
  findings[0]!.code === 'reference-left-out'
    ? 'Carried like this, they point at nothing. Take along what they name, or leave them out too.'
    : findingWords(findings[0]!).why;

/** What findings of one cause say together, in one sentence. */
export function bundleWords(findings: readonly Finding[]): Said {
  const [first] = findings;
  const { code, params, cause } = first!;
  const many = `${count(findings.length, 'reference')} name`;
  switch (code) {
    case 'reference-left-out': {
      const lost = new Map(findings.map((finding) => [finding.cause?.lost, nameOf(finding)]));
      if (lost.size === 1) return say`${many} ${value(nameOf(first!))}, and you left it out.`;
      const from = lastStep((cause?.decision ?? '').replace(/^leave-out /, ''));
      return say`${many} ${count(lost.size, 'record')} that you left out with ${value(from)}: ${names([...lost.values()])}.`;
    }
    case 'reference-case':
      return say`${many} ${value(params.value)}, and the record is written ${value(params.written)}.`;
    case 'reference-dangling':
    case 'reference-recurring':
      return say`${many} ${value(params.value)}, and no such record is there.${params.nearest === undefined ? '' : say` There is ${value(params.nearest)}.`}`;
    case 'port-name-long':
      return say`${count(findings.length, 'device')} would have a name of more than ${Number(params.limit)} characters: ${names(findings.map((finding) => String(finding.params.port)))}.`;
    case 'record-unused':
      return say`Nothing uses these ${number(findings.length)} records any more: ${names(findings.map(nameOf))}. You ${params.set ? 'changed or left out' : params.moved ? 'moved or left out' : 'left out'} what named them.`;
    case 'certificate-issuer-left-out':
      return say`${count(findings.length, 'certificate')} name ${value(params.issuer)} as their issuer, which you left out.`;
    case 'box-bound-travels': {
      const signs = new Set(findings.map((finding) => String(finding.params.sign)));
      const told = [...signs].filter((sign) => sign !== '');
      // A setting may be written in several lines.
      if (told.length === 1)
        return say`These ${number(findings.length)} lines are ${reasonWords(String(params.reason))}, by ${value(told[0])}, and they go along.`;
      return say`${number(told.length || findings.length)} ${manyReasonWords(String(params.reason))} go along${told.length > 0 ? say`: ${names(told)}` : ''}.`;
    }
    default:
      return say`${number(findings.length)} times: ${plain(findingWords(first!).what)}`;
  }
}

const nameOf = ({ params }: Finding) => String(params.target ?? params.value ?? params.issuer ?? params.name);

/** What one repair for all of them does, for its button. */
export function bundleRepairWords(repair: Pick<Repair, 'code' | 'params'>, findings: readonly Finding[]): Said {
  const lost = new Set(findings.map(({ cause }) => cause?.lost)).size;
  switch (repair.code) {
    case 'carry':
      return lost === 1
        ? say`Take ${value(nameOf(findings[0]!))} along`
        : say`Take these ${number(lost)} along, and what they need`;
    case 'leave-out':
      return repair.params.too
        ? say`Leave these ${number(findings.length)} out too`
        : say`Leave all ${number(findings.length)} out`;
    case 'shorten-name':
      return say`Call them ${value(repair.params.to)} and so on`;
    case 'empty-value':
      return say`Empty all ${number(findings.length)}`;
    case 'name-nearest':
    case 'name-as-written':
      return say`Name ${value(repair.params.to)} in all ${number(findings.length)}`;
    default:
      return repairWords(repair);
  }
}
