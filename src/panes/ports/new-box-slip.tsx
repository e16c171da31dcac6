import { useEffect, useRef, useState } from 'react';
import type { Trouble } from '../../core/index.ts';
import { choose, download } from '../../platform/files.ts';
import {
  type Described,
  describe,
  labelled,
  readBoxFile,
  readPaste,
  receiverText,
  stopDescribing,
} from '../../state/new-box.ts';
import { type NewBox, type Source, useDesk } from '../../state/session.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { Said } from '../../ui/said.tsx';
import { count } from '../../words/numbers.ts';
import { troubleWords } from '../../words/trouble.ts';
import { DeviceList, Remarks } from './device-list.tsx';

type Stage =
  | { readonly is: 'asking' }
  | { readonly is: 'reading'; readonly name: string; readonly stop: () => void }
  | { readonly is: 'refused'; readonly name: string; readonly trouble: Trouble }
  | { readonly is: 'failed'; readonly name: string; readonly message: string }
  | { readonly is: 'shown'; readonly found: Described; readonly from: string };

const accepted = '.xml,.json,.conf,.cfg,.config,.txt,text/xml,text/plain,application/xml,application/json';

/** Describes the new box: by a file, a paste or typed names; shows what was made out of it; takes labels. */
export function NewBoxSlip({ source }: { source: Source | null }) {
  const newBox = useDesk((state) => state.newBox);
  const [stage, setStage] = useState<Stage>(() => (newBox && !source ? shown(newBox) : { is: 'asking' }));
  const [text, setText] = useState('');
  const [safe, setSafe] = useState<unknown>(newBox?.safe ? newBox.receiver : null);
  const turn = useRef(0);

  const read = (given: Source) => {
    const mine = ++turn.current;
    const { read, stop } = readBoxFile(given);
    setStage({ is: 'reading', name: given.name, stop });
    settle(mine, given.name, read, true);
  };
  const settle = (mine: number, name: string, read: ReturnType<typeof readPaste>, fromFile: boolean) =>
    read.then(
      (result) => {
        if (mine !== turn.current) return;
        if (!result.ok) return setStage({ is: 'refused', name, trouble: result.trouble });
        // What came from a file is safe there; a paste is nowhere else.
        setSafe(fromFile ? result.value.receiver : null);
        setStage({ is: 'shown', found: result.value, from: name });
      },
      (error: Error) => mine === turn.current && setStage({ is: 'failed', name, message: error.message }),
    );
  useEffect(() => {
    if (source) read(source);
    return () => {
      turn.current++;
    };
  }, [source]);
  const again = () => {
    turn.current++;
    if (stage.is === 'reading') stage.stop();
    setStage({ is: 'asking' });
  };
  const chooseFile = async () => {
    const file = await choose(accepted);
    if (file) read({ name: file.name, size: file.size, bytes: () => file.arrayBuffer() });
  };
  const readText = () => {
    if (text.trim() !== '') settle(++turn.current, 'your paste', readPaste(text), false);
  };
  const close = () => {
    if (stage.is === 'reading') stage.stop();
    stopDescribing();
  };

  if (stage.is === 'shown') {
    const { found, from } = stage;
    const { receiver } = found;
    const update = (next: Described['receiver']) => setStage({ ...stage, found: { ...found, receiver: next } });
    const use = () => {
      describe({ receiver, from, safe: receiver === safe, backup: found.backup ?? null });
      stopDescribing();
    };
    return (
      <Dialog
        title={
          <>
            The new box has {count(receiver.ports.length, 'port')}, by <span className="mono">{from}</span>
          </>
        }
        onClose={close}
        footer={
          <>
            <button type="button" className="btn next" onClick={use}>
              Use {receiver.ports.length === 1 ? 'this port' : `these ${receiver.ports.length} ports`}
            </button>
            <button
              type="button"
              className="btn"
              onClick={() => {
                download(receiverText(receiver), `${receiver.name || 'new-box'}.ports.json`, 'application/json');
                setSafe(receiver);
              }}
            >
              Save the description
            </button>
            <button type="button" className="btn" onClick={again}>
              Describe it otherwise
            </button>
            {newBox && (
              <button
                type="button"
                className="btn"
                onClick={() => {
                  describe(null);
                  stopDescribing();
                }}
              >
                Forget the new box
              </button>
            )}
            <button type="button" className="btn bare" onClick={close}>
              Close
            </button>
          </>
        }
      >
        <Remarks found={found} />
        <label className="cap told-name">
          What you call it
          <input
            className="field text"
            autoComplete="off"
            value={receiver.name}
            onChange={(event) => update({ ...receiver, name: event.target.value })}
          />
        </label>
        <DeviceList receiver={receiver} onLabel={(port, label) => update(labelled(receiver, port, label))} />
        <p className="dim small">
          The labels are yours: write what stands beside each socket, and find it again on the sheet for the night.
        </p>
      </Dialog>
    );
  }
  return (
    <Dialog
      title="Describe the new box"
      onClose={close}
      footer={
        <>
          <button type="button" className="btn next" aria-disabled={text.trim() === ''} onClick={readText}>
            Read this text
          </button>
          <button type="button" className="btn" onClick={close}>
            Close
          </button>
        </>
      }
    >
      <p>
        Which ports has the box that you move to? What you give stays on this computer, and none of it goes into the
        result.
      </p>
      {(stage.is === 'refused' || stage.is === 'failed') && <Refusal stage={stage} />}
      {stage.is === 'reading' ? (
        <p className="row" role="status">
          <span>
            Reading <span className="mono">{stage.name}</span>.
          </span>
          <button type="button" className="btn small" onClick={again}>
            Stop
          </button>
        </p>
      ) : (
        <div className="row">
          <button type="button" className="btn" onClick={chooseFile}>
            Choose its own backup…
          </button>
          <span className="dim">or a description that you saved here</span>
        </div>
      )}
      <label htmlFor="new-box-text">
        Or paste what <code>ip -br link</code>, <code>ifconfig -a</code> or its start messages print, or type the names
        of its ports
      </label>
      <textarea
        id="new-box-text"
        className="field"
        rows={8}
        spellCheck={false}
        autoComplete="off"
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
    </Dialog>
  );
}

const shown = ({ receiver, from, backup }: NewBox): Stage => ({
  is: 'shown',
  found: { receiver, troubles: [], text: null, backup: backup ?? null },
  from,
});

function Refusal({ stage }: { stage: Extract<Stage, { is: 'refused' | 'failed' }> }) {
  if (stage.is === 'failed') {
    return (
      <div className="refusal" role="alert">
        <b>
          <span className="mono">{stage.name}</span> could not be read.
        </b>{' '}
        It may be our fault. <span className="mono dim">{stage.message}</span>
      </div>
    );
  }
  const { title, sentence, advice } = troubleWords(stage.trouble);
  return (
    <div className="refusal" role="alert">
      <b>{title}</b> <span className="dim">in {stage.name}</span>
      {stage.trouble.line !== undefined && <span className="dim">, line {stage.trouble.line}</span>}
      <p className="refusal-why">
        <Said parts={sentence} /> {advice}
      </p>
    </div>
  );
}
