import { type Opened, openedOf, useDesk } from './session.ts';

/** The open backup; only sheets ask, and they are shown only where there is one. */
export function useOpened(): Opened {
  const opened = useDesk((state) => openedOf(state.session));
  if (!opened) throw new Error('A sheet was shown without a backup.');
  return opened;
}

export const useNewBox = () => useDesk((state) => state.newBox);

export const usePlan = () => useDesk((state) => state.history.present.plan);

/** How the plan that came from elsewhere met this backup, as long as it was not undone. */
export const useMet = () =>
  useDesk(({ met, history }) =>
    met && [...history.past, history.present].some(({ plan }) => plan === met.plan) ? met.fit : null,
  );
