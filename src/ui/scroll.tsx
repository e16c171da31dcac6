import type { ReactNode } from 'react';

/** A part of a sheet that scrolls by itself, reached by the keyboard also where nothing in it can be pressed. */
export function Scroll({
  as: Part = 'section',
  className = '',
  label,
  children,
}: {
  as?: 'section' | 'aside';
  className?: string;
  label: string;
  children: ReactNode;
}) {
  return (
    <Part className={`${className} scroll`} aria-label={label} tabIndex={0}>
      {children}
    </Part>
  );
}
