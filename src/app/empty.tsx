import type { DialogName } from './app.tsx';
import './empty.css';

export function Empty({ onOpen, onDialog }: { onOpen: () => void; onDialog: (dialog: DialogName) => void }) {
  return (
    <div className="berth">
      <div className="say">
        <h1>Drop the old box’s backup anywhere on this page.</h1>
        <p className="lead">
          An XML file, from any maker’s box. You will see what it holds before anything happens to it.
        </p>
        <div className="row">
          <button type="button" className="btn next big" onClick={onOpen}>
            Open a file…
          </button>
          <button type="button" className="btn big" onClick={() => onDialog({ name: 'paste' })}>
            Paste text
          </button>
          <button type="button" className="btn big" onClick={() => onDialog({ name: 'examples' })}>
            Try the example marina
          </button>
        </div>
        <dl>
          <div>
            <dt>Stays here</dt>
            <dd>
              Nothing leaves this computer. Pull the network cable and try; it works the same.{' '}
              <button type="button" className="link" onClick={() => onDialog({ name: 'check' })}>
                How to check
              </button>
            </dd>
          </div>
          <div>
            <dt>Stays as it is</dt>
            <dd>Bytes that you did not decide on do not change.</dd>
          </div>
          <div>
            <dt>Stays open</dt>
            <dd>The old file is never touched. Every decision can be undone.</dd>
          </div>
        </dl>
      </div>
      <div className="drawing">
        <Cords />
      </div>
    </div>
  );
}

const cords = [
  { cord: 1, way: 'M196 70H366L372 76V276L378 282H472', from: 70, to: 282 },
  { cord: 2, way: 'M196 132H418L424 126V102L430 96H472', from: 132, to: 96 },
  { cord: 3, way: 'M196 194H300L308 202V212', from: 194, to: null },
  { cord: 4, way: 'M196 256H334L340 262V338L346 344H472', from: 256, to: 344 },
  { cord: 5, way: 'M196 318H394L400 312V164L406 158H472', from: 318, to: 158 },
] as const;

const free = 220;

/** Five cords from an old box to a new one, one of them a loose end. */
function Cords() {
  return (
    <svg
      viewBox="60 0 560 430"
      role="img"
      aria-label="Drawing: five cords between an old box and a new one; one is a loose end"
    >
      <rect x="88" y="30" width="108" height="330" fill="var(--band)" stroke="var(--edge)" />
      <rect x="472" y="56" width="108" height="330" fill="var(--band)" stroke="var(--edge)" />
      <g fill="var(--ink-2)" className="cord-label">
        <text x="88" y="22">
          Old box
        </text>
        <text x="472" y="48">
          New box
        </text>
      </g>
      {cords.map(({ cord, way }) => (
        <g key={cord} fill="none">
          <path d={way} stroke="var(--paper)" strokeWidth="6.5" />
          <path
            d={way}
            stroke={`var(--cord-${cord})`}
            strokeWidth="2.25"
            style={{ strokeDasharray: `var(--dash-${cord})` }}
          />
        </g>
      ))}
      <circle cx="308" cy="217" r="5" fill="var(--paper)" stroke="var(--cord-3)" strokeWidth="2" />
      {cords.map(({ cord, from }) => (
        <g key={cord} stroke="var(--edge)">
          <path d={`M188 ${from - 10}h16v7h-4v6h4v7h-16z`} fill={`var(--cord-${cord})`} strokeWidth="1.4" />
          <path d={`M102 ${from + 6}h60`} stroke="var(--rule)" />
        </g>
      ))}
      {[...cords.map(({ cord, to }) => ({ to, fill: `var(--cord-${cord})` })), { to: free, fill: 'var(--paper)' }].map(
        ({ to, fill }) =>
          to !== null && (
            <g key={to} stroke="var(--edge)">
              <path d={`M464 ${to - 10}h16v20h-16v-7h4v-6h-4z`} fill={fill} strokeWidth="1.4" />
              <path d={`M498 ${to + 6}h60`} stroke="var(--rule)" />
            </g>
          ),
      )}
    </svg>
  );
}
