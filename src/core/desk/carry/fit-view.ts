import type { Fit, FitPart } from '../../carry/fit.ts';
import type { RecordMark } from '../../views.ts';
import type { CarryView } from './carry-view.ts';

/** How a saved plan meets a backup; see carry/fit.ts. */
export interface FitView extends Omit<Fit, 'sections' | 'collections'> {
  readonly sections: readonly FitPartView[];
  readonly collections: readonly FitPartView[];
}

export interface FitPartView extends Omit<FitPart, 'added'> {
  /** The first of the records that are new. */
  readonly added: readonly RecordMark[];
  /** Null where it is not known which. */
  readonly addedTotal: number | null;
}

/** Records that are told by name in each list. */
const TOLD = 12;

/** How a saved plan meets the backup, for the page: records by name. */
export function fitView(view: CarryView, { sections, collections, ...met }: Fit): FitView {
  const part = ({ added, ...told }: FitPart): FitPartView => ({
    ...told,
    name: told.name.split('/').slice(2).join(' / '),
    added: added?.slice(0, TOLD).map((node) => view.mark(node)) ?? [],
    addedTotal: added?.length ?? null,
  });
  return { ...met, sections: sections.map(part), collections: collections.map(part) };
}
