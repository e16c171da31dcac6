import { type Look, lookOf } from '../../text/sniff.ts';
import type { Paste } from './lines.ts';

declare class TextEncoder {
  encode(text: string): Uint8Array;
}

/** What a paste without devices looks like, so that the refusal can name it; else one of the looks of text/sniff.ts. */
export type PasteLook =
  | 'xml'
  | 'saved-plan'
  | 'saved-receiver'
  | 'json-cut'
  | 'routes'
  | 'neighbours'
  | 'addresses'
  | 'settings'
  | 'command-failed'
  | 'command-only';

/** As much as any sign needs. */
const HEAD = 20_000;

export function lookOfPaste(text: string, { lines, commands }: Paste): PasteLook | Look {
  if (lines.length === 0) return commands.length ? 'command-only' : 'blank';
  const head = text.slice(0, HEAD);
  const look = lookOf(new TextEncoder().encode(head));
  if (look === null) return 'xml';
  const top = lines.slice(0, 3).map((line) => line.text);
  if (/^[[{]\s*["[{\]}\d-]/.test(top.join(''))) return jsonLook(text, head) ?? 'json';
  if (look !== 'text') return look;
  const some = lines.slice(0, 200);
  const share = (test: RegExp) => some.filter(({ text }) => test.test(text)).length / some.length;
  if (some.some((line) => failed.test(line.text))) return 'command-failed';
  if (share(/\bat [\da-f:]{11,17} |^[\da-f.:]+ dev \S+ .*(?:lladdr|FAILED|REACHABLE|STALE)/) >= 0.5)
    return 'neighbours';
  if (share(/^(?:default|[\da-f.:]+(?:\/\d+)?)\s+(?:via|dev)\s/) >= 0.5) return 'routes';
  if (some.some((line) => /^Destination\s+Gateway\b/.test(line.text))) return 'routes';
  if (share(/^(?:[\da-f]{2}([:-])(?:[\da-f]{2}\1){4}[\da-f]{2}|\d+\.\d+\.\d+\.\d+)(?:\/\d+)?$/i) >= 0.5)
    return 'addresses';
  if (share(/^(?:[\w."'-]+\s*[=:{]|\[[\w. "-]+\]$|[#;!]|.*[{};]$)/) >= 0.5) return 'settings';
  return 'text';
}

const failed =
  /command not found|: not found$|is not recognized|no such file or directory|permission denied|operation not permitted|does not exist|^usage: |unknown (?:command|option)|object ".*" is unknown/i;

function jsonLook(text: string, head: string): PasteLook | null {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return /"(?:ifname|ifindex|operstate)"/.test(head) ? 'json-cut' : null;
  }
  const first: unknown = Array.isArray(value) ? value[0] : value;
  if (typeof first !== 'object' || first === null) return null;
  if ('plan' in first) return 'saved-plan';
  if ('receiver' in first) return 'saved-receiver';
  return 'dst' in first ? 'routes' : null;
}
