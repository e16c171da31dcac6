import type { ResultKind } from '../../core/index.ts';
import { askFor } from '../../state/carry.ts';
import { Choice } from '../../ui/controls.tsx';
import { resultNames } from '../../words/carry.ts';

/** The switch between the three results. */
export function Results({ result }: { result: ResultKind }) {
  return (
    <Choice
      label="What comes out"
      options={Object.entries(resultNames).map(([kind, [short]]) => [kind as ResultKind, short] as const)}
      chosen={result}
      onChoose={askFor}
    />
  );
}
