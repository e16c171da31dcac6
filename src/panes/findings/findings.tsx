import { Fragment, useMemo, useState } from 'react';
import type { Finding } from '../../core/index.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { Choice } from '../../ui/controls.tsx';
import { Said } from '../../ui/said.tsx';
import { Scroll } from '../../ui/scroll.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { Weight } from '../../ui/weight.tsx';
import { lastStep, pathWords } from '../../words/decisions.ts';
import { findingWords, kindOf } from '../../words/findings.ts';
import { count, number } from '../../words/numbers.ts';
import { plain } from '../../words/said.ts';
import { type Weight as Heavy, weightNames, weightOf, weights } from '../../words/weights.ts';
import { Ticks, tick } from '../carry/ticks.ts';
import { SourceView } from '../source/source-view.tsx';
import './findings.css';

const PAGE = 100;

export default function Findings() {
  const { view } = useOpened();
  const { findings } = view;
  const [how, setHow] = useState<'weight' | 'kind'>('weight');
  const [only, setOnly] = useState<Heavy | null>(null);
  const [words, setWords] = useState('');
  const [chosen, setChosen] = useState<string | null>(null);
  const named = useMemo(
    () =>
      findings.map((finding, at) => ({
        finding,
        weight: weightOf(finding),
        key: `${finding.code} ${finding.place?.path ?? at} ${Object.values(finding.params).join(' ')}`,
        text: `${plain(findingWords(finding).what)} ${finding.place?.path ?? ''}`.toLowerCase(),
      })),
    [findings],
  );
  const asked = words.trim().toLowerCase();
  const shown = named.filter(({ weight, text }) => (only === null || weight === only) && text.includes(asked));
  const groups = new Map<string, typeof shown>();
  const order = how === 'weight' ? weights.map((weight) => weightNames[weight].name) : [];
  for (const name of order) groups.set(name, []);
  for (const one of shown) {
    const name = how === 'weight' ? weightNames[one.weight].name : kindOf(one.finding.code);
    groups.set(name, [...(groups.get(name) ?? []), one]);
  }
  const place = named.find(({ key }) => key === chosen)?.finding.place ?? null;
  const heavy = place && ['stop', 'break'].includes(named.find(({ key }) => key === chosen)!.weight);
  return (
    <div className="pane">
      <SheetHead
        no={4}
        title="Findings"
        acts={
          findings.length > 0 && (
            <Choice
              label="Group"
              options={[
                ['weight', 'By weight'],
                ['kind', 'By kind'],
              ]}
              chosen={how}
              onChoose={setHow}
            />
          )
        }
      >
        {state(named.map(({ weight }) => weight))}
      </SheetHead>
      <div className="findings">
        <div className="carry-list">
          {findings.length > 0 && (
            <div className="filters">
              <input
                type="search"
                className="field text"
                placeholder="Search findings"
                aria-label="Search findings"
                value={words}
                onChange={(event) => setWords(event.target.value)}
              />
              <span className="cap">Show</span>
              <button type="button" className="chip" aria-pressed={only === null} onClick={() => setOnly(null)}>
                All {number(findings.length)}
              </button>
              {weights.map((weight) => {
                const amount = named.filter((one) => one.weight === weight).length;
                return (
                  amount > 0 && (
                    <button
                      key={weight}
                      type="button"
                      className="chip"
                      aria-pressed={only === weight}
                      onClick={() => setOnly(weight)}
                    >
                      {weightNames[weight].name} {number(amount)}
                    </button>
                  )
                );
              })}
            </div>
          )}
          <div className="scroll">
            {findings.length === 0 ? (
              <p className="quiet-note">
                <b>Nothing stands in the way.</b> Every reference that we know of finds its record, and every port has a
                name of its own.
              </p>
            ) : (
              <table className="list">
                <caption className="spoken">Findings, the heaviest first</caption>
                <thead>
                  <tr>
                    <th className="m" scope="col">
                      <span className="spoken">Mark</span>
                    </th>
                    <th scope="col">Weight</th>
                    <th scope="col">What is wrong</th>
                    <th scope="col" className="from">
                      Comes from
                    </th>
                    <th scope="col" className="num">
                      Where
                    </th>
                  </tr>
                </thead>
                {[...groups].map(
                  ([name, members]) =>
                    members.length > 0 && (
                      <Group key={name} name={name} members={members} {...{ how, chosen, setChosen }} />
                    ),
                )}
              </table>
            )}
            {findings.length > 0 && shown.length === 0 && (
              <p className="quiet-note">
                <b>No finding says “{words.trim()}”.</b>
              </p>
            )}
          </div>
        </div>
        <Scroll as="aside" className="side" label="The place in the old file">
          {place ? (
            <SourceView place={place} bad={heavy === true} onClose={() => setChosen(null)} />
          ) : (
            <section className="quiet grow">
              <h3>Weights</h3>
              <dl className="facts">
                {weights.map((weight) => (
                  <Fragment key={weight}>
                    <dt>
                      <Weight weight={weight}>{weightNames[weight].name}</Weight>
                    </dt>
                    <dd>{weightNames[weight].means}</dd>
                  </Fragment>
                ))}
              </dl>
              <p>
                Press a line number to see the place in the old file. What was wrong there already goes across as it is,
                unless you leave it out.
              </p>
            </section>
          )}
        </Scroll>
      </div>
    </div>
  );
}

interface Member {
  readonly finding: Finding;
  readonly weight: Heavy;
  readonly key: string;
}

function Group({
  name,
  members,
  how,
  chosen,
  setChosen,
}: {
  name: string;
  members: readonly Member[];
  how: 'weight' | 'kind';
  chosen: string | null;
  setChosen: (key: string | null) => void;
}) {
  const [pages, setPages] = useState(1);
  const rest = members.length - pages * PAGE;
  return (
    <tbody>
      <tr className="group">
        <td className="m" />
        <th colSpan={4} scope="rowgroup">
          {name}, {number(members.length)}
          {how === 'weight' && <span className="dim"> {weightNames[members[0]!.weight].means}</span>}
        </th>
      </tr>
      {members.slice(0, pages * PAGE).map((member) => (
        <Row
          key={member.key}
          member={member}
          open={member.key === chosen}
          onToggle={() => setChosen(member.key === chosen ? null : member.key)}
        />
      ))}
      {rest > 0 && (
        <tr>
          <td className="m" />
          <td colSpan={4}>
            <button type="button" className="link" onClick={() => setPages(pages + 1)}>
              Show {number(Math.min(PAGE, rest))} more of {number(rest)}
            </button>
          </td>
        </tr>
      )}
    </tbody>
  );
}

function Row({ member, open, onToggle }: { member: Member; open: boolean; onToggle: () => void }) {
  const { finding, weight } = member;
  const { what, why } = findingWords(finding);
  return (
    <>
      <tr className={open ? 'sel' : undefined}>
        <td className="m">
          <Weight weight={weight} />
        </td>
        <td className="weight">
          <span className={`sev ${weight}`}>{weightNames[weight].name}</span>
        </td>
        <td>
          <Said parts={what} />
        </td>
        <td className={`cap from ${finding.byPlan ? 'mine' : ''}`}>{finding.byPlan ? 'your plan' : 'old file'}</td>
        <td className="num where">
          <button type="button" className="link" aria-expanded={open} onClick={onToggle}>
            {open ? 'Close' : finding.place ? `line ${number(finding.place.line)}` : 'Look'}
            <span className="spoken">, {plain(what)}</span>
          </button>
        </td>
      </tr>
      {open && (
        <tr className="why">
          <td className="m" />
          <td colSpan={4}>
            <p>
              {why}{' '}
              {finding.place && (
                <span className="dim">
                  Where: <code>{pathWords(finding.place.path) || finding.place.path}</code>.
                </span>
              )}
            </p>
            <Repair finding={finding} />
          </td>
        </tr>
      )}
    </>
  );
}

/** The next step where there is one. */
function Repair({ finding }: { finding: Finding }) {
  const { code, place } = finding;
  const plan = usePlan();
  const ticks = useMemo(() => new Ticks(plan), [plan]);
  if (code === 'port-doubled' || code === 'port-name-long') {
    return (
      <button type="button" className="btn small" onClick={() => useDesk.setState({ sheet: 'ports' })}>
        Go to the ports
      </button>
    );
  }
  // An attribute cannot stay behind without its element.
  if (code !== 'box-bound-travels' || !place || place.path.includes('/@')) return null;
  return (
    <button
      type="button"
      className="btn small plan"
      onClick={() => tick(ticks, place.path, lastStep(place.path), false)}
    >
      Leave it out
    </button>
  );
}

function state(all: readonly Heavy[]): string {
  const amount = (weight: Heavy) => all.filter((one) => one === weight).length;
  if (all.length === 0) return 'None.';
  const heavy = [
    amount('stop') && `${number(amount('stop'))} would stop the new box.`,
    amount('break') && `${number(amount('break'))} would break something.`,
    amount('check') && `${number(amount('check'))} to look at.`,
    amount('note') && `${count(amount('note'), 'note')}.`,
  ].filter(Boolean);
  return heavy.join(' ');
}
