import type { ReactNode } from 'react';

/** A column by its name; `num` stands at the right, `nowrap` on one line, `spoken` is read out and not shown. */
export type ColumnHead =
  | string
  | { readonly name: string; readonly num?: boolean; readonly nowrap?: boolean; readonly spoken?: boolean };

/** A table under a title, with a column for marks before all others. */
export function TitledTable({
  title,
  about,
  caption,
  columns,
  children,
}: {
  title: string;
  /** What holds for all of its rows. */
  about: string;
  caption: string;
  columns: readonly ColumnHead[];
  children: ReactNode;
}) {
  return (
    <>
      <div className="filters">
        <h2>{title}</h2>
        <span className="dim">{about}</span>
      </div>
      <table className="list">
        <caption className="spoken">{caption}</caption>
        <thead>
          <tr>
            <th className="m" />
            {columns.map((column) => {
              const { name, num, nowrap, spoken } = typeof column === 'string' ? { name: column } : column;
              return (
                <th key={name} scope="col" className={num ? 'num' : nowrap ? 'nowrap' : undefined}>
                  {spoken ? <span className="spoken">{name}</span> : name}
                </th>
              );
            })}
          </tr>
        </thead>
        {children}
      </table>
    </>
  );
}

/** A name that heads a row, with where it stands under it. */
export function NamedRowHead({ name, where }: { name: string; where: string }) {
  return (
    <th scope="row">
      <b className="mono">{name}</b>
      <div className="dim mono where">{where}</div>
    </th>
  );
}
