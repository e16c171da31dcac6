import { Fragment, useMemo, useRef, useState } from 'react';
import type { Finding, Place } from '../../core/index.ts';
import { useOpened } from '../../state/selectors.ts';
import { Choice } from '../../ui/controls.tsx';
import { Scroll } from '../../ui/scroll.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { Weight } from '../../ui/weight.tsx';
import { count, number } from '../../words/numbers.ts';
import { isOpen, weightNames, weights } from '../../words/weights.ts';
import { SourceView } from '../source/source-view.tsx';
import { type Grouping, groupsOf, isShown, type Member, membersOf, type Shown } from './finding-list.ts';
import { GroupRows } from './rows.tsx';
import { SubnetMap } from './subnet-map.tsx';
import './findings.css';

export default function Findings() {
  const { view } = useOpened();
  const { findings, subnets } = view;
  const [how, setHow] = useState<Grouping>('weight');
  const [shown, setShown] = useState<Shown>('all');
  const [words, setWords] = useState('');
  const [chosen, setChosen] = useState<string | null>(null);
  const [look, setLook] = useState<Place | null>(null);
  const [side, setSide] = useState<'place' | 'map'>('map');
  const list = useRef<HTMLDivElement>(null);
  const members = useMemo(() => membersOf(findings), [findings]);
  const asked = words.trim().toLowerCase();
  const left = members.filter((member) => isShown(member, shown) && member.text.includes(asked));
  const groups = groupsOf(left, how);
  const own = members.find(({ key }) => key === chosen);
  const place = look ?? own?.finding.place ?? null;
  const isHeavy = own !== undefined && look === null && ['stop', 'break'].includes(own.weight);
  const isAtPlace = place !== null && (side === 'place' || subnets.length === 0);
  const choose = (key: string | null) => {
    setChosen(key);
    setLook(null);
    if (key !== null) setSide('place');
  };
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
                ['role', 'By role'],
              ]}
              chosen={how}
              onChoose={setHow}
            />
          )
        }
      >
        {state(members)}
      </SheetHead>
      <div className="findings">
        <div className="carry-list">
          {findings.length > 0 && <Filters {...{ members, shown, setShown, words, setWords }} />}
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a list that scrolls; a row that is gone gives its focus here */}
          <section className="scroll" tabIndex={0} ref={list} aria-label="List of findings">
            {findings.length === 0 ? (
              <p className="quiet-note">
                <b>Nothing stands in the way.</b> Every reference that we know of finds its record, and every port has a
                name of its own.
              </p>
            ) : left.length === 0 ? (
              <Nothing {...{ shown, words: words.trim() }} />
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
                    <th scope="col" className="repair">
                      Repair
                    </th>
                    <th scope="col" className="num">
                      Where
                    </th>
                  </tr>
                </thead>
                {groups.map((group) => (
                  <GroupRows
                    key={group.name}
                    {...{ group, how, chosen, onChoose: choose }}
                    onDone={() => {
                      setChosen(null);
                      list.current?.focus({ preventScroll: true });
                    }}
                  />
                ))}
              </table>
            )}
          </section>
        </div>
        <Scroll
          as="aside"
          className={isAtPlace ? 'side at-place' : 'side'}
          label="The place in the old file, and the subnet map"
        >
          {place && subnets.length > 0 && (
            <div className="side-choice">
              <Choice
                label="Beside the list"
                options={[
                  ['place', 'Old file'],
                  ['map', 'Subnet map'],
                ]}
                chosen={side}
                onChoose={setSide}
              />
            </div>
          )}
          {isAtPlace ? (
            <SourceView
              place={place}
              bad={isHeavy}
              onClose={() => {
                setLook(null);
                setChosen(null);
              }}
            />
          ) : subnets.length > 0 ? (
            <SubnetMap
              subnets={subnets}
              marked={rolesOf(own?.finding)}
              onPlace={(where) => {
                setLook(where);
                setSide('place');
              }}
            />
          ) : (
            <Weights />
          )}
        </Scroll>
      </div>
    </div>
  );
}

const rolesOf = (finding: Finding | undefined): ReadonlySet<string> =>
  new Set([finding?.params.role, finding?.params.other].filter((name) => typeof name === 'string'));

function Filters({
  members,
  shown,
  setShown,
  words,
  setWords,
}: {
  members: readonly Member[];
  shown: Shown;
  setShown: (shown: Shown) => void;
  words: string;
  setWords: (words: string) => void;
}) {
  const chips: readonly (readonly [Shown, string])[] = [
    ['all', 'All open'],
    ...weights.map((weight) => [weight, weightNames[weight].name] as const),
    ['plan', 'From your plan'],
    ['mend', 'With a repair'],
    ['aside', 'Set aside'],
  ];
  return (
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
      {chips.map(([chip, name]) => {
        const amount = members.filter((member) => isShown(member, chip)).length;
        return (
          (amount > 0 || chip === 'all' || chip === 'aside' || chip === shown) && (
            <button
              key={chip}
              type="button"
              className="chip"
              aria-pressed={shown === chip}
              onClick={() => setShown(chip)}
            >
              {name} {number(amount)}
            </button>
          )
        );
      })}
    </div>
  );
}

function Nothing({ shown, words }: { shown: Shown; words: string }) {
  return (
    <p className="quiet-note">
      {words ? (
        <b>No finding here says “{words}”.</b>
      ) : shown === 'aside' ? (
        <>
          <b>You set nothing aside.</b> Press a line number: a finding that you have judged can be set aside, with your
          reason. It stays in the plan and on the sheet for the night.
        </>
      ) : (
        <b>Nothing of this kind is open.</b>
      )}
    </p>
  );
}

function Weights() {
  return (
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
        Press a line number to see the place in the old file. What was wrong there already goes across as it is, unless
        you mend it or leave it out.
      </p>
    </section>
  );
}

function state(members: readonly Member[]): string {
  const open = members.filter(({ finding }) => isOpen(finding));
  const amount = (weight: Member['weight']) => open.filter((one) => one.weight === weight).length;
  const aside = members.length - open.length;
  const words = [
    amount('stop') && `${number(amount('stop'))} would stop the new box.`,
    amount('break') && `${number(amount('break'))} would break something.`,
    amount('check') && `${number(amount('check'))} to look at.`,
    amount('note') && `${count(amount('note'), 'note')}.`,
    open.length === 0 && (aside ? 'None is open.' : 'None.'),
    aside && `${number(aside)} set aside.`,
  ].filter(Boolean);
  return words.join(' ');
}
