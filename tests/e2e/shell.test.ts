import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

describe('the window', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench({ opens: null });
  });
  afterAll(() => workbench.close());

  const dialog = () => workbench.page.getByRole('dialog');

  it('opens the sample from Start, checks it, and lists it as recent', async () => {
    const { page } = workbench;
    await page.getByRole('button', { name: /^Open the sample/ }).click();
    await workbench.settled();
    await expect.poll(() => page.title()).toContain('Crossloom');
    expect(await page.locator('.status-bar').innerText()).toMatch(/\d+ of \d+ needs met/);
    await workbench.goTo('start');
    await page.getByRole('region', { name: 'Recent' }).getByText('ft6-orrin32.map.json').waitFor();
    await page.getByRole('region', { name: 'Open now' }).waitFor();
  });

  it('goes to every place by key, and the place takes the focus', async () => {
    const { page } = workbench;
    const places = ['start', 'platforms', 'loom', 'routes', 'worklist', 'findings', 'hand-over', 'text'];
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    // The place that is shown already is gone to last.
    for (const [key, place] of [...[...places.entries()].slice(1), [0, 'start'] as const]) {
      await page.keyboard.press(`Alt+${key}`);
      await page.locator(`main[data-place="${place}"]`).waitFor();
      await page.locator('main [data-loading]').waitFor({ state: 'detached' });
      if (place === 'text') continue;
      await expect
        .poll(() => page.evaluate(() => document.querySelector('main')!.contains(document.activeElement)), {
          message: place,
        })
        .toBe(true);
    }
    await page.keyboard.press('Alt+5');
    await page.locator('main[data-place="findings"]').waitFor();
  });

  it('runs a command from the palette by keyboard and gives the focus back', async () => {
    const { page } = workbench;
    await workbench.goTo('worklist');
    const button = workbench.page.locator('.place-button[data-place="worklist"]');
    await button.focus();
    await page.keyboard.press('Control+k');
    await page.keyboard.type('go findings');
    expect(await dialog().getByRole('option').count()).toBe(1);
    await page.keyboard.press('Escape');
    await dialog().waitFor({ state: 'detached' });
    await expect.poll(() => button.evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press('Control+k');
    await page.keyboard.type('go findings');
    await page.keyboard.press('Enter');
    await page.locator('main[data-place="findings"]').waitFor();
  });

  it('finds signals, functions, routes and pins by name, and goes there', async () => {
    const { page } = workbench;
    for (const [words, kind] of [
      ['pedal track 2', 'wire'],
      ['accelerator pedal position', 'function'],
      ['engine control', 'module'],
      ['xm.in', 'pin'],
    ] as const) {
      await page.keyboard.press('Control+p');
      await page.keyboard.type(words);
      await expect.poll(() => dialog().getByRole('listbox').innerText()).toContain(`${kind} · `);
      await page.keyboard.press('Escape');
    }
    await page.keyboard.press('Control+p');
    await page.keyboard.type('host:pedal-track-2');
    await page.keyboard.press('Enter');
    await page.locator('main[data-place="platforms"]').waitFor();
    expect(await page.locator('.status-bar').innerText()).toContain('host:pedal-track-2');
  });

  it('keeps its look and its zoom over a reload', async () => {
    const { page } = workbench;
    const size = () => workbench.page.evaluate(() => parseFloat(getComputedStyle(document.documentElement).fontSize));
    await page.keyboard.press('Control+=');
    expect(await size()).toBeCloseTo(17.6, 1);
    for (let n = 0; n < 3; n += 1) {
      await page.keyboard.press('Control+k');
      await page.keyboard.type('change the look');
      await page.keyboard.press('Enter');
    }
    expect(await page.evaluate(() => document.documentElement.dataset['theme'])).toBe('contrast');
    await workbench.reopen();
    expect(await size()).toBeCloseTo(17.6, 1);
    expect(await workbench.page.evaluate(() => document.documentElement.dataset['theme'])).toBe('contrast');
    await workbench.page.evaluate(() => localStorage.removeItem('crossloom-look'));
    await workbench.reopen();
  });

  it.each(LOOKS)('its dialogs are clean for axe in %s', async (look) => {
    const { page } = workbench;
    await workbench.look(look);
    for (const [keys, title] of [
      ['Control+k', 'Commands'],
      ['F1', 'Keyboard map'],
      ['Control+o', 'Open a map'],
    ] as const) {
      await page.keyboard.press(keys);
      await dialog().getByRole('heading', { name: title }).waitFor();
      expect(await workbench.axe('[role=dialog]'), title).toEqual([]);
      await page.keyboard.press('Escape');
      await dialog().waitFor({ state: 'detached' });
    }
    await workbench.goTo('start');
    expect(await workbench.axe(), 'start').toEqual([]);
  });

  it('refuses a dropped file it cannot use in words, and opens a map that is dropped', async () => {
    const { page } = workbench;
    await page.keyboard.press('Control+k');
    await page.keyboard.type('close the pairing');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Before you begin' }).waitFor();
    await drop('notes.txt', 'hello');
    await page.locator('.notice[data-tone="bad"]', { hasText: 'drop a *.map.json' }).waitFor();
    await drop('ft6-orrin32.map.json', workbench.read('ft6-orrin32.map.json'));
    await page.locator('main[data-place="loom"]').waitFor();
    await drop('chassis-can.dbc', workbench.read('dbc/chassis-can.dbc'));
    await page.getByRole('button', { name: /^Host:/ }).click();
    await page.getByText(/no longer in the file; 0 faults/).waitFor();
    await page.getByRole('button', { name: 'Leave it' }).click();
    expect(await page.locator('.dirty').count()).toBe(0);
    expect(workbench.errors).toEqual([]);
  });

  /** Lets go of a file over the window. */
  async function drop(name: string, text: string): Promise<void> {
    await workbench.page.evaluate(
      ([fileName, content]) => {
        const dataTransfer = new DataTransfer();
        dataTransfer.items.add(new File([content!], fileName!));
        document
          .querySelector('main')!
          .dispatchEvent(new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true }));
      },
      [name, text],
    );
  }
});
