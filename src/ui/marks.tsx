/** Signs drawn in the current colour, 14 units square. Each is repeated in words beside it. */
const drawings = {
  stop: (
    <>
      <path d="M1.5 1.5h11v11h-11z" fill="currentColor" />
      <path d="M4 7h6" stroke="var(--paper)" strokeWidth="2" />
    </>
  ),
  break: <path d="M7 1l6.2 11.5H.8z" fill="currentColor" />,
  check: (
    <>
      <circle cx="7" cy="7" r="5" fill="none" stroke="currentColor" strokeWidth="1.8" />
      <circle cx="7" cy="7" r="1.7" fill="currentColor" />
    </>
  ),
  note: <path d="M2 7h10" stroke="currentColor" strokeWidth="2.4" />,
  arrow: <path d="M1 7h11M8.5 3.5L12 7l-3.5 3.5" fill="none" stroke="currentColor" strokeWidth="1.5" />,
  down: <path d="M3 5l4 4.5L11 5" fill="none" stroke="currentColor" strokeWidth="1.6" />,
  right: <path d="M5 3l4.5 4L5 11" fill="none" stroke="currentColor" strokeWidth="1.6" />,
  changed: <path d="M10.5 1.5l-7 11" stroke="currentColor" strokeWidth="2" />,
  out: <path d="M2.5 2.5l9 9M11.5 2.5l-9 9" stroke="currentColor" strokeWidth="2" />,
  ok: <path d="M1.5 7.5l3.7 4L12.5 2" fill="none" stroke="currentColor" strokeWidth="2" />,
  same: <path d="M2 5h10M2 9h10" stroke="currentColor" strokeWidth="1.6" />,
};

export type MarkName = keyof typeof drawings;

export function Mark({ name }: { name: MarkName }) {
  return (
    <svg className="i" viewBox="0 0 14 14" aria-hidden="true">
      {drawings[name]}
    </svg>
  );
}

/** A cord from one socket to another, over the double rule of an account that balances. */
export function Logo() {
  return (
    <svg width="26" height="22" viewBox="0 0 26 22" aria-hidden="true">
      <circle cx="3.2" cy="4" r="2.4" fill="none" stroke="currentColor" strokeWidth="1.6" />
      <circle cx="22.8" cy="12" r="2.4" fill="none" stroke="currentColor" strokeWidth="1.6" />
      <path d="M5.6 4h5l5 8h5" fill="none" stroke="currentColor" strokeWidth="2" />
      <path d="M1 18.2h24M1 21h24" stroke="currentColor" strokeWidth="1.3" />
    </svg>
  );
}
