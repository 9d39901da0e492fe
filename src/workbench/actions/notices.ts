import { HostError } from '../../host/interface/contract.ts';
import type { Notice, WorkbenchStore } from '../state/store.ts';

let lastNotice = 0;

/** Says something at the foot of the window. */
export function notify(
  store: WorkbenchStore,
  tone: Notice['tone'],
  text: string,
  details: readonly string[] = [],
): void {
  lastNotice += 1;
  const notice = { id: lastNotice, tone, text, details };
  store.setState(({ notices }) => ({ notices: [...notices.slice(-4), notice] }));
}

export function dismiss(store: WorkbenchStore, id: number): void {
  store.setState(({ notices }) => ({ notices: notices.filter((notice) => notice.id !== id) }));
}

/** Runs an action; what goes wrong is told in words and changes nothing else. Gives null then. */
export async function attempt<T>(store: WorkbenchStore, what: string, action: () => Promise<T>): Promise<T | null> {
  try {
    return await action();
  } catch (error) {
    const details = error instanceof HostError ? error.faults : [];
    notify(store, 'bad', `${what}: ${error instanceof Error ? error.message : String(error)}`, details);
    return null;
  }
}
