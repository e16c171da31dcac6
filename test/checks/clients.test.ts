import { describe, expect, it } from 'vitest';
import { planOf } from '../../src/core/index.ts';
import { box } from './box.ts';
import { findingsOf, opened, sentence } from './support.ts';

const family = /^(?:client-doubled|address-doubled)$/;
const say = (text: string, plan = planOf([])) =>
  findingsOf(opened(text), {}, plan)
    .filter(({ code }) => family.test(code))
    .map((finding) => `${finding.code}: ${sentence(finding)}`);

const healthy = box();
/** As the box of the tests numbers its clients: two of the office, one of the guests, one of the card terminals. */
const [desk, printer, tablet] = ['00:00:5e:00:53:00', '00:00:5e:00:53:01', '00:00:5e:00:53:02'] as const;

// RFC 2131, 2.1 and 4.3.1, from memory: a client is told by its hardware address, within the network that it asks from.
describe('one hardware address kept for two', () => {
  it.each([
    ['nothing of a healthy box', healthy, []],
    [
      'two addresses in one network, whatever the letters and marks',
      healthy.replace(printer, desk.toUpperCase().replaceAll(':', '-')),
      [
        'client-doubled: The client “00-00-5E-00-53-00” is kept two addresses in “office”: “10.20.0.20” and “10.20.0.21”.',
      ],
    ],
    ['one address in each of two networks', healthy.replace(tablet, desk), []],
    [
      'one address twice',
      healthy.replace(printer, desk).replace('10.20.0.21', '10.20.0.20'),
      ['client-doubled: “10.20.0.20” of “office” is kept for the client “00:00:5e:00:53:00” twice.'],
    ],
    [
      'two clients with one address',
      healthy.replace('10.20.0.21', '10.20.0.20'),
      ['address-doubled: “10.20.0.20” is given twice in “office”.'],
    ],
  ])('%s', (_, text, expected) => {
    expect(say(text)).toEqual(expected);
  });

  // Common practice, no source: what is switched off is kept for later.
  it('an entry that is switched off does no harm', () => {
    const off = (on: string) =>
      healthy
        .replaceAll('</as>', '</as><enabled>yes</enabled>')
        .replace(
          `<card>${printer}</card><as>10.20.0.21</as><enabled>yes<`,
          `<card>${desk}</card><as>10.20.0.21</as><enabled>${on}<`,
        );
    expect(say(off('yes'))).toHaveLength(1);
    expect(say(off('no'))).toEqual([]);
  });

  it('an entry that is left out is gone', () => {
    const plan = planOf([{ kind: 'leave-out', path: '/box[1]/lends[1]/lend[1]/kept[2]' }]);
    expect(say(healthy.replace(printer, desk), plan)).toEqual([]);
  });
});
