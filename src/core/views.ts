/*
 * What the page shows. Views are plain data made from tree, reading and plan; they hold no secret's value and no more
 * text than a row needs, so that they travel cheaply between threads.
 */

export type * from './views/backup.ts';
export type * from './views/carry.ts';
export type * from './views/findings.ts';
export type * from './views/graft.ts';
export type * from './views/plan.ts';
export type * from './views/reading.ts';
export type * from './views/records.ts';
