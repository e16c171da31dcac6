/** How many records go as they were, changed, or not at all; by length and pattern. */
export function LedgerBar({
  same,
  changed,
  out,
  height,
}: {
  same: number;
  changed: number;
  out: number;
  height?: number;
}) {
  const parts = [
    ['same', same],
    ['chg', changed],
    ['out', out],
  ] as const;
  return (
    <div className="bar" aria-hidden="true" style={height ? { height } : undefined}>
      {parts.map(
        ([name, amount]) => amount > 0 && <i key={name} className={name} style={{ flex: `${amount} 0 3px` }} />,
      )}
    </div>
  );
}
