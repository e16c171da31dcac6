import { useState } from 'react';
import { examples } from '../platform/examples.ts';
import type { Source } from '../state/open.ts';
import { Dialog } from '../ui/dialog.tsx';
import { sourceOfBytes } from './handing.ts';

const words: Record<(typeof examples)[number]['file'], readonly [name: string, remark: string]> = {
  'kestrel-quay-netconf.xml': [
    'The marina in the IETF’s own format',
    'YANG over NETCONF: what names what is known exactly, from the standard.',
  ],
  'kestrel-quay-plain.xml': [
    'The marina in a format nobody told us about',
    'What names what is worked out from the file. It has the faults of real life in it.',
  ],
};

export function ExamplesDialog({ onClose, onTake }: { onClose: () => void; onTake: (source: Source) => void }) {
  const [failed, setFailed] = useState(false);
  return (
    <Dialog
      title="Which example?"
      onClose={onClose}
      footer={
        <button type="button" className="btn" onClick={onClose}>
          Close
        </button>
      }
    >
      <p>Kestrel Quay Marina is invented, and so are its addresses, names and secrets.</p>
      <div>
        {examples.map(({ file, load }) => (
          <button
            key={file}
            type="button"
            className="opt"
            onClick={() =>
              load().then(
                (module) => onTake(sourceOfBytes(new TextEncoder().encode(module.default), file)),
                () => setFailed(true),
              )
            }
          >
            <b>{words[file][0]}</b>
            <span className="dim">{words[file][1]}</span>
          </button>
        ))}
      </div>
      {failed && <p className="wrong">The example was not loaded before the network went. Connect again and retry.</p>}
    </Dialog>
  );
}
