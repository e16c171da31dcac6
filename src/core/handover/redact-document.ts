import { secretsInText } from '../reading/secrets/secrets-in-text.ts';
import { redacted } from './redact.ts';

/** Text of a document that nobody described, its secrets blacked out. */
export function redactedDocument(text: string): string {
  return redacted(text, Int32Array.from(secretsInText(text).flat()), 0, text.length);
}
