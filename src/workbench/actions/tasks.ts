import type { Task, WorkbenchStore } from '../state/store.ts';

let lastTask = 0;

/** Shows long work at the foot of the window; the functions given back tell its progress and end it. */
export function beginTask(
  store: WorkbenchStore,
  title: string,
  stop: Task['stop'],
): { readonly progress: (fraction: number) => void; readonly end: () => void } {
  lastTask += 1;
  const id = lastTask;
  store.setState(({ tasks }) => ({ tasks: [...tasks, { id, title, progress: null, stop }] }));
  return {
    progress: (fraction) =>
      store.setState(({ tasks }) => ({
        tasks: tasks.map((task) => (task.id === id ? { ...task, progress: fraction } : task)),
      })),
    end: () => store.setState(({ tasks }) => ({ tasks: tasks.filter((task) => task.id !== id) })),
  };
}
