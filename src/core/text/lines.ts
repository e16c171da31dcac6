/** Line starts of a text; LF, CRLF and a lone CR each end a line. */
export class Lines {
  private readonly starts: Int32Array;

  constructor(private readonly text: string) {
    let starts = new Int32Array(1024);
    let count = 1;
    const lone = text.includes('\r');
    for (let at = text.indexOf('\n'); !lone && at !== -1; at = text.indexOf('\n', at + 1)) {
      if (count === starts.length) starts = grown(starts);
      starts[count++] = at + 1;
    }
    for (let at = 0; lone && at < text.length; at++) {
      const unit = text.charCodeAt(at);
      if (unit !== 10 && !(unit === 13 && text.charCodeAt(at + 1) !== 10)) continue;
      if (count === starts.length) starts = grown(starts);
      starts[count++] = at + 1;
    }
    this.starts = starts.slice(0, count);
  }

  get count(): number {
    return this.starts.length;
  }

  /** Line and column from 1 of an offset. */
  at(offset: number): { line: number; column: number } {
    let low = 0;
    let high = this.starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: offset - this.starts[low]! + 1 };
  }

  /** Span of a line from 1, its line end left out. */
  span(line: number): [start: number, end: number] {
    const start = this.starts[line - 1] ?? this.text.length;
    let end = this.starts[line] ?? this.text.length;
    while (end > start && (this.text.charCodeAt(end - 1) === 10 || this.text.charCodeAt(end - 1) === 13)) end--;
    return [start, end];
  }
}

function grown(starts: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> {
  const wider = new Int32Array(starts.length * 2);
  wider.set(starts);
  return wider;
}

/** The line around an offset, cut to about 80 units, and where in it the caret belongs. */
export function excerptAt(text: string, offset: number): { text: string; caret: number } {
  let start = offset;
  while (start > 0 && offset - start < 48 && text[start - 1] !== '\n' && text[start - 1] !== '\r') start--;
  let end = offset;
  while (end < text.length && end - start < 80 && text[end] !== '\n' && text[end] !== '\r') end++;
  return { text: text.slice(start, end).replaceAll('\t', ' '), caret: offset - start };
}
