import { useState } from 'react';
import type { CertificateRow, ResultKind } from '../../core/index.ts';
import { tickRows } from '../../state/carry.ts';
import { MoreButton } from '../../ui/more-button.tsx';
import { number } from '../../words/numbers.ts';

const FEW = 5;

/** Certificates are what is moved alone most often, so each is taken by one press with its key and its authority. */
export function Certificates({ list, result }: { list: readonly CertificateRow[]; result: ResultKind }) {
  const [all, setAll] = useState(false);
  if (list.length === 0) return null;
  return (
    <section aria-label="Certificates">
      <h3>Certificates, each with what it needs</h3>
      <ul className="lines">
        {list.slice(0, all ? list.length : FEW).map((one) => (
          <li key={one.record.path}>
            <span>
              <span className="mono">{one.name}</span>
              <span className="dim">{held(one)}</span>
            </span>
            {one.goes ? (
              <span className="mine nowrap">{result === 'graft' ? 'goes in' : 'taken'}</span>
            ) : (
              <button
                type="button"
                className="btn small plan"
                aria-label={`${result === 'graft' ? 'Put it in' : 'Take it'}, ${one.name}`}
                onClick={() =>
                  tickRows(`Take the certificate ${one.name}`, [one.record.path], true, result === 'ticked')
                }
              >
                {result === 'graft' ? 'Put it in' : 'Take it'}
              </button>
            )}
          </li>
        ))}
      </ul>
      {list.length > FEW && <MoreButton open={all} rest={number(list.length - FEW)} onPress={() => setAll(!all)} />}
    </section>
  );
}

const held = ({ hasKey, authority }: CertificateRow): string =>
  [hasKey ? ', with its private key' : '', authority === null ? '' : `, signed by ${authority}`].join('');
