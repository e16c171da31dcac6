const natural = new Intl.Collator('en', { numeric: true });

/** Names in the order that people count in: `eth2` before `eth10`. */
export const naturalOrder = (a: string, b: string): number => natural.compare(a, b);
