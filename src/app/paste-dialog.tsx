import { useState } from 'react';
import type { Source } from '../state/open.ts';
import { Dialog } from '../ui/dialog.tsx';
import { pasted } from './pasted.ts';

export function PasteDialog({ onClose, onTake }: { onClose: () => void; onTake: (source: Source) => void }) {
  const [text, setText] = useState('');
  const ready = text.trim() !== '';
  return (
    <Dialog
      title="Paste the text of a backup"
      onClose={onClose}
      footer={
        <>
          <button
            type="button"
            className="btn next"
            aria-disabled={!ready}
            onClick={() => {
              if (ready) onTake(pasted(text));
            }}
          >
            Open this text
          </button>
          <button type="button" className="btn" onClick={onClose}>
            Close
          </button>
        </>
      }
    >
      <label htmlFor="paste-text">Text, with its first line</label>
      <textarea
        id="paste-text"
        className="field"
        rows={10}
        spellCheck={false}
        autoComplete="off"
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
      <p className="dim">
        A file keeps its exact bytes, line ends included; pasted text does not. If you have the file, drop it instead.
        You can also press Ctrl+V anywhere on the page.
      </p>
    </Dialog>
  );
}
