import { useState } from 'react';
import type { Repair } from '../../core/index.ts';
import { tickRows } from '../../state/carry.ts';
import { change, takeBack } from '../../state/decide.ts';
import { usePlan } from '../../state/selectors.ts';
import { MoreRow } from '../../ui/more-row.tsx';
import { Said } from '../../ui/said.tsx';
import { bundleRepairWords, bundleWhy, bundleWords } from '../../words/bundles.ts';
import { lastStep } from '../../words/decisions.ts';
import { groundOf } from '../../words/grounds.ts';
import { more, number } from '../../words/numbers.ts';
import { plain } from '../../words/said.ts';
import { repairsForAll } from './bundles.ts';
import type { Member } from './finding-list.ts';
import { HeadRow } from './head-row.tsx';
import { AsideAll } from './mend.tsx';
import { type Doing, Row } from './row.tsx';

const PAGE = 100;

/** Findings of one cause: one row, which opens to the list, with what mends all of them. */
export function BundleRow({ members, ...doing }: { members: readonly Member[] } & Doing) {
  const [open, setOpen] = useState(false);
  const [pages, setPages] = useState(1);
  const { finding, weight } = members[0]!;
  const findings = members.map((member) => member.finding);
  const repairs = repairsForAll(findings);
  const what = bundleWords(findings);
  const shown = open || members.some(({ key }) => key === doing.chosen);
  const rest = members.length - pages * PAGE;
  const toggle = () => {
    setOpen(!shown);
    if (shown) doing.onChoose(null);
  };
  const put = (repair: Repair) => {
    const name = plain(bundleRepairWords(repair, findings));
    const lost = [...new Set(findings.flatMap(({ cause }) => cause?.lost ?? []))];
    if (repair.code === 'carry') tickRows(name, lost, true, true);
    else change(name, repair.decisions, repair.withdraws);
    doing.onDone();
  };
  return (
    <>
      <HeadRow
        {...{ weight, what }}
        byPlan={finding.byPlan}
        ways={repairs.length}
        only={() => <RepairAll repair={repairs[0]!} findings={findings} onPut={() => put(repairs[0]!)} />}
        open={shown}
        opener={`${number(members.length)} places`}
        onToggle={toggle}
      />
      {shown && (
        <>
          <tr className="why">
            <td className="m" />
            <td colSpan={5}>
              <p>
                {bundleWhy(findings)} <span className="dim">Ground: {groundOf(finding.code)}.</span>
              </p>
              <div className="mend">
                {repairs.map((repair) => (
                  <RepairAll key={repair.code} {...{ repair, findings }} onPut={() => put(repair)} />
                ))}
                <AsideAll findings={findings} onDone={doing.onDone} />
                <PutBack decision={finding.cause?.decision ?? null} onDone={doing.onDone} />
              </div>
            </td>
          </tr>
          {members.slice(0, pages * PAGE).map((member) => (
            <Row key={member.key} inner member={member} {...doing} />
          ))}
          {rest > 0 && <MoreRow span={5} label={more(PAGE, rest)} onMore={() => setPages(pages + 1)} />}
        </>
      )}
    </>
  );
}

function RepairAll({
  repair,
  findings,
  onPut,
}: {
  repair: Repair;
  findings: readonly Member['finding'][];
  onPut: () => void;
}) {
  return (
    <button type="button" className="btn small plan" onClick={onPut}>
      <span>
        <Said parts={bundleRepairWords(repair, findings)} />
      </span>
      <span className="spoken">: {plain(bundleWords(findings))}</span>
    </button>
  );
}

/** Gives up the decision that all of them come from, where the plan has one. */
function PutBack({ decision, onDone }: { decision: string | null; onDone: () => void }) {
  const { decisions } = usePlan();
  const path = decision?.replace(/^leave-out /, '');
  if (!decisions.some((one) => one.kind === 'leave-out' && one.path === path)) return null;
  const name = `Put ${lastStep(path!)} back`;
  return (
    <button
      type="button"
      className="btn small plan"
      onClick={() => {
        takeBack(name, [decision!]);
        onDone();
      }}
    >
      {name}
    </button>
  );
}
