import type { DocumentView } from '../core/index.ts';
import { looks } from './looks.ts';

/** What a document inside a value is, for people. */
export function documentWords({ what, wrapped }: Pick<DocumentView, 'what' | 'wrapped'>): string {
  const plain =
    what === 'xml'
      ? 'XML'
      : what === 'json'
        ? 'JSON'
        : what === 'text'
          ? 'plain text'
          : what === 'binary'
            ? 'data that is no text'
            : looks[what]![0].replace(/, .*/, '');
  return wrapped ? `${plain}, wrapped in base64` : plain;
}
