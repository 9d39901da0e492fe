import { AxeBuilder } from '@axe-core/playwright';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core';
import { renderSpecRequest, startLoopback } from '../../src/host/index.ts';
import type { PlaceId } from '../../src/workbench/places/index.ts';
import { launchOptions } from './browser-setup.mjs';

const projectFolder = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** The built page; CROSSLOOM_PAGE names another build than dist/page. */
const pageFolder = process.env['CROSSLOOM_PAGE'] ?? join(projectFolder, 'dist', 'page');

/** The day documents are dated with in browser tests. */
export const TODAY = '2026-01-31';

export type Look = 'light' | 'dark' | 'contrast';
export const LOOKS: readonly Look[] = ['light', 'dark', 'contrast'];

export interface StartOptions {
  /** Rest at every step of a document that is written, so that a test can look on: the server runs in its own process. */
  readonly renderPauseMs?: number;
  /** The map to open at once, relative to the folder; null: none (the Start place is shown). */
  readonly opens?: string | null;
  /** The window's size in CSS pixels; 1440×900 when absent. */
  readonly size?: { readonly width: number; readonly height: number };
  /** Changes the copy of the sample before the server starts. */
  readonly prepare?: (folder: string) => void;
}

/** A workbench on its own copy of the sample, with a browser to drive it. */
export interface TestWorkbench {
  /** The page now shown; `crash` and `reopen` replace it. */
  page: Page;
  /** The folder the page may reach: a copy of sample-maps. */
  readonly folder: string;
  /** Errors the page threw or logged so far; a test asks that it stays empty. */
  readonly errors: string[];
  read(path: string): string;
  write(path: string, text: string): void;
  /** Goes to a place by its key and waits until it is drawn. */
  goTo(place: PlaceId): Promise<void>;
  /** Waits until the findings are those of the documents as they stand. */
  settled(): Promise<void>;
  /** Puts the page into light, dark or high contrast. */
  look(look: Look): Promise<void>;
  /** What axe finds against WCAG 2.2 AA, one line each with the first elements; empty: clean. */
  axe(within?: string): Promise<readonly string[]>;
  /** Ends the page as a crash does: no question, nothing saved. */
  crash(): Promise<void>;
  /** Opens the workbench anew in the same browser, on the same folder and state. */
  reopen(): Promise<void>;
  close(): Promise<void>;
}

let sharedBrowser: Promise<Browser> | null = null;
let users = 0;

/** One browser for all workbenches that are open; the last one closes it. */
function takeBrowser(): Promise<Browser> {
  users += 1;
  sharedBrowser ??= chromium.launch(launchOptions());
  return sharedBrowser;
}

async function leaveBrowser(): Promise<void> {
  users -= 1;
  if (users > 0 || sharedBrowser === null) return;
  const leaving = sharedBrowser;
  sharedBrowser = null;
  await (await leaving).close();
}

/** Starts the loopback server on a copy of the sample and opens the page. */
export async function startWorkbench(options: StartOptions = {}): Promise<TestWorkbench> {
  if (!existsSync(join(pageFolder, 'index.html')))
    throw new Error('the page is not built: run npx vite build, or name a build in CROSSLOOM_PAGE');
  const { opens = 'ft6-orrin32.map.json', size = { width: 1440, height: 900 }, prepare, renderPauseMs } = options;
  const top = mkdtempSync(join(tmpdir(), 'crossloom-e2e-'));
  const folder = join(top, 'maps');
  cpSync(join(projectFolder, 'sample-maps'), folder, { recursive: true });
  prepare?.(folder);
  const server = await startLoopback({
    version: '0.1.0',
    root: folder,
    opens,
    sample: 'ft6-orrin32.map.json',
    stateFolder: join(top, 'state'),
    today: () => TODAY,
    nowMs: () => Date.now(),
    renderSpec: (request, today, watch) =>
      renderSpecRequest(request, today, '0.1.0', {
        ...watch,
        ...(renderPauseMs === undefined
          ? {}
          : { breathe: () => new Promise((resolve) => setTimeout(resolve, renderPauseMs)) }),
      }),
    pageFolder,
    port: 0,
  });
  const context = await (await takeBrowser()).newContext({ viewport: size, reducedMotion: 'reduce' });
  const errors: string[] = [];
  const page = await openPage(context, server.url, errors);

  const workbench: TestWorkbench = {
    page,
    folder,
    errors,
    read: (path) => readFileSync(join(folder, path), 'utf8'),
    write: (path, text) => writeFileSync(join(folder, path), text),
    async goTo(place) {
      const button = workbench.page.locator(`.place-button[data-place="${place}"]`);
      await button.click();
      await workbench.page.locator(`main[data-place="${place}"]`).waitFor();
      await workbench.page.locator('main [data-loading]').waitFor({ state: 'detached' });
    },
    async settled() {
      await workbench.page.locator('.status-bar[data-checked="current"]').waitFor();
    },
    async look(look) {
      await workbench.page.emulateMedia({ colorScheme: look === 'light' ? 'light' : 'dark' });
      await workbench.page.evaluate((theme) => {
        if (theme === 'contrast') document.documentElement.dataset['theme'] = 'contrast';
        else delete document.documentElement.dataset['theme'];
      }, look);
    },
    async axe(within) {
      const builder = new AxeBuilder({ page: workbench.page }).withTags([
        'wcag2a',
        'wcag2aa',
        'wcag21a',
        'wcag21aa',
        'wcag22aa',
        'best-practice',
      ]);
      const { violations } = await (within === undefined ? builder : builder.include(within)).analyze();
      return violations.map(
        ({ id, help, nodes }) =>
          `${id}: ${help}: ${nodes
            .slice(0, 4)
            .map((node) => `${node.target.join(' ')} (${node.failureSummary?.split('\n')[1]?.trim() ?? ''})`)
            .join('; ')}`,
      );
    },
    async crash() {
      await workbench.page.close({ runBeforeUnload: false });
    },
    async reopen() {
      if (!workbench.page.isClosed()) await workbench.page.close({ runBeforeUnload: false });
      workbench.page = await openPage(context, server.url, errors);
    },
    async close() {
      await context.close();
      await leaveBrowser();
      await server.close();
      rmSync(top, { recursive: true, force: true });
    },
  };
  return workbench;
}

async function openPage(context: BrowserContext, url: string, errors: string[]): Promise<Page> {
  const page = await context.newPage();
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('dialog', (dialog) => void dialog.accept());
  page.setDefaultTimeout(60_000);
  await page.goto(url);
  await page.locator('.window[data-ready="true"]').waitFor();
  return page;
}
