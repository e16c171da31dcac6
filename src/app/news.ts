import type { State } from '../state/session.ts';
import { count } from '../words/numbers.ts';
import { troubleWords } from '../words/trouble.ts';
import { isOpen } from '../words/weights.ts';

const phases = { bytes: 'Decoding', reading: 'Reading', meaning: 'Finding records and references' };

export const phaseName = (phase: keyof typeof phases): string => phases[phase];

/** What has just happened, for those who hear the page. */
export function news({ session, history }: State): string {
  switch (session.phase) {
    case 'empty':
      return '';
    case 'busy': {
      const { amount, file } = session;
      if (!amount) return `Opening ${file.name}.`;
      return `${phaseName(amount.phase)}, ${Math.floor((100 * amount.done) / Math.max(1, amount.total))} percent.`;
    }
    case 'refused':
      return `${session.file.name}: ${troubleWords(session.trouble).title}.`;
    case 'broken':
      return `${session.file.name} could not be read.`;
    case 'open': {
      if (session.behind) return '';
      const { ledger, findings } = session.view;
      const name = history.present.name;
      const what = name ? `${name}.` : `${session.file.name} is open.`;
      return `${what} ${count(ledger.records, 'record')}, ${ledger.changed} changed, ${ledger.leftOut} left out, ${count(findings.filter(isOpen).length, 'open finding')}.`;
    }
    default:
      return session satisfies never;
  }
}
