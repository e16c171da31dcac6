import { describe, expect, it } from 'vitest';
import { boxWith } from './box.ts';
import { findingsOf, opened } from './support.ts';

// No source: which role a finding is about is a matter of this program alone.
describe('the role that a finding is about', () => {
  const rolesOf = (text: string, code: string) =>
    findingsOf(opened(text))
      .filter((finding) => finding.code === code)
      .map(({ role }) => role);

  it('is the one that the record around its place names', () => {
    const text = boxWith('pools', 0, ['office', '10.20.0.100', '10.20.0.255', ['10.20.0.20', '10.20.0.21']]);
    expect(rolesOf(text, 'pool-over-reserved')).toEqual(['office']);
  });

  it('is the one in whose record its place is', () => {
    const text = boxWith('roles', 3, ['cards', 'eth3', '10.20.30.0', '24']);
    expect(rolesOf(text, 'address-not-a-host')).toEqual(['cards']);
  });

  it('is none where a finding is about the file', () => {
    const text = boxWith('roles', 3, ['cards', 'eth3', '10.20.30.0', '24']);
    expect(rolesOf(text, 'address-documentation').filter((role) => role !== undefined).length).toBeLessThan(2);
  });
});
