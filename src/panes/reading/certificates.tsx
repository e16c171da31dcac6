import type { CertificateView } from '../../core/index.ts';
import { Mark } from '../../ui/marks.tsx';
import { LineLink, type Looking } from './line-link.tsx';

/** Certificates with what their signatures say. */
export function Certificates({ certificates, onLook }: Looking & { certificates: readonly CertificateView[] }) {
  return (
    <>
      <div className="filters">
        <h2>Certificates</h2>
        <span className="dim">Keys are told by their numbers, issuers by their signatures.</span>
      </div>
      <table className="list">
        <caption className="spoken">Certificates, in the order of the file</caption>
        <thead>
          <tr>
            <th className="m" />
            <th scope="col">For</th>
            <th scope="col">Signed by</th>
            <th scope="col">Private key</th>
            <th scope="col" className="nowrap">
              Ends
            </th>
            <th scope="col" className="num">
              Line
            </th>
          </tr>
        </thead>
        <tbody>
          {certificates.map((one) => (
            <tr key={`${one.place.start} ${one.name}`}>
              <td className="m">{one.signature === 'fails' && <Mark name="break" />}</td>
              <th scope="row" className="mono">
                {one.name}
              </th>
              <td>
                <span className="mono">{one.self ? 'itself' : one.issuer}</span>
                <span className="dim">{signatureWords[one.signature]}</span>
              </td>
              <td>{one.keyHeld ? 'in the file' : <span className="dim">not found</span>}</td>
              <td className="nowrap">{one.notAfter.slice(0, 10)}</td>
              <td className="num">
                <LineLink place={one.place} what={one.name} onLook={onLook} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

const signatureWords: Record<CertificateView['signature'], string> = {
  checked: ': signature checked',
  fails: ': the name fits, the signature does not',
  named: ': by its name, signature not checked',
  'not-held': ', not in this file',
};
