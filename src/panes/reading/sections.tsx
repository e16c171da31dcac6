import { useOpened } from '../../state/selectors.ts';
import { number, size } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';

export function Sections({ onLook }: { onLook: (place: SourcePlace) => void }) {
  const { backup } = useOpened();
  return (
    <table className="list">
      <caption className="spoken">Sections, in the order of the file</caption>
      <thead>
        <tr>
          <th className="m" />
          <th scope="col">Section</th>
          <th scope="col" className="num">
            Records
          </th>
          <th scope="col" className="num">
            Size
          </th>
          <th scope="col" className="num spare">
            Secrets
          </th>
          <th scope="col" className="num spare">
            Box-bound
          </th>
          <th scope="col" className="num">
            Line
          </th>
        </tr>
      </thead>
      <tbody>
        {backup.sections.map((section) => (
          <tr key={section.path}>
            <td className="m" />
            <th scope="row">
              <b className="mono">{section.name}</b>
            </th>
            <td className="num">{number(section.records)}</td>
            <td className="num dim nowrap">{size(section.size)}</td>
            <td className="num spare">{section.secrets || ''}</td>
            <td className="num spare">{section.boxBound || ''}</td>
            <td className="num">
              <button type="button" className="link" onClick={() => onLook(section.place)}>
                {number(section.place.line)}
                <span className="spoken">, look at {section.name} in the file</span>
              </button>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
