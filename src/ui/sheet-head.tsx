import type { ReactNode } from 'react';

/** Number, name, one sentence that says the state, then what can be done. */
export function SheetHead({
  no,
  title,
  children,
  acts,
}: {
  no: number;
  title: string;
  children: ReactNode;
  acts?: ReactNode;
}) {
  return (
    <div className="head">
      <span className="no" aria-hidden="true">
        {no}
      </span>
      <h1>{title}</h1>
      <p>{children}</p>
      {acts && <div className="acts">{acts}</div>}
    </div>
  );
}
