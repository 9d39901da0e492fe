import { editor as monacoEditor, type IDisposable } from 'monaco-editor/editor/editor.api';
import type { WorkbenchStore } from '../../state/store.ts';

function apply(store: WorkbenchStore): void {
  const { theme } = store.getState();
  if (theme === 'contrast') monacoEditor.setTheme('hc-black');
  else {
    const dark = theme === 'dark' || (theme === 'system' && matchMedia('(prefers-color-scheme: dark)').matches);
    monacoEditor.setTheme(dark ? 'vs-dark' : 'vs');
  }
}

/** Keeps the editor's colours in step with the window's. */
export function watchTheme(store: WorkbenchStore): IDisposable {
  const media = matchMedia('(prefers-color-scheme: dark)');
  const listener = (): void => apply(store);
  media.addEventListener('change', listener);
  const unsubscribe = store.subscribe((state, before) => {
    if (state.theme !== before.theme) apply(store);
  });
  apply(store);
  return {
    dispose: () => {
      media.removeEventListener('change', listener);
      unsubscribe();
    },
  };
}
