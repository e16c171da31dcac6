import { useMemo } from 'react';
import type { Finding } from '../../core/index.ts';
import { Said } from '../../ui/said.tsx';
import { Weight } from '../../ui/weight.tsx';
import { findingWords } from '../../words/findings.ts';
import { number } from '../../words/numbers.ts';
import { repairWords } from '../../words/repairs.ts';
import { plain } from '../../words/said.ts';
import { weightNames, weightOf, weights } from '../../words/weights.ts';
import type { Cabling } from './cords.ts';
import { mendings } from './mend.ts';
import type { Step } from './moves.ts';
import type { Socket } from './sockets.ts';
import { take } from './use-ports.ts';

const MOST = 8;

/** What the sheet knows to do about it, or else what the check does. */
function stepsFor(finding: Finding, cabling: Cabling, sockets: readonly Socket[]): Step[] {
  const steps = mendings(finding, cabling, sockets);
  if (steps.length > 0) return steps;
  return (finding.repairs ?? []).map((repair) => ({
    name: plain(repairWords(repair)),
    decisions: repair.decisions,
    withdrawn: repair.withdraws ?? [],
  }));
}

/** What is wrong with the cords, the heaviest first, each with what would mend it. */
export function Settle({
  findings,
  cabling,
  sockets,
}: {
  findings: readonly Finding[];
  cabling: Cabling;
  sockets: readonly Socket[];
}) {
  const sorted = useMemo(
    () => [...findings].sort((a, b) => weights.indexOf(weightOf(a)) - weights.indexOf(weightOf(b))),
    [findings],
  );
  if (sorted.length === 0) return null;
  return (
    <section className="quiet settle">
      <h3>Still to settle on this sheet</h3>
      <ul>
        {sorted.slice(0, MOST).map((finding, at) => {
          const { what, why } = findingWords(finding);
          const weight = weightOf(finding);
          const told = sorted.findIndex(({ code }) => code === finding.code) < at;
          return (
            <li key={at}>
              <Weight weight={weight}>
                <span className="spoken">{weightNames[weight].name}: </span>
              </Weight>
              <div>
                <p>
                  <Said parts={what} />
                </p>
                {!told && <p className="dim small">{why}</p>}
                <div className="row">
                  {stepsFor(finding, cabling, sockets).map((step) => (
                    <button key={step.name} type="button" className="btn small plan" onClick={() => take(step)}>
                      {step.name}
                    </button>
                  ))}
                </div>
              </div>
            </li>
          );
        })}
      </ul>
      {sorted.length > MOST && <p className="dim">and {number(sorted.length - MOST)} more, on sheet 4</p>}
    </section>
  );
}
