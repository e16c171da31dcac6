import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

test('elements that list one thing each, and have a name of their own in an attribute, are records', () => {
  const hosts = ['pump', 'scale', 'radio', 'gate', 'chart', 'print', 'tide'];
  const groups = hosts.map(
    (name, at) =>
      `<hosts n="${name}"><has>10.20.${at}.5</has><has>${at < 2 ? hosts[at + 2] : `10.20.${at}.6`}</has></hosts>`,
  );
  const ports = ['plc', 'rtsp', 'api'].map(
    (name, at) => `<${name}><has>${587 + at}</has><has>${8000 + at}</has></${name}>`,
  );
  const rules = Array.from({ length: 9 }, (_, at) => {
    const to = at % 2 ? `<to group="${hosts[at % 7]}"/>` : `<to ip="10.20.${at}.9"/>`;
    return `<rule no="tk${at}"><do>pass</do><port>${['plc', '53', 'rtsp', 'api'][at % 4]}</port>${to}</rule>`;
  });
  const { names } = linksOf(
    `<q><list>${rules.join('')}${groups.join('')}<services>${ports.join('')}</services></list></q>`,
  );
  expect(names.filter((name) => name.includes('group'))).toEqual(
    [1, 3, 5, 7].map((at) => `rule/group ${hosts[at % 7]} -> hosts`),
  );
  expect(names.filter((name) => name.startsWith('hosts/'))).toHaveLength(2);
});
