import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

test('what lies in the only record of its kind does not name it', () => {
  const rules = Array.from(
    { length: 8 },
    (_, at) => `<rule id="r-${at}" verdict="${at % 3 ? 'pass' : 'drop'}"><from>10.20.${at}.0/24</from></rule>`,
  );
  expect(linksOf(`<box><filter usual="drop">${rules.join('')}</filter><page port="8443"/></box>`).names).toEqual([]);
});
