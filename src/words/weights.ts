import type { Finding, FindingCode } from '../core/index.ts';

/** How much a finding matters, in the words of the page. */
export type Weight = 'stop' | 'break' | 'check' | 'note';

export const weights: readonly Weight[] = ['stop', 'break', 'check', 'note'];

export const weightNames: Record<Weight, { readonly name: string; readonly means: string }> = {
  stop: { name: 'Stop', means: 'the new box would not load it or come up' },
  break: { name: 'Break', means: 'something would stop working' },
  check: { name: 'Check', means: 'may be meant; look' },
  note: { name: 'Note', means: 'for your sheet, nothing to do' },
};

/** Whether a finding still asks for something: it was not set aside. */
export const isOpen = ({ aside }: Pick<Finding, 'aside'>): boolean => aside === undefined;

/** Errors that keep the whole file from loading, rather than one thing from working. */
const stopping: ReadonlySet<FindingCode> = new Set<FindingCode>([
  'port-doubled',
  'encoding-contradicts',
  'prefix-unbound',
]);

/** An entry of the plan that does not fit keeps the file from being made; a port that is not there does no harm. */
export function weightOf({ code, severity, params }: Finding): Weight {
  if (code === 'plan-entry') return params.trouble === 'plan-port-missing' ? 'check' : 'stop';
  if (severity === 'error') return stopping.has(code) ? 'stop' : 'break';
  return severity === 'warning' ? 'check' : 'note';
}
