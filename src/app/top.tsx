import type { Settings } from '../platform/settings.ts';
import { resultOf } from '../state/results.ts';
import { usePlan } from '../state/selectors.ts';
import { openedOf, type Sheet, sheets, useDesk } from '../state/session.ts';
import { Logo } from '../ui/marks.tsx';
import { Weight } from '../ui/weight.tsx';
import { count, number } from '../words/numbers.ts';
import { isOpen, weightOf, weights } from '../words/weights.ts';
import type { DialogName } from './app.tsx';
import { isNight } from './theme.ts';

const names: Record<Sheet, string> = {
  reading: 'Reading',
  ports: 'Ports',
  carry: 'Carry',
  findings: 'Findings',
  changes: 'Changes',
  handover: 'Hand-over',
};

export function Top({
  settings,
  onSettings,
  onDialog,
  onOpen,
}: {
  settings: Settings;
  onSettings: (next: Partial<Settings>) => void;
  onDialog: (dialog: DialogName) => void;
  onOpen: () => void;
}) {
  const session = useDesk((state) => state.session);
  const sheet = useDesk((state) => state.sheet);
  const night = isNight(settings.theme);
  return (
    <header className="top">
      <div className="brand">
        <Logo />
        Carryover
      </div>
      <nav className="tabs" aria-label="Sheets">
        {sheets.map((name, at) => (
          <button
            key={name}
            type="button"
            className="tab"
            aria-current={session.phase === 'open' && name === sheet ? 'page' : undefined}
            disabled={session.phase !== 'open'}
            onClick={() => useDesk.setState({ sheet: name })}
          >
            <span>
              <b>{at + 1}</b> {names[name]} <Amount sheet={name} />
            </span>
          </button>
        ))}
      </nav>
      <div className="tools">
        {openedOf(session) && (
          <button type="button" className="btn bare small" onClick={onOpen}>
            Open…
          </button>
        )}
        <button type="button" className="btn bare small" onClick={() => onDialog({ name: 'keys' })}>
          Keys <span className="key">?</span>
        </button>
        <button
          type="button"
          className="btn bare small"
          aria-pressed={night}
          onClick={() => onSettings({ theme: night ? 'light' : 'dark' })}
        >
          Night
        </button>
      </div>
    </header>
  );
}

/** What a sheet holds, on its tab. */
function Amount({ sheet }: { sheet: Sheet }) {
  const session = useDesk((state) => state.session);
  const result = resultOf(usePlan());
  if (session.phase !== 'open') return null;
  const { ledger, ports, roles, findings, changes } = session.view;
  switch (sheet) {
    case 'ports': {
      const clashes = new Set(ports.filter((port) => port.clashes.length).map((port) => port.to)).size;
      const moved = ports.filter((port) => port.to !== port.from).length + roles.filter((role) => role.moved).length;
      if (clashes) return <Small>{count(clashes, 'clash', 'clashes')}</Small>;
      return moved ? <Small>{moved} moved</Small> : null;
    }
    case 'carry':
      if (result !== 'whole') return <Small>{number(ledger.records - ledger.leftOut)} taken</Small>;
      return ledger.leftOut ? <Small>{number(ledger.leftOut)} out</Small> : null;
    case 'findings': {
      const amounts = weights
        .slice(0, 3)
        .map((weight) => [weight, findings.filter((f) => isOpen(f) && weightOf(f) === weight).length] as const);
      const heavy = amounts.filter(([, amount]) => amount).slice(0, 2);
      return (
        <Small>
          {heavy.map(([weight, amount]) => (
            <span key={weight} className={`sev ${weight}`}>
              <Weight weight={weight} />
              {number(amount)}
              <span className="spoken"> {weight}</span>
            </span>
          ))}
        </Small>
      );
    }
    case 'changes':
      // Of a graft the sheet itself counts: its changes are those of another file.
      return changes.length && result !== 'graft' ? <Small>{number(changes.length)}</Small> : null;
    default:
      return null;
  }
}

const Small = ({ children }: { children: React.ReactNode }) => <span className="n">{children}</span>;
