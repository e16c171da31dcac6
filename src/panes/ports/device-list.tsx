import { useState } from 'react';
import type { Receiver } from '../../core/index.ts';
import type { Described } from '../../state/new-box.ts';
import { Said } from '../../ui/said.tsx';
import { count, list, number } from '../../words/numbers.ts';
import { ignoredWords, kindWords, shapeWords, speedWords } from '../../words/receiver.ts';
import { troubleWords } from '../../words/trouble.ts';

/** Ports of the new box, each with what is known of it and the label that people gave it. */
export function DeviceList({
  receiver,
  onLabel,
}: {
  receiver: Receiver;
  onLabel: (port: string, label: string) => void;
}) {
  const links = { true: 'link', false: 'no link', null: '' };
  return (
    <div className="slip-list">
      <table className="list">
        <caption className="spoken">Ports of the new box</caption>
        <thead>
          <tr>
            <th scope="col">Port</th>
            <th scope="col">What it is</th>
            <th scope="col">Speed</th>
            <th scope="col" className="device-mac">
              MAC
            </th>
            <th scope="col">Label beside the socket</th>
          </tr>
        </thead>
        <tbody>
          {receiver.ports.map(({ name, kind, parent, speedMbit, mac, up, label }) => (
            <tr key={name}>
              <th scope="row" className="mono nowrap">
                {name}
              </th>
              <td className="dim">
                {[kindWords[kind], parent ? `on ${parent}` : '', links[`${up}`]].filter(Boolean).join(', ')}
              </td>
              <td className="nowrap">{speedWords(speedMbit)}</td>
              <td className="mono nowrap dim device-mac">{mac}</td>
              <td>
                <Label port={name} label={label} onLabel={onLabel} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Label({
  port,
  label,
  onLabel,
}: {
  port: string;
  label: string | null;
  onLabel: (port: string, label: string) => void;
}) {
  // Kept apart while it is written: a label loses the blanks around it.
  const [text, setText] = useState(label ?? '');
  return (
    <input
      className="field label-field"
      aria-label={`Label of ${port}`}
      autoComplete="off"
      value={text}
      onChange={(event) => {
        setText(event.target.value);
        onLabel(port, event.target.value);
      }}
    />
  );
}

/** What a text was taken for, what of it is no port and why, and what is worth a look. */
export function Remarks({ found: { text, troubles } }: { found: Described }) {
  const reasons = new Map<string, string[]>();
  for (const { name, why } of text?.ignored ?? []) {
    const words = ignoredWords(why);
    reasons.set(words, [...(reasons.get(words) ?? []), name]);
  }
  return (
    <>
      {text && (
        <p>
          Taken for {shapeWords(text.shape)}.
          {text.unread.length > 0 && (
            <span className="dim"> {count(text.unread.length, 'line')} of it told nothing about ports.</span>
          )}
        </p>
      )}
      {reasons.size > 0 && (
        <ul className="dim small">
          {[...reasons].map(([why, names]) => (
            <li key={why}>
              No {names.length === 1 ? 'port' : 'ports'}: <span className="mono">{list(names, 6)}</span> ({why}).
            </li>
          ))}
        </ul>
      )}
      {text && text.unread.length > 0 && (
        <details className="small">
          <summary>Lines that told nothing</summary>
          <pre className="excerpt">
            {text.unread
              .slice(0, 40)
              .map(({ line, text }) => `${number(line)}  ${text}`)
              .join('\n')}
          </pre>
        </details>
      )}
      {troubles.length > 0 && (
        <ul className="small" role="status">
          {troubles.slice(0, 8).map((trouble, at) => {
            const { title, sentence, advice } = troubleWords(trouble);
            return (
              <li key={at}>
                <b>{title}.</b> <Said parts={sentence} /> {advice}
              </li>
            );
          })}
          {troubles.length > 8 && <li>and {number(troubles.length - 8)} more</li>}
        </ul>
      )}
    </>
  );
}
