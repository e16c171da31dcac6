import type { PublicKeyView } from '../../core/index.ts';
import { LineLink, type Looking } from './line-link.tsx';

/** Public keys without a certificate, and which private key belongs to each. */
export function PublicKeys({ keys, onLook }: Looking & { keys: readonly PublicKeyView[] }) {
  return (
    <>
      <div className="filters">
        <h2>Public keys</h2>
        <span className="dim">
          They may be seen by anyone. Which private key belongs to one is told by its numbers.
        </span>
      </div>
      <table className="list">
        <caption className="spoken">Public keys, in the order of the file</caption>
        <thead>
          <tr>
            <th className="m" />
            <th scope="col">Key</th>
            <th scope="col">Kind</th>
            <th scope="col">Private key</th>
            <th scope="col" className="num">
              Line
            </th>
          </tr>
        </thead>
        <tbody>
          {keys.map(({ keyType, comment, keyPlace, place }) => (
            <tr key={`${place.start} ${keyType} ${comment}`}>
              <td className="m" />
              <th scope="row" className="mono">
                {comment || <span className="dim">no comment</span>}
              </th>
              <td>{keyType}</td>
              <td>
                {keyPlace ? (
                  <>
                    in the file, line{' '}
                    <LineLink place={keyPlace} what={`private key of ${comment || keyType}`} onLook={onLook} />
                  </>
                ) : (
                  <span className="dim">not in the file</span>
                )}
              </td>
              <td className="num">
                <LineLink place={place} what={comment || keyType} onLook={onLook} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}
