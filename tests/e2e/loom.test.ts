import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Locator } from 'playwright-core';
import type { CrossloomMap, Platform } from '../../src/model/index.ts';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

const MAP = 'ft6-orrin32.map.json';

/** Writes a document of the copied sample anew. */
function rewrite<T>(folder: string, name: string, edit: (document: T) => T): void {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(edit(JSON.parse(readFileSync(path, 'utf8')) as T), null, 2));
}

describe('the loom', () => {
  let bench: TestWorkbench;

  beforeAll(async () => {
    bench = await startWorkbench({
      // One need is left open, so that there is a loose end.
      prepare: (folder) =>
        rewrite<CrossloomMap>(folder, MAP, (map) => ({
          ...map,
          routes: map.routes.filter(({ id }) => id !== 'yaw-rate'),
        })),
    });
    await bench.goTo('loom');
    await bench.settled();
  });
  afterAll(() => bench.close());

  const tree = (): Locator => bench.page.getByRole('tree', { name: /The loom/ });
  const row = (id: string): Locator => bench.page.locator(`[data-row="${id}"]`);
  const editor = (id: string): Locator => bench.page.getByRole('article', { name: `Route ${id}` });
  /** Brings a strand into view by searching for it, and selects it. */
  const find = async (id: string): Promise<void> => {
    const search = bench.page.getByLabel('Search strands');
    await search.fill(id);
    await search.press('Enter');
    await search.fill('');
    await row(`route:${id}`).waitFor();
    await editor(id).waitFor();
  };

  test('a click selects a strand everywhere: the editor and the strip show it', async () => {
    await find('vehicle-speed');
    expect(await row('route:vehicle-speed').getAttribute('aria-selected')).toBe('true');
    await bench.page.getByRole('region', { name: /Source host:BrakeStatus1\.VehicleSpeed/ }).waitFor();
    await row('route:brake-pressure').click();
    await editor('brake-pressure').waitFor();
    expect(await bench.page.locator('.status-bar').textContent()).toContain('route:brake-pressure');
  });

  test('the strip converts 60 mph to 96.56064 km/h', async () => {
    await find('vehicle-speed');
    const source = bench.page.getByRole('region', { name: /Source host:BrakeStatus1\.VehicleSpeed/ });
    await source.getByLabel('physical').fill('60');
    // NIST SP 811 (2008), Appendix B.8: mile per hour to kilometer per hour, multiply by 1.609344.
    const delivered = bench.page.getByRole('region', { name: 'Delivered' });
    await expect.poll(() => delivered.locator('.stage-value').textContent()).toBe('96.56064 km/h');
    // The way back: the source takes the raw value next to the speed that was typed at the target.
    const target = bench.page.getByRole('region', { name: /Target donor:BrakeData1\.VehicleSpeed/ });
    await target.getByLabel('physical').fill('80.4672');
    await target.getByLabel('physical').blur();
    await expect.poll(() => source.getByLabel('physical').inputValue()).toBe('50');
  });

  test('a source that says it has no value is shown as such to the end', async () => {
    const source = bench.page.getByRole('region', { name: /Source host:BrakeStatus1\.VehicleSpeed/ });
    await source.getByLabel('not available').check();
    const delivered = bench.page.getByRole('region', { name: 'Delivered' });
    await expect.poll(() => delivered.locator('.stage-value').textContent()).toContain('not available');
    await source.getByLabel('not available').uncheck();
    await expect.poll(() => delivered.locator('.stage-value').textContent()).toContain('km/h');
  });

  test('the keyboard walks, folds, searches and goes into the editor and back', async () => {
    const { page } = bench;
    await tree().focus();
    await page.keyboard.press('Home');
    await page.keyboard.press('ArrowDown');
    const active = async (): Promise<string | null> => {
      const id = await tree().getAttribute('aria-activedescendant');
      return id === null ? null : page.locator(`[id="${id}"]`).getAttribute('data-row');
    };
    expect(await active()).toMatch(/^route:/);
    await page.keyboard.press('ArrowLeft');
    expect(await active()).toBe('group:starting-security');
    await page.keyboard.press('Space');
    await expect.poll(() => row('group:starting-security').getAttribute('aria-expanded')).toBe('false');
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => row('group:starting-security').getAttribute('aria-expanded')).toBe('true');
    await page.keyboard.press('/');
    await page.keyboard.type('park-neutral');
    await page.keyboard.press('Enter');
    await editor('park-neutral').waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('Enter');
    await expect.poll(() => page.evaluate(() => document.activeElement?.closest('.loom-side') !== null)).toBe(true);
    await page.keyboard.press('Escape');
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('role'))).toBe('tree');
  });

  test('a step is edited and the edit undone; what cannot be is refused with the reason', async () => {
    await find('gauge-oil-pressure');
    const smooth = editor('gauge-oil-pressure').locator('[data-step="smooth"]').getByLabel('time constant');
    await smooth.fill('-5');
    await smooth.press('Enter');
    await editor('gauge-oil-pressure').getByText('a time is above zero').waitFor();
    await smooth.fill('250');
    await smooth.press('Enter');
    await bench.page.getByText(/x1 = smooth\(.*250 ms\)/).waitFor();
    await tree().focus();
    await bench.page.keyboard.press('Control+z');
    await bench.page.getByText(/x1 = smooth\(.*400 ms\)/).waitFor();
    expect(await smooth.inputValue()).toBe('400');
  });

  test('a loose end shows why it is a need, and a proposal accepted becomes its strand', async () => {
    await bench.page.getByLabel('Search strands').fill('BrakeData2.YawRate');
    await bench.page.getByLabel('Search strands').press('Enter');
    const panel = bench.page.getByRole('article', { name: 'Need donor:BrakeData2.YawRate' });
    await panel.getByText(/is removed/).waitFor();
    await panel
      .getByText(/same function/)
      .first()
      .waitFor();
    await panel.getByRole('button', { name: 'Accept' }).first().click();
    await expect.poll(() => bench.page.locator('[data-row^="route:"][data-concerned]').count()).toBe(1);
    expect(await bench.page.locator('[data-row="donor:BrakeData2.YawRate"]').count()).toBe(0);
    await bench.page.getByLabel('Search strands').fill('');
    await tree().focus();
    await bench.page.keyboard.press('Control+z');
    await bench.page.getByRole('button', { name: /^unmet 1$/ }).waitFor();
  });

  test.each(LOOKS)('has nothing that axe objects to, in %s', async (look) => {
    await bench.look(look);
    await find('vehicle-speed');
    expect(await bench.axe()).toEqual([]);
    await bench.look('light');
  });

  test('threw nothing', () => {
    expect(bench.errors).toEqual([]);
  });
});

const COPIES = 8;
const suffixed = (ref: string, copy: number): string => ref.replace(/^(host|donor):([^.]+)/, `$1:$2-${copy}`);

/** The sample eight times: messages, wires and routes again under ids with a number behind. */
function eightfold(folder: string): void {
  for (const name of ['halden-ft6.platform.json', 'orrin-32.platform.json'])
    rewrite<Platform>(folder, name, (platform) => ({
      ...platform,
      messages: platform.messages.flatMap((message) =>
        copies(message, (copy) => ({ ...message, id: `${message.id}-${copy}` })),
      ),
      wires: platform.wires.flatMap((wire) => copies(wire, (copy) => ({ ...wire, id: `${wire.id}-${copy}` }))),
    }));
  rewrite<CrossloomMap>(folder, MAP, (map) => ({
    ...map,
    routes: map.routes.flatMap((route) =>
      copies(route, (copy) => ({
        ...route,
        id: `${route.id}-${copy}`,
        from: route.from.map((ref) => suffixed(ref, copy)),
        to: suffixed(route.to, copy),
      })),
    ),
    transmits: map.transmits.flatMap((transmit) =>
      copies(transmit, (copy) => ({ ...transmit, message: suffixed(transmit.message, copy) })),
    ),
  }));
}

function copies<T>(first: T, again: (copy: number) => T): readonly T[] {
  return Array.from({ length: COPIES }, (_, at) => (at === 0 ? first : again(at + 1)));
}

describe('the loom with the sample eight times', () => {
  let bench: TestWorkbench;

  beforeAll(async () => {
    bench = await startWorkbench({ prepare: eightfold });
    await bench.goTo('loom');
    await bench.settled();
  });
  afterAll(() => bench.close());

  /** The longest gap between two frames while something is done, in ms. */
  const longestGap = (work: 'scroll' | 'walk' | 'select'): Promise<number> =>
    bench.page.evaluate(async (what) => {
      const cloth = document.querySelector('.cloth')!;
      const tree = document.querySelector<HTMLElement>('[role="tree"]')!;
      const frame = (): Promise<number> => new Promise((resolve) => requestAnimationFrame(resolve));
      tree.focus({ preventScroll: true });
      await frame();
      let before = await frame();
      let longest = 0;
      for (let turn = 0; turn < 90; turn += 1) {
        if (what === 'scroll') cloth.scrollTop += 90;
        // Walking: a key held down. Selecting: a strand, then a third of a second to look at it.
        else if (what === 'walk' || turn % 20 === 0)
          tree.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowDown', bubbles: true, cancelable: true }));
        const now = await frame();
        longest = Math.max(longest, now - before);
        before = now;
      }
      return longest;
    }, work);
  /** The best of up to eight goes: what else runs on the machine is not the page's doing. */
  const steadyGap = async (work: 'scroll' | 'walk' | 'select'): Promise<number> => {
    const gaps: number[] = [];
    while (gaps.length < 8 && !gaps.some((gap) => gap <= 50)) gaps.push(await longestGap(work));
    console.log(`longest frame while doing ${work}: ${gaps.map((gap) => gap.toFixed(1)).join(', ')} ms`);
    return Math.min(...gaps);
  };

  test('holds more than 1,200 strands, and draws only those near the view', async () => {
    const legend = await bench.page.locator('.legend-count').allTextContents();
    expect(legend.slice(0, 3).reduce((sum, text) => sum + Number(text), 0)).toBeGreaterThan(1200);
    expect(await bench.page.locator('[data-row]').count()).toBeLessThan(200);
  });

  test.each(['scroll', 'walk', 'select'] as const)('has no frame over 50 ms: %s', async (work) => {
    const where = (): Promise<string> =>
      bench.page.evaluate(
        () =>
          `${document.querySelector('.cloth')!.scrollTop} ${document.querySelector('[role="tree"]')!.getAttribute('aria-activedescendant')}`,
      );
    const before = await where();
    expect(await steadyGap(work)).toBeLessThanOrEqual(50);
    expect(await where()).not.toBe(before);
  });
});
