import type { Overlay, WorkbenchStore } from '../state/store.ts';

type Choices = Extract<Overlay, { kind: 'ask' }>['choices'];

/** Asks a question over the window; null when it is closed without an answer. */
export function ask(store: WorkbenchStore, title: string, text: string, choices: Choices): Promise<string | null> {
  return new Promise((resolve) => {
    store.setState({
      overlay: {
        kind: 'ask',
        title,
        text,
        choices,
        settle: (choice) => {
          store.setState({ overlay: null });
          resolve(choice);
        },
      },
    });
  });
}

type Purpose = Extract<Overlay, { kind: 'choose-file' }>['purpose'];

/** Lets the user choose a file: in a native dialog where there is one, else in the page's own. */
export async function chooseFile(store: WorkbenchStore, purpose: Purpose, suggested = ''): Promise<string | null> {
  const answer = await store.getState().host.call('chooseFile', { purpose, suggested });
  if (answer.native) return answer.path;
  return new Promise((resolve) => {
    store.setState({
      overlay: {
        kind: 'choose-file',
        purpose,
        suggested,
        settle: (path) => {
          store.setState({ overlay: null });
          resolve(path);
        },
      },
    });
  });
}
