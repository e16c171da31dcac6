/** What the sheets ask of a plan: which result it makes, and which of its decisions are ticks. */
export { isTick, resultOf, saidIn } from '../core/index.ts';
