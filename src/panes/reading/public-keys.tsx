import type { PublicKeyView } from '../../core/index.ts';
import { lastStep, pathWords } from '../../words/decisions.ts';
import { LineLink, type Looking } from './line-link.tsx';
import { NamedRowHead, TitledTable } from './titled-table.tsx';

/** Public keys without a certificate, and which private key belongs to each. */
export function PublicKeys({ keys, onLook }: Looking & { keys: readonly PublicKeyView[] }) {
  return (
    <TitledTable
      title="Public keys"
      about="They may be seen by anyone. Which private key belongs to one is told by its numbers."
      caption="Public keys, in the order of the file"
      columns={['Key', 'Kind', 'Private key', { name: 'Line', num: true }]}
    >
      <tbody>
        {keys.map(({ keyType, comment, keyPlace, place }) => {
          const name = comment || lastStep(place.path);
          return (
            <tr key={`${place.start} ${keyType} ${comment}`}>
              <td className="m" />
              <NamedRowHead name={name} where={pathWords(place.path) || place.path} />
              <td>{keyType}</td>
              <td>
                {keyPlace ? (
                  <>
                    in the file, line <LineLink place={keyPlace} what={`private key of ${name}`} onLook={onLook} />
                  </>
                ) : (
                  <span className="dim">not in the file</span>
                )}
              </td>
              <td className="num">
                <LineLink place={place} what={name} onLook={onLook} />
              </td>
            </tr>
          );
        })}
      </tbody>
    </TitledTable>
  );
}
