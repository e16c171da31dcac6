import type { Job, School } from '../lower.ts';
import { type El, el } from '../xml.ts';
import { Nested, randomShape } from './nested.ts';

/** Which kinds of record an add-on may bring; the rest is written by the box itself. */
const ADD_ONS: readonly { readonly id: string; readonly kinds: readonly string[] }[] = [
  { id: 'leases', kinds: ['pool'] },
  { id: 'tunnels', kinds: ['vpn', 'client', 'peer', 'tunnelkey'] },
  { id: 'wifi-login', kinds: ['radius'] },
  { id: 'wire-watch', kinds: ['sensor'] },
  { id: 'clock', kinds: ['ntp'] },
  { id: 'name-update', kinds: ['dyn', 'mail'] },
  { id: 'publish', kinds: ['nat'] },
];

/** One file by several hands: the box's own dialect, and add-ons that write as they like. */
export const packages: School = {
  name: 'packages',
  render: (job) => {
    const { second } = job;
    if (!second) throw new Error('packages need a second dialect');
    const r = job.rng.fork('packages');
    const chosen = r.sample(ADD_ONS, r.int(2, 5));
    const kinds = new Set(chosen.flatMap((a) => a.kinds));
    const own = {
      ...job.doc,
      singles: job.doc.singles.filter((s) => !kinds.has(s.rec.uid)),
      colls: job.doc.colls.filter((c) => !kinds.has(c.concept)),
    };
    const root = new Nested({ ...job, doc: own }, randomShape(job.rng)).render();
    const packageWord = job.dialect.words.item('package');
    const style = r.pick(['wrapper', 'wrapper', 'namespace', 'mixed'] as const);
    const box = el(job.dialect.words.container('package'));
    for (const addOn of chosen) {
      const theirs: Job = { ...second, ports: job.ports, rng: job.rng.fork(`add-on ${addOn.id}`) };
      const shape = randomShape(theirs.rng, { prefixes: 'none', grouped: false, counts: false });
      const nested = new Nested(theirs, shape);
      const els: El[] = [
        ...second.doc.singles
          .filter((s) => addOn.kinds.includes(s.rec.uid))
          .map((s) => nested.record(s.rec, s.section)),
        ...second.doc.colls
          .filter((c) => addOn.kinds.includes(c.concept))
          .flatMap((c) => nested.collection(c, c.section)),
      ];
      if (els.length === 0) continue;
      if (style === 'namespace' || (style === 'mixed' && r.fork(addOn.id).chance(0.5))) {
        for (const e of els) e.attrs.unshift({ name: 'xmlns', value: `urn:kestrelquay:add-on:${addOn.id}`, marks: [] });
        root.kids.push(...els);
      } else {
        box.kids.push(
          el(packageWord, {
            attrs: [
              { name: job.dialect.words.field('name', 'package'), value: addOn.id, marks: [] },
              { name: 'version', value: r.fork(`v ${addOn.id}`).pick(['0.9.1', '2', '1.4.0-3']), marks: [] },
            ],
            kids: els,
          }),
        );
      }
    }
    if (box.kids.length > 0) root.kids.push(box);
    return root;
  },
};
