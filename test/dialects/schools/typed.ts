import type { School } from '../lower.ts';
import { Nested, randomShape } from './nested.ts';

/** Deep nesting: every value in an element of its own with its type, records with a body, lists wrapped. */
export const typed: School = {
  name: 'typed',
  render: (job) => {
    const wrapped = {
      ...job,
      dialect: { ...job.dialect, list: job.rng.fork('typed lists').pick(['wrap', 'wrap', 'repeat', 'comma'] as const) },
    };
    const shape = randomShape(job.rng, {
      place: job.rng.fork('typed place').pick(['elements', 'key-attribute']),
      leaf: 'typed',
      body: job.rng.fork('typed body').chance(0.5),
      presence: false,
    });
    return new Nested(wrapped, shape).render();
  },
};
