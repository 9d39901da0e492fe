import { createStore, useStore, type StoreApi } from 'zustand';
import { useWorkbenchStore, type WorkbenchStore } from '../state/store.ts';

const memories = new WeakMap<WorkbenchStore, Map<string, StoreApi<unknown>>>();

/** What a place remembers under a name while the window lives; made from `first` when it is asked for the first time. */
export function placeMemory<T>(store: WorkbenchStore, name: string, first: () => T): StoreApi<T> {
  const known = memories.get(store) ?? new Map<string, StoreApi<unknown>>();
  memories.set(store, known);
  const memory = known.get(name) ?? createStore<unknown>(() => first());
  known.set(name, memory);
  return memory as StoreApi<T>;
}

/** State of a place that is still there when the user comes back to it. */
export function usePlaceMemory<T extends object>(
  name: string,
  first: () => T,
): readonly [T, (change: Partial<T>) => void] {
  const memory = placeMemory(useWorkbenchStore(), name, first);
  const state = useStore(memory);
  return [state, (change) => memory.setState(change)];
}
