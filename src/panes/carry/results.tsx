import type { ResultKind } from '../../core/index.ts';
import { choose } from '../../platform/files.ts';
import { askFor, receive } from '../../state/carry.ts';
import { useDesk } from '../../state/session.ts';
import { Choice } from '../../ui/controls.tsx';
import { resultNames } from '../../words/carry.ts';

/** The switch between the three results. A graft asks for the new box's backup at once, where it is not known yet. */
export function Results({ result }: { result: ResultKind }) {
  const chosen = (kind: ResultKind) => {
    const { into, newBox } = useDesk.getState();
    askFor(kind);
    if (kind === 'graft' && result !== kind && into === null && !newBox?.backup) openReceiver();
  };
  return (
    <Choice
      label="What comes out"
      options={Object.entries(resultNames).map(([kind, [short]]) => [kind as ResultKind, short] as const)}
      chosen={result}
      onChoose={chosen}
    />
  );
}

/** Asks for the backup that a graft goes into. */
export async function openReceiver(): Promise<void> {
  const file = await choose('.xml,.conf,.cfg,.config,.txt,text/xml,application/xml');
  if (file) await receive({ name: file.name, size: file.size, bytes: () => file.arrayBuffer() });
}
