import { portsInDocuments } from '../../checks/devices/documents.ts';
import { redacted, secretSpans } from '../../handover/redact.ts';
import { redactedDocument } from '../../handover/redact-document.ts';
import { embeddedText } from '../../reading/fields/embedded-text.ts';
import { readMeaning } from '../../reading/index.ts';
import type { Reading } from '../../reading/reading.ts';
import type { DocumentText, DocumentView } from '../../views.ts';
import { siteAt, sitePath } from '../../xml/path.ts';
import { readXml } from '../../xml/read.ts';
import { valueAt } from '../../xml/site.ts';
import { type Backup, placeOf } from './open.ts';

const LISTED = 100;
/** Longest text that is shown, in units. */
const SHOWN = 200_000;

/** The documents inside values, those of the first places, in the order of the file. */
export function documentViews(backup: Backup, reading: Reading): DocumentView[] {
  const { tree } = backup;
  const ports = portsInDocuments(tree, reading);
  const order = [...reading.embedded.keys()].sort((a, b) => {
    const [one, other] = [reading.embedded[a]!.site, reading.embedded[b]!.site];
    return one.node - other.node || one.attr - other.attr;
  });
  return order.slice(0, LISTED).map((at) => {
    const { site, format } = reading.embedded[at]!;
    const { what, text, size } = embeddedText(valueAt(tree, site).trim(), format);
    return {
      path: sitePath(tree, site),
      what,
      wrapped: format.startsWith('base64'),
      size,
      ports: ports[at]!,
      legible: text !== null,
      place: placeOf(backup, site),
    };
  });
}

/** What the document at a place says; null where none is there, or nobody can read it. */
export function documentAt({ tree }: Backup, reading: Reading, path: string): DocumentText | null {
  const site = siteAt(tree, path);
  const found = site && reading.embedded.find((one) => one.site.node === site.node && one.site.attr === site.attr);
  if (!found) return null;
  const { what, text } = embeddedText(valueAt(tree, found.site).trim(), found.format);
  if (text === null) return null;
  const shown = redactedDocument(what === 'xml' ? withoutSecrets(text) : text);
  return { text: shown.slice(0, SHOWN), cut: shown.length > SHOWN };
}

/** A document in XML is read like a backup, and what is a secret in it blacked out. */
function withoutSecrets(text: string): string {
  const read = readXml(text);
  if (!read.ok) return text;
  const inner = read.value;
  return redacted(text, secretSpans(inner, readMeaning(inner).secrets), 0, text.length);
}
