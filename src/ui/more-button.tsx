/** Opens the rest of a long list that stands above it, and closes it again. */
export function MoreButton({ open, rest, onPress }: { open: boolean; rest: string; onPress: () => void }) {
  return (
    <button type="button" className="link" aria-expanded={open} onClick={onPress}>
      {open ? 'Show fewer' : `${rest} more`}
    </button>
  );
}
