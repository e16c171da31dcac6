import { useState } from 'react';
import type { DocumentView } from '../../core/index.ts';
import { documentAt } from '../../state/open.ts';
import { usePlan } from '../../state/selectors.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useAsked } from '../../ui/use-asked.ts';
import { lastStep, pathWords } from '../../words/decisions.ts';
import { documentWords } from '../../words/documents.ts';
import { number, size } from '../../words/numbers.ts';
import { LineLink, type Looking } from './line-link.tsx';
import { NamedRowHead, TitledTable } from './titled-table.tsx';

/** Documents that stand inside values: what they are, and on request what they say. */
export function Documents({
  documents,
  total,
  onLook,
}: Looking & { documents: readonly DocumentView[]; total: number }) {
  const [shown, setShown] = useState<DocumentView | null>(null);
  return (
    <>
      <TitledTable
        title="Documents inside values"
        about="They go along as they are; nothing is rewritten in them, not even a port."
        caption="Documents inside values, in the order of the file"
        columns={[
          'Value',
          'What it is',
          'Ports it names',
          { name: 'Size', num: true },
          { name: 'Line', num: true },
          { name: 'Show it', num: true, spoken: true },
        ]}
      >
        <tbody>
          {documents.map((one) => {
            const name = lastStep(one.path);
            return (
              <tr key={one.path}>
                <td className="m" />
                <NamedRowHead name={name} where={pathWords(one.path) || one.path} />
                <td>{documentWords(one)}</td>
                <td className="mono">{one.ports.join(', ')}</td>
                <td className="num nowrap">{size(one.size)}</td>
                <td className="num">
                  <LineLink place={one.place} what={name} onLook={onLook} />
                </td>
                <td className="num">
                  {one.legible && (
                    <button type="button" className="btn small" onClick={() => setShown(one)}>
                      Show
                      <span className="spoken"> what {name} says</span>
                    </button>
                  )}
                </td>
              </tr>
            );
          })}
        </tbody>
      </TitledTable>
      {total > documents.length && (
        <p className="quiet-note">
          The first {number(documents.length)} of {number(total)} are listed.
        </p>
      )}
      {shown && <Shown document={shown} onClose={() => setShown(null)} />}
    </>
  );
}

function Shown({ document, onClose }: { document: DocumentView; onClose: () => void }) {
  const plan = usePlan();
  const said = useAsked(() => documentAt(plan, document.path), [plan, document.path]);
  return (
    <Dialog
      title={
        <>
          <span className="mono">{lastStep(document.path)}</span>, {documentWords(document)}
        </>
      }
      onClose={onClose}
      footer={
        <button type="button" className="btn" onClick={onClose}>
          Close
        </button>
      }
    >
      <p className="dim">
        Secrets are blacked out where their form or their name gives them away. Look yourself before you show this to
        anybody.
      </p>
      {said === null ? (
        <p className="dim">Unwrapping it.</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls has to be reached by the keyboard
        <section className="inner mono" tabIndex={0} aria-label="What the value says">
          {said.text}
          {said.cut && '…'}
        </section>
      )}
    </Dialog>
  );
}
