import { Dialog } from '../../ui/dialog.tsx';
import type { Asked, Hold } from './hold.ts';
import { heldName } from './moves.ts';

/** What to do where a port holds something already, or why something cannot go there. */
export function DropSlip({ asked: { held, socket, drop }, hold }: { asked: Asked; hold: Hold }) {
  const leave = () => hold.answer(null);
  if (drop.do === 'cannot') {
    return (
      <Dialog
        title={`${heldName(held)} cannot go to ${socket.name} like this`}
        onClose={leave}
        footer={
          <button type="button" className="btn" onClick={leave}>
            Leave it where it is
          </button>
        }
      >
        <p>{drop.why}</p>
      </Dialog>
    );
  }
  return (
    <Dialog
      title={`${socket.name} holds ${drop.holds}. What about it?`}
      onClose={leave}
      footer={
        <button type="button" className="btn" onClick={leave}>
          Leave {heldName(held)} where it is
        </button>
      }
    >
      <div>
        {drop.choices.map(({ title, remark, step }) => (
          <button key={title} type="button" className="opt" onClick={() => hold.answer(step)}>
            <b>{title}</b>
            <span className="dim">{remark}</span>
          </button>
        ))}
      </div>
    </Dialog>
  );
}
