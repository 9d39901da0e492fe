import { PLACES, type PlaceId } from '../places/index.ts';
import type { WorkbenchStore } from '../state/store.ts';

/** Goes to a place; one that needs a pairing stays shut without. */
export function goTo(store: WorkbenchStore, place: PlaceId): void {
  const wanted = PLACES.find(({ id }) => id === place);
  if (!wanted || (wanted.needsPairing && !store.getState().open)) return;
  store.setState({ place });
}

/** Selects something everywhere; null selects nothing. */
export function select(store: WorkbenchStore, subject: string | null): void {
  if (store.getState().selection !== subject) store.setState({ selection: subject });
}

/** Selects something and shows it where it is best seen. */
export function show(store: WorkbenchStore, subject: string, place: PlaceId): void {
  select(store, subject);
  goTo(store, place);
}
