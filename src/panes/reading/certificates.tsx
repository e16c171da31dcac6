import type { CertificateView } from '../../core/index.ts';
import { Mark } from '../../ui/marks.tsx';
import { LineLink, type Looking } from './line-link.tsx';
import { TitledTable } from './titled-table.tsx';

/** Certificates with what their signatures say. */
export function Certificates({ certificates, onLook }: Looking & { certificates: readonly CertificateView[] }) {
  return (
    <TitledTable
      title="Certificates"
      about="Keys are told by their numbers, issuers by their signatures."
      caption="Certificates, in the order of the file"
      columns={['For', 'Signed by', 'Private key', { name: 'Ends', nowrap: true }, { name: 'Line', num: true }]}
    >
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
    </TitledTable>
  );
}

const signatureWords: Record<CertificateView['signature'], string> = {
  checked: ': signature checked',
  fails: ': the name fits, the signature does not',
  named: ': by its name, signature not checked',
  'not-held': ', not in this file',
};
