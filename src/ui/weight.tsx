import { Mark } from './marks.tsx';

/** How much a finding matters: shape and word first, tone last. */
export function Weight({
  weight,
  children,
}: {
  weight: 'stop' | 'break' | 'check' | 'note';
  children?: React.ReactNode;
}) {
  return (
    <span className={`sev ${weight}`}>
      <Mark name={weight} />
      {children}
    </span>
  );
}
