import { Menu, app, type MenuItemConstructorOptions } from 'electron';
import type { Shell } from './shell.ts';

/** A menu entry that the page carries out; the page knows the keys too, so they are only shown here. */
function command(shell: Shell, label: string, id: string, accelerator?: string): MenuItemConstructorOptions {
  return {
    label,
    ...(accelerator ? { accelerator, registerAccelerator: false } : {}),
    click: () => shell.send({ kind: 'command', command: id }),
  };
}

const line: MenuItemConstructorOptions = { type: 'separator' };

export function menuTemplate(shell: Shell, platform: NodeJS.Platform): MenuItemConstructorOptions[] {
  const mac = platform === 'darwin';
  return [
    ...(mac ? [{ role: 'appMenu' } as MenuItemConstructorOptions] : []),
    {
      label: 'File',
      submenu: [
        command(shell, 'Start', 'go-start'),
        command(shell, 'Open a map…', 'open', 'CmdOrCtrl+O'),
        { role: 'recentDocuments', submenu: [{ role: 'clearRecentDocuments' }] },
        line,
        command(shell, 'Save', 'save', 'CmdOrCtrl+S'),
        command(shell, 'Save the map as…', 'save-as', 'CmdOrCtrl+Shift+S'),
        command(shell, 'Print this place', 'print', 'CmdOrCtrl+Shift+P'),
        line,
        command(shell, 'Close the pairing', 'close'),
        mac ? { role: 'close' } : { role: 'quit' },
      ],
    },
    {
      label: 'Edit',
      submenu: [
        command(shell, 'Undo', 'undo', 'CmdOrCtrl+Z'),
        command(shell, 'Redo', 'redo', 'CmdOrCtrl+Shift+Z'),
        line,
        { role: 'cut' },
        { role: 'copy' },
        { role: 'paste' },
        { role: 'selectAll' },
        line,
        command(shell, 'Find anywhere', 'find', 'CmdOrCtrl+P'),
        command(shell, 'Command palette', 'palette', 'CmdOrCtrl+K'),
      ],
    },
    {
      label: 'Go',
      submenu: ['platforms', 'loom', 'routes', 'worklist', 'findings', 'hand-over', 'text'].map((place, at) =>
        command(shell, place.charAt(0).toUpperCase() + place.slice(1), `go-${place}`, `Alt+${at + 1}`),
      ),
    },
    {
      label: 'View',
      submenu: [
        command(shell, 'Change the look', 'theme'),
        command(shell, 'Zoom in', 'zoom-in', 'CmdOrCtrl+Plus'),
        command(shell, 'Zoom out', 'zoom-out', 'CmdOrCtrl+-'),
        command(shell, 'Zoom back to normal', 'zoom-reset', 'CmdOrCtrl+0'),
        line,
        { role: 'togglefullscreen' },
        ...(app.isPackaged ? [] : [{ role: 'toggleDevTools' } as MenuItemConstructorOptions]),
      ],
    },
    { label: 'Help', role: 'help', submenu: [command(shell, 'Keyboard map', 'keys', 'F1')] },
  ];
}

export function setMenu(shell: Shell): void {
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(shell, process.platform)));
}
