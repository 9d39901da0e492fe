import { app } from 'electron';
import { answerCalls } from './calls.ts';
import { recoverFromCrashes } from './crash.ts';
import { setMenu } from './menu.ts';
import { openFilesFromSystem } from './open-files.ts';
import { refusePermissions } from './permissions.ts';
import { registerScheme, serveScheme } from './scheme.ts';
import { createShell } from './shell.ts';

// One workbench a user: a second start hands its file to the first.
if (!app.requestSingleInstanceLock()) app.quit();
else {
  registerScheme();
  const shell = createShell();
  openFilesFromSystem(shell);
  void app.whenReady().then(() => {
    refusePermissions();
    serveScheme();
    answerCalls(shell);
    setMenu(shell);
    recoverFromCrashes(shell);
    shell.openWindow();
  });
}
