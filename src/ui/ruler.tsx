import './ruler.css';

const width = 576;
const marks = Array.from({ length: 25 }, (_, at) => `M${at * 24} 26v${at % 5 ? -5 : -9}`).join('');

/** Progress on a ruler; without an amount it shows the ruler alone. */
export function Ruler({ label, share }: { label: string; share: number | null }) {
  const at = share === null ? 0 : Math.min(1, share) * width;
  const percent = share === null ? undefined : Math.floor(Math.min(1, share) * 100);
  return (
    <svg
      className="ruler"
      viewBox={`0 0 ${width + 1} 30`}
      role="progressbar"
      aria-label={label}
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={percent}
    >
      <path d={`M0 26h${width}${marks}`} stroke="var(--edge)" />
      {share !== null && (
        <>
          <path d={`M0 26h${at}`} stroke="var(--ink)" strokeWidth="6" />
          <path d={`M${at} 29V12`} stroke="var(--ink)" strokeWidth="2" />
          <text x={at > width - 60 ? at - 6 : at + 6} y="20" textAnchor={at > width - 60 ? 'end' : 'start'}>
            {percent} %
          </text>
        </>
      )}
    </svg>
  );
}
