import { screen, type BrowserWindow, type Rectangle } from 'electron';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { stateFolder } from './places.ts';

const Stored = z.object({
  bounds: z.object({ x: z.number(), y: z.number(), width: z.number().min(600), height: z.number().min(400) }),
  maximized: z.boolean(),
});

export interface WindowState {
  readonly bounds: Partial<Rectangle> & { readonly width: number; readonly height: number };
  readonly maximized: boolean;
}

const FIRST: WindowState = { bounds: { width: 1440, height: 900 }, maximized: false };

const file = (): string => join(stateFolder(), 'window.json');

/** Where the window was last, unless that screen is gone. */
export function readWindowState(): WindowState {
  try {
    const stored = Stored.parse(JSON.parse(readFileSync(file(), 'utf8')));
    const { x, y, width, height } = stored.bounds;
    const seen = screen
      .getAllDisplays()
      .some(
        ({ workArea }) =>
          x < workArea.x + workArea.width &&
          x + width > workArea.x &&
          y < workArea.y + workArea.height &&
          y + height > workArea.y,
      );
    return seen ? stored : FIRST;
  } catch {
    return FIRST;
  }
}

export function keepWindowState(window: BrowserWindow): void {
  window.on('close', () => {
    mkdirSync(dirname(file()), { recursive: true });
    writeFileSync(file(), JSON.stringify({ bounds: window.getNormalBounds(), maximized: window.isMaximized() }));
  });
}
