import { type ReactNode, useState } from 'react';
import { LedgerBar } from '../../ui/ledger-bar.tsx';
import { Mark } from '../../ui/marks.tsx';
import { number, size } from '../../words/numbers.ts';
import type { Comparison } from '../../worker/protocol.ts';
import { Beside } from './beside.tsx';

/** A section with what becomes of its records. */
export interface FrameSection {
  readonly path: string;
  readonly name: string;
  /** UTF-16 units of source text. */
  readonly size: number;
  readonly same: number;
  readonly changed: number;
  readonly out: number;
  /** Records that come to them. */
  readonly added: number;
}

const recordsIn = ({ same, changed, out }: FrameSection) => same + changed + out;

/** Sections at the side; the list of changes, of all or of the one that is chosen, or both sides of that one. */
export function Frame({
  label,
  sections,
  sides,
  load,
  about,
  instead = null,
  children,
}: {
  label: string;
  sections: readonly FrameSection[];
  /** Which file is on which side. */
  sides: string;
  load: (path: string, limit: number) => Promise<Comparison | null>;
  /** What `load` depends on beside the section. */
  about: readonly unknown[];
  /** Shown in place of the list and of both sides. */
  instead?: ReactNode;
  children: (chosen: FrameSection | null) => ReactNode;
}) {
  const [section, setSection] = useState<string | null>(null);
  const [beside, setBeside] = useState(false);
  const chosen = sections.find(({ path }) => path === section) ?? null;
  const widest = sections.reduce((most, one) => Math.max(most, recordsIn(one)), 1);
  return (
    <div className="changes">
      <nav className="change-sections scroll" aria-label={label}>
        <ul>
          {sections.map((one) => (
            <Item
              key={one.path}
              section={one}
              widest={widest}
              chosen={one.path === section}
              onChoose={() => {
                setSection(one.path === section ? null : one.path);
                setBeside(false);
              }}
            />
          ))}
        </ul>
      </nav>
      <div className="change-rows scroll">
        {chosen && (
          <div className="diff-head">
            <h2 className="mono">{chosen.name}</h2>
            <span className="dim">{size(chosen.size)}</span>
            <button type="button" className="btn small" aria-pressed={beside} onClick={() => setBeside(!beside)}>
              {beside ? 'Back to the list' : 'Open the source, both sides'}
            </button>
            <button type="button" className="link" onClick={() => setSection(null)}>
              Show all sections
            </button>
          </div>
        )}
        {instead ??
          (chosen && beside ? (
            <Beside
              name={chosen.name}
              sides={sides}
              load={(limit) => load(chosen.path, limit)}
              about={[...about, chosen.path]}
            />
          ) : (
            children(chosen)
          ))}
      </div>
    </div>
  );
}

function Item({
  section,
  widest,
  chosen,
  onChoose,
}: {
  section: FrameSection;
  widest: number;
  chosen: boolean;
  onChoose: () => void;
}) {
  const { name, same, changed, out, added } = section;
  const touched = changed + out + added;
  return (
    <li>
      {touched > 0 && (
        <span className="mk mine">
          <Mark name={out ? 'out' : 'changed'} />
        </span>
      )}
      <button type="button" aria-pressed={chosen} onClick={onChoose}>
        <span className="names">
          <span className="mono">{name}</span>
          <span className={touched ? 'mine' : 'dim'}>{touched ? number(touched) : 'none'}</span>
        </span>
        {/* The length is the section's share of records, on a root scale so that small ones can be told apart. */}
        <span style={{ display: 'block', width: `${Math.max(4, 100 * Math.sqrt(recordsIn(section) / widest))}%` }}>
          <LedgerBar same={same} changed={changed} out={out} height={10} />
        </span>
      </button>
    </li>
  );
}
