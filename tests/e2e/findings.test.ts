import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CrossloomMap } from '../../src/model/index.ts';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

const MAP = 'ft6-orrin32.map.json';

/** Plants mistakes: routes through the interface module without a loss behaviour, and needs without a route. */
function plant(folder: string): void {
  const path = join(folder, MAP);
  const map = JSON.parse(readFileSync(path, 'utf8')) as CrossloomMap;
  const through = map.routes.filter(({ carrier }) => carrier === 'interface').slice(0, 12);
  const routes = map.routes
    .filter((_route, index) => index % 20 !== 4)
    .map((route) => {
      if (!through.includes(route)) return route;
      const { onLoss: _onLoss, ...rest } = route;
      return rest;
    });
  writeFileSync(path, `${JSON.stringify({ ...map, routes }, null, 2)}\n`);
}

describe('findings and worklist by keyboard', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench({ prepare: plant });
    await workbench.settled();
  });
  afterAll(() => workbench.close());

  const list = () => workbench.page.getByRole('grid', { name: 'Findings' });
  const detail = () => workbench.page.getByRole('article', { name: 'The finding' });
  const openCount = async (): Promise<number> =>
    Number(/\d+/.exec(await workbench.page.getByRole('button', { name: /^Open \d+/ }).innerText())![0]);
  const filter = (text: string): Promise<void> => workbench.page.getByLabel('Filter by text').fill(text);

  it('mends with one key, undoes to the very file, and does it again', async () => {
    const { page } = workbench;
    const file = workbench.read(MAP);
    await workbench.goTo('findings');
    const before = await openCount();
    await filter('time/no-loss-behaviour');
    await list().focus();
    await page.keyboard.press('Home');
    await detail().getByRole('button', { name: /^Mend/ }).waitFor();
    await page.keyboard.press('m');
    await expect.poll(openCount).toBeLessThan(before);
    await page.keyboard.press('Control+z');
    await expect.poll(openCount).toBe(before);
    await page.locator('.dirty').waitFor({ state: 'detached' });
    await page.keyboard.press('Control+Shift+z');
    await expect.poll(openCount).toBeLessThan(before);
    await page.keyboard.press('Control+z');
    expect(workbench.read(MAP)).toBe(file);
  });

  it('mends all of a rule as one change', async () => {
    const { page } = workbench;
    await workbench.settled();
    const before = await openCount();
    const all = page.getByRole('button', { name: /^Mend all \d+/ }).first();
    const offered = Number(/\d+/.exec(await all.innerText())![0]);
    expect(offered).toBeGreaterThan(2);
    await all.click();
    await expect.poll(openCount).toBeLessThanOrEqual(before - offered + 1);
    await page.keyboard.press('Control+z');
    await expect.poll(openCount).toBe(before);
    await page.locator('.dirty').waitFor({ state: 'detached' });
  });

  it('leaves a need out only with a reason', async () => {
    const { page } = workbench;
    await filter('orphan/need-without-route');
    await list().focus();
    await page.keyboard.press('m');
    await page.getByRole('button', { name: 'Leave out', exact: true }).click();
    await page.getByRole('alert').waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await page.locator('.dirty').waitFor({ state: 'detached' });
    expect(await page.getByRole('button', { name: /^Mend all/ }).count()).toBe(0);
  });

  it('goes from a finding to where it is mended, and the worklist shows the same need', async () => {
    const { page } = workbench;
    await list().focus();
    await page.keyboard.press('Home');
    const ref = await detail().locator('dd .mono').first().innerText();
    await page.keyboard.press('Enter');
    await page.locator('main[data-place="worklist"]').waitFor();
    await page.getByRole('article', { name: 'The need' }).getByText(ref, { exact: true }).waitFor();
  });

  it('accepts a proposal, leaves one out with a reason, and takes it back', async () => {
    const { page } = workbench;
    const met = async (): Promise<number> =>
      Number(await page.getByRole('progressbar', { name: 'Needs met' }).getAttribute('aria-valuenow'));
    const before = await met();
    const need = page.getByRole('article', { name: 'The need' });
    const grid = page.getByRole('grid', { name: 'Open needs' });
    await grid.focus();
    await page.keyboard.press('Home');
    const ref = (): Promise<string> => need.locator('dd.mono').first().innerText();
    // Each need is looked at once it is shown and what fits it is worked out.
    for (;;) {
      await need.getByText('Working out what fits').waitFor({ state: 'detached' });
      if ((await need.getByRole('button', { name: /^Accept/ }).count()) > 0) break;
      const here = await ref();
      await page.keyboard.press('j');
      await expect.poll(ref).not.toBe(here);
    }
    await page.keyboard.press('Enter');
    await expect.poll(met).toBe(before + 1);
    await page.keyboard.press('o');
    await page.getByLabel('Reason').fill('not fitted in this chassis');
    await page.getByRole('button', { name: 'Leave out', exact: true }).click();
    await expect.poll(met).toBe(before + 2);
    await page.getByRole('button', { name: /^Left out \d+/ }).click();
    const row = page.getByRole('row').filter({ hasText: 'not fitted in this chassis' });
    await row.getByRole('button', { name: /^Take back/ }).click();
    await expect.poll(met).toBe(before + 1);
    await page.getByRole('button', { name: /^Open \d+/ }).click();
  });

  it.each(LOOKS)('both, and the sheet of a waiver, are clean for axe in %s', async (look) => {
    const { page } = workbench;
    await workbench.look(look);
    expect(await workbench.axe(), 'worklist').toEqual([]);
    await workbench.goTo('findings');
    await filter('');
    expect(await workbench.axe(), 'findings').toEqual([]);
    await list().focus();
    await page.keyboard.press('w');
    await page.getByRole('dialog').waitFor();
    expect(await workbench.axe('[role=dialog]'), 'waive').toEqual([]);
    await page.keyboard.press('Escape');
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: /^Waivers \d+/ }).click();
    expect(await workbench.axe(), 'waivers').toEqual([]);
    await page.getByRole('button', { name: /^Open \d+/ }).click();
    await workbench.goTo('worklist');
    expect(workbench.errors).toEqual([]);
  });
});
