import { type ReactNode, useState } from 'react';
import { change, takeBack } from '../../state/decide.ts';
import { MoreRow } from '../../ui/more-row.tsx';
import { more, number } from '../../words/numbers.ts';
import { weightNames } from '../../words/weights.ts';
import { BundleRow } from './bundle-row.tsx';
import { bundlesOf } from './bundles.ts';
import type { Group, Grouping } from './finding-list.ts';
import { MOST_ASIDE, Reason } from './mend.tsx';
import { type Doing, Row } from './row.tsx';

const PAGE = 100;

export function GroupRows({ group, how, ...doing }: { group: Group; how: Grouping } & Doing) {
  const { name, members } = group;
  const [pages, setPages] = useState(1);
  const bundles = bundlesOf(members, ({ finding }) => finding);
  const rest = bundles.length - pages * PAGE;
  return (
    <tbody>
      <tr className="group">
        <td className="m" />
        <th colSpan={5} scope="rowgroup">
          <GroupHead {...{ group, onDone: doing.onDone }}>
            {name}, {number(members.length)}
            {how === 'weight' && <span className="dim"> {weightNames[members[0]!.weight].means}</span>}
          </GroupHead>
        </th>
      </tr>
      {bundles
        .slice(0, pages * PAGE)
        .map(({ key, items }) =>
          items.length > 1 ? (
            <BundleRow key={key} members={items} {...doing} />
          ) : (
            <Row key={items[0]!.key} member={items[0]!} {...doing} />
          ),
        )}
      {rest > 0 && <MoreRow span={5} label={more(PAGE, rest)} onMore={() => setPages(pages + 1)} />}
    </tbody>
  );
}

/** What a group is, and one decision about all of it: a reason to set it aside, or to open it again. */
function GroupHead({ group, onDone, children }: { group: Group; onDone: () => void; children: ReactNode }) {
  const [asking, setAsking] = useState(false);
  const findings = group.members.map(({ finding }) => finding);
  const marks = findings.flatMap(({ mark, aside }) => (mark && !aside ? [mark] : []));
  const asides = findings.flatMap(({ aside }) => (aside ? [aside.decision] : []));
  const done = () => {
    setAsking(false);
    onDone();
  };
  return (
    <>
      <span className="group-head">
        <span>{children}</span>
        {marks.length > 1 && marks.length <= MOST_ASIDE && !asking && (
          <button type="button" className="link" onClick={() => setAsking(true)}>
            Set {number(marks.length)} aside<span className="spoken">: {group.name}</span>
          </button>
        )}
        {asides.length > 1 && (
          <button
            type="button"
            className="link"
            onClick={() => {
              takeBack(`Open again: ${group.name}`, [...new Set(asides)]);
              done();
            }}
          >
            Open {number(asides.length)} again<span className="spoken">: {group.name}</span>
          </button>
        )}
      </span>
      {asking && (
        <Reason
          onCancel={() => setAsking(false)}
          onGiven={(reason) => {
            const decisions = marks.map((finding) => ({ kind: 'set-aside' as const, finding, reason }));
            change(`Set ${number(marks.length)} aside: ${reason}`, decisions);
            done();
          }}
        />
      )}
    </>
  );
}
