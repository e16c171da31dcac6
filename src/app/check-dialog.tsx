import { useSyncExternalStore } from 'react';
import { requests } from '../platform/requests.ts';
import { Dialog } from '../ui/dialog.tsx';
import { count, number } from '../words/numbers.ts';

/** How anyone can check for themselves that nothing is sent. */
export function CheckDialog({ onClose }: { onClose: () => void }) {
  const { elsewhere, own, refused } = useSyncExternalStore(requests.subscribe, requests.now);
  return (
    <Dialog
      title="How to check that nothing leaves this computer"
      onClose={onClose}
      footer={
        <button type="button" className="btn next" onClick={onClose}>
          Close
        </button>
      }
    >
      <dl className="facts">
        <dt>Requests to other places</dt>
        <dd>
          <b>{number(elsewhere.length)}</b>
          {elsewhere.map((address) => (
            <div key={address} className="mono wrong">
              {address}
            </div>
          ))}
        </dd>
        <dt>Refused by the page’s policy</dt>
        <dd>
          <b>{number(refused.length)}</b>
          {refused.length > 0 && <div className="mono">{[...new Set(refused)].join(', ')}</div>}
        </dd>
        <dt>Parts of this page itself</dt>
        <dd>
          {count(own.length, 'file')}, from where the page came from. They are the program; nothing of yours goes with
          the request.
        </dd>
      </dl>
      <p>These numbers come from your browser’s own records. You need not believe them:</p>
      <ol className="ways">
        <li>
          Wait a few seconds after the page has loaded, pull the network cable or switch Wi-Fi off, and do the whole
          job.
        </li>
        <li>Press F12, open the list of network requests, and watch it while you work.</li>
        <li>
          Look at the page’s source. Its first line is the policy that your browser enforces:{' '}
          <code>connect-src 'none'</code> refuses every request that a script could make. The worker that reads your
          file is bound by it too.
        </li>
      </ol>
      <p className="dim">
        The side by side view on sheet 5 is large and loads when you first open it. Without a network, open it once
        before.
      </p>
    </Dialog>
  );
}
