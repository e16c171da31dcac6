import { startDescribing } from '../state/new-box.ts';
import { open, type Source } from '../state/open.ts';
import { saidIn } from '../state/results.ts';
import { openedOf, useDesk } from '../state/session.ts';
import { Dialog } from '../ui/dialog.tsx';
import { count, size } from '../words/numbers.ts';

/** Asked before another backup takes the place of the open one. */
export function ReplaceDialog({ source, onClose }: { source: Source; onClose: () => void }) {
  const opened = useDesk((state) => openedOf(state.session));
  const decisions = useDesk((state) => saidIn(state.history.present.plan).length);
  const go = (keepPlan: boolean) => {
    onClose();
    open(source, keepPlan);
  };
  return (
    <Dialog
      title={
        <>
          What is <span className="mono">{source.name}</span>? <span className="mono">{opened?.file.name}</span> is
          open.
        </>
      }
      onClose={onClose}
      footer={
        <button type="button" className="btn" onClick={onClose}>
          Stay with {opened?.file.name}
        </button>
      }
    >
      <p>
        The new file has {size(source.size)}. The file on your disk stays as it is
        {decisions ? `; you have made ${count(decisions, 'decision')} on the one that is open.` : '.'}
      </p>
      <div>
        <button
          type="button"
          className="opt"
          onClick={() => {
            onClose();
            startDescribing(source);
          }}
        >
          <b>It is the new box’s: its own backup, or a description of its ports</b>
          <span className="dim">
            {opened?.file.name} stays open, with all your decisions. Sheet 2 then shows the ports of the new box.
          </span>
        </button>
        {decisions > 0 && (
          <button type="button" className="opt" onClick={() => go(true)}>
            <b>Open it and keep your {decisions === 1 ? 'decision' : count(decisions, 'decision')}</b>
            <span className="dim">
              For a fresh backup of the same box. Those that do not fit are listed and have no effect.
            </span>
          </button>
        )}
        <button type="button" className="opt" onClick={() => go(false)}>
          <b>{decisions ? 'Open it with an empty plan' : `Open it in place of ${opened?.file.name}`}</b>
          <span className="dim">
            {decisions
              ? 'The decisions are gone with it. Save the plan on sheet 6 first if you need it again.'
              : 'You have made no decision yet, so nothing is lost.'}
          </span>
        </button>
      </div>
    </Dialog>
  );
}

/** One backup is open at a time, so of several files one is chosen. */
export function ManyDialog({
  sources,
  onClose,
  onTake,
}: {
  sources: readonly Source[];
  onClose: () => void;
  onTake: (source: Source) => void;
}) {
  return (
    <Dialog
      title={`You handed over ${sources.length} files. Which one is the old box’s backup?`}
      onClose={onClose}
      footer={
        <button type="button" className="btn" onClick={onClose}>
          None of them
        </button>
      }
    >
      <div>
        {sources.map((source, at) => (
          <button key={at} type="button" className="opt" onClick={() => onTake(source)}>
            <b className="mono">{source.name}</b>
            <span className="dim">{size(source.size)}</span>
          </button>
        ))}
      </div>
    </Dialog>
  );
}
