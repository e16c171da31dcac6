import { useState } from 'react';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { Choice } from '../../ui/controls.tsx';
import { Scroll } from '../../ui/scroll.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { count, encodingName, number, size } from '../../words/numbers.ts';
import { type SourcePlace, SourceView } from '../source/source-view.tsx';
import { Care } from './care.tsx';
import { Collections } from './collections.tsx';
import { CorrectionsFile } from './corrections-file.tsx';
import { EveryField } from './every-field.tsx';
import { Fields } from './fields.tsx';
import './reading.css';
import { Sections } from './sections.tsx';

type Look = 'sections' | 'collections' | 'fields' | 'care' | 'every';

export default function Reading() {
  const { backup } = useOpened();
  const corrections = usePlan().decisions.filter((decision) => decision.kind === 'correct').length;
  const [look, setLook] = useState<Look>('sections');
  const [place, setPlace] = useState<SourcePlace | null>(null);
  return (
    <div className="pane">
      <SheetHead
        no={1}
        title="Reading"
        acts={
          <Choice
            label="Look at"
            options={[
              ['sections', 'Sections'],
              ['collections', 'Records'],
              ['fields', 'What names what'],
              ['care', 'Secrets and box-bound'],
              ['every', 'Every field'],
            ]}
            chosen={look}
            onChoose={setLook}
          />
        }
      >
        {count(backup.sections.length, 'section')}, {count(backup.records, 'record')},{' '}
        {count(backup.references, 'reference')}.{' '}
        {corrections
          ? `You corrected ${count(corrections, 'thing')}.`
          : backup.standard
            ? 'What names what is known from the standard.'
            : 'What names what is worked out from the file; correct it where it is wrong.'}
      </SheetHead>
      <div className="reading">
        <Scroll label="What the file holds">
          {look === 'sections' && <Sections onLook={setPlace} />}
          {look === 'collections' && <Collections />}
          {look === 'fields' && <Fields onAdd={() => setLook('every')} />}
          {look === 'care' && <Care onLook={setPlace} />}
          {look === 'every' && <EveryField onLook={setPlace} />}
        </Scroll>
        <Scroll as="aside" className="side" label="What the file is">
          {place ? <SourceView place={place} onClose={() => setPlace(null)} /> : <WhatItIs />}
        </Scroll>
      </div>
    </div>
  );
}

function WhatItIs() {
  const { backup, file } = useOpened();
  const { about } = backup;
  const unknown = <span className="dim">the file does not say</span>;
  return (
    <>
      <section>
        <h2>What the file is</h2>
        <dl className="facts">
          <dt>File</dt>
          <dd className="mono">{file.name}</dd>
          <dt>Host</dt>
          <dd>{about.host ? <code>{about.host}</code> : unknown}</dd>
          <dt>Version</dt>
          <dd>{about.version ? <code>{about.version}</code> : unknown}</dd>
          <dt>Saved</dt>
          <dd>{about.savedAt ? <code>{about.savedAt}</code> : unknown}</dd>
          {about.savedBy && (
            <>
              <dt>Saved by</dt>
              <dd className="mono">{about.savedBy}</dd>
            </>
          )}
          <dt>Encoding</dt>
          <dd>
            {encodingName(backup.encoding)}
            {backup.bom && ', with a byte-order mark'}
          </dd>
          <dt>Size</dt>
          <dd>
            {size(backup.bytes)}, {count(backup.lines, 'line')}
          </dd>
          <dt>Outermost element</dt>
          <dd className="mono">{backup.root}</dd>
          <dt>Standard</dt>
          <dd>{backup.standard ?? 'none that we know; read from the file alone'}</dd>
        </dl>
      </section>
      <section>
        <h3>What it holds</h3>
        <ul className="lines">
          <Line name="Roles, networks that rules name" amount={backup.roles.length} />
          <Line name="Ports, and devices on them" amount={backup.ports.length} />
          <Line
            name="Secrets, blacked out on screen"
            amount={backup.sections.reduce((sum, one) => sum + one.secrets, 0)}
          />
          <Line
            name="Settings bound to the old box"
            amount={backup.sections.reduce((sum, one) => sum + one.boxBound, 0)}
          />
        </ul>
      </section>
      <CorrectionsFile />
      <section className="quiet grow">
        <h3>How sure we are</h3>
        <p>
          Certain: it follows from a standard, or nearly every value fits. Likely: most values fit. Possible: too few to
          tell, so it is never acted on. What you say outweighs all of it.
        </p>
      </section>
    </>
  );
}

const Line = ({ name, amount }: { name: string; amount: number }) => (
  <li>
    <span>{name}</span>
    <b>{number(amount)}</b>
  </li>
);
