import { app, dialog } from 'electron';
import type { Shell } from './shell.ts';

/** A page that died is loaded again; it then offers what the journal kept. */
export function recoverFromCrashes(shell: Shell): void {
  app.on('render-process-gone', (_event, contents, { reason }) => {
    const window = shell.window();
    if (!window || contents !== window.webContents || reason === 'clean-exit' || reason === 'killed') return;
    const choice = dialog.showMessageBoxSync(window, {
      type: 'error',
      title: 'Crossloom',
      message: 'The window stopped working.',
      detail: `Reason: ${reason}. Unsaved work is in the journal and is offered after reloading.`,
      buttons: ['Reload', 'Quit'],
      defaultId: 0,
      noLink: true,
    });
    if (choice === 0) window.reload();
    else app.exit(1);
  });
}
