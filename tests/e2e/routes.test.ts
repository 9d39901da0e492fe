import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CrossloomMap } from '../../src/model/index.ts';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

describe('Routes', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench();
    await workbench.goTo('routes');
  });
  afterAll(() => workbench.close());

  const grid = () => workbench.page.getByRole('grid', { name: 'Routes' });
  const saved = (): CrossloomMap => JSON.parse(workbench.read('ft6-orrin32.map.json')) as CrossloomMap;

  it('filters, edits a cell by keyboard, undoes, and saves', async () => {
    const { page } = workbench;
    await page.getByRole('searchbox', { name: 'Filter the routes' }).fill('engine-speed');
    const first = page.locator('.routes-row').first();
    await first.waitFor();
    const id = await first.locator('[role=gridcell]').nth(2).innerText();
    await first.locator('[role=gridcell]').nth(3).click();
    await page.keyboard.press('Enter');
    await page.keyboard.press('Control+a');
    await page.keyboard.type('Engine speed for the cluster');
    await page.keyboard.press('Enter');
    await page.getByText('Engine speed for the cluster').first().waitFor();
    await page.keyboard.press('Control+s');
    await page.getByText(/^Saved/).waitFor();
    expect(saved().routes.find((route) => route.id === id)?.title).toBe('Engine speed for the cluster');
    await grid().focus();
    await page.keyboard.press('Control+z');
    await page.getByText('not saved').waitFor();
  });

  it('sets a value of many routes as one change', async () => {
    const { page } = workbench;
    await page.getByRole('searchbox', { name: 'Filter the routes' }).fill('interface');
    await grid().focus();
    await page.keyboard.press('Control+a');
    await page.locator('.multi-edit select').first().selectOption('recoverAfter');
    await page.locator('.multi-edit input').fill('3');
    await page.getByRole('button', { name: /^Apply to \d+/ }).click();
    await page.keyboard.press('Control+s');
    await page
      .getByText(/^Saved/)
      .last()
      .waitFor();
    const values = (): unknown => [
      ...new Set(
        saved()
          .routes.filter(({ carrier }) => carrier === 'interface')
          .map(({ recoverAfter }) => recoverAfter),
      ),
    ];
    await expect.poll(values).toEqual([3]);
  });

  it('takes rows from a spreadsheet and names what is wrong with them', async () => {
    const { page } = workbench;
    const [route] = saved().routes;
    const text = `Route\tNote\tStale after, ms\n${route!.id}\tfrom the spreadsheet\t123\nno-such\tx\t1\n`;
    await grid().focus();
    await grid().evaluate((element, pasted) => {
      const data = new DataTransfer();
      data.setData('text/plain', pasted);
      element.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));
    }, text);
    await page.getByText(/Pasted: 1 changed, 0 added, 1 cells left out/).waitFor();
    await page.keyboard.press('Control+s');
    await page
      .getByText(/^Saved/)
      .last()
      .waitFor();
    await expect
      .poll(() => saved().routes.find(({ id }) => id === route!.id))
      .toMatchObject({
        note: 'from the spreadsheet',
        staleAfterMs: 123,
      });
  });

  it.each(LOOKS)('is clean for axe in %s', async (look) => {
    await workbench.look(look);
    expect(await workbench.axe()).toEqual([]);
    expect(workbench.errors).toEqual([]);
  });
});

describe('Routes with 5,000 rows', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench({
      prepare: (folder) => {
        const path = join(folder, 'ft6-orrin32.map.json');
        const map = JSON.parse(readFileSync(path, 'utf8')) as CrossloomMap;
        const routes = Array.from({ length: 5000 }, (_, at) => ({
          ...map.routes[at % map.routes.length]!,
          id: `r${at}`,
        }));
        writeFileSync(path, JSON.stringify({ ...map, routes }));
      },
    });
    await workbench.goTo('routes');
  });
  afterAll(() => workbench.close());

  it('scrolls smoothly and draws only what is seen', async () => {
    const { page } = workbench;
    await workbench.settled();
    await page.locator('.routes-row').first().waitFor();
    expect(await page.locator('.routes-row').count()).toBeLessThan(120);
    const scroll = (): Promise<number[]> =>
      page.locator('.routes-grid').evaluate(async (element) => {
        const gaps: number[] = [];
        let last = performance.now();
        for (let step = 0; step < 120; step += 1) {
          element.scrollTop += 400;
          await new Promise(requestAnimationFrame);
          const now = performance.now();
          gaps.push(now - last);
          last = now;
        }
        element.scrollTop = 0;
        return gaps.sort((a, b) => a - b);
      });
    // Frame times of a shared machine say little one by one: the usual frame is ours, the slowest may be its own.
    const goes = [await scroll(), await scroll(), await scroll()];
    const usual = goes.map((gaps) => gaps[gaps.length >> 1]!);
    expect(Math.min(...usual), `usual frame ${usual.map((gap) => gap.toFixed(0)).join(', ')} ms`).toBeLessThan(50);
    expect(await page.locator('.routes-row').count()).toBeLessThan(120);
  });
});
