import { type ReactNode, useEffect, useRef } from 'react';

const boxes = {
  on: <path d="M5 9.2l3.2 4L16.5 1.8" fill="none" stroke="var(--blue)" strokeWidth="2.3" />,
  some: <path d="M2.5 15.5h12v-12z" fill="var(--blue)" />,
  off: null,
};

/** A tick in blue pencil with three states; in part is told as `mixed`. */
export function Tick({
  state,
  label,
  describedBy,
  tabIndex,
  onChange,
}: {
  state: 'on' | 'some' | 'off';
  label: string;
  describedBy?: string;
  /** -1 where something around it takes the keys. */
  tabIndex?: number;
  onChange: (on: boolean) => void;
}) {
  const ref = useRef<HTMLInputElement>(null);
  useEffect(() => {
    ref.current!.indeterminate = state === 'some';
  }, [state]);
  return (
    <span className="tick">
      <input
        ref={ref}
        type="checkbox"
        checked={state === 'on'}
        aria-label={label}
        aria-describedby={describedBy}
        tabIndex={tabIndex}
        onChange={(event) => onChange(event.target.checked)}
      />
      <svg viewBox="0 0 18 18" aria-hidden="true">
        <path d="M2.5 3.5h12v12h-12z" fill="var(--paper)" stroke="var(--edge)" strokeWidth="1.2" />
        {boxes[state]}
      </svg>
    </span>
  );
}

/** A few ways to look at the same thing, of which one holds. */
export function Choice<T extends string>({
  label,
  options,
  chosen,
  onChoose,
}: {
  label: string;
  options: readonly (readonly [T, ReactNode])[];
  chosen: T;
  onChoose: (option: T) => void;
}) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset cannot be laid out as a row in every browser
    <div className="seg" role="group" aria-label={label}>
      {options.map(([option, name]) => (
        <button key={option} type="button" aria-pressed={option === chosen} onClick={() => onChoose(option)}>
          {name}
        </button>
      ))}
    </div>
  );
}
