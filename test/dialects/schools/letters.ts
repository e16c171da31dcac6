import type { School } from '../lower.ts';
import { Nested, randomShape } from './nested.ts';

/** Attributes only, one letter each; a letter means one thing in one kind of record and another elsewhere. */
export const letters: School = {
  name: 'letters',
  render: (job) => {
    const shape = randomShape(job.rng, {
      place: 'attributes',
      leaf: 'text',
      tagKeyed: 0,
      body: false,
      presence: false,
      prefixes: 'none',
      cdata: 0,
    });
    return new Nested(job, shape).render();
  },
};
