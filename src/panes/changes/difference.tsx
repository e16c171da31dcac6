import { count } from '../../words/numbers.ts';

/** Old and new in one line, where only what differs is struck and written anew. */
export function Difference({ before, after }: { before: string; after: string }) {
  let head = 0;
  while (head < Math.min(before.length, after.length) && before[head] === after[head]) head++;
  let tail = 0;
  const most = Math.min(before.length, after.length) - head;
  while (tail < most && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  // Whole names are easier to read than the letters that differ.
  while (head > 0 && /[\w.:/-]/.test(before[head - 1]!)) head--;
  while (tail > 0 && /[\w.:/-]/.test(before.at(-tail)!)) tail--;
  return (
    <>
      {before.slice(0, head)}
      <del className="struck">{before.slice(head, before.length - tail)}</del>{' '}
      <ins className="mine plain-ins">{after.slice(head, after.length - tail)}</ins>
      {before.slice(before.length - tail)}
    </>
  );
}

export const cut = (text: string): string => {
  const lines = text.split(/\r\n|\r|\n/);
  return lines.length > 4 ? `${lines.slice(0, 4).join('\n')}\n… ${count(lines.length - 4, 'more line')}` : text;
};
