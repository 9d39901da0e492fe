import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

/** Whoever supports a family of vehicles asks what differs between two of them. */
describe('the builds of a map', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench({ opens: 'family.map.json' });
    await workbench.settled();
    await workbench.goTo('review');
    await workbench.page
      .getByRole('group', { name: 'What is shown' })
      .getByRole('button', { name: 'Builds', exact: true })
      .click();
  });
  afterAll(() => workbench.close());

  it('stand in one table, every combination once, with what is found in each', async () => {
    const { page } = workbench;
    await page.getByRole('heading', { name: '64 builds' }).waitFor();
    const rows = page.locator('.builds-matrix tbody tr');
    expect(await rows.count()).toBe(64);
    const names = await page
      .getByRole('radio', { name: /^First: / })
      .evaluateAll((list) => list.map((radio) => radio.getAttribute('aria-label')));
    expect(new Set(names).size).toBe(64);
  });

  it('are compared two at a time, and lead to what differs', async () => {
    const { page } = workbench;
    const first = page.getByRole('radio', { name: /^First: drivetrain=2wd, year=2021/ }).first();
    const name = (await first.getAttribute('aria-label'))!.replace('First: ', '');
    await first.check();
    await page.getByRole('radio', { name: `Second: ${name.replace('2wd', '4wd')}`, exact: true }).check();
    const between = page.getByRole('region', { name: 'What differs between the two' });
    const route = between.getByRole('button', { name: 'route:transfer-range', exact: true });
    await route.waitFor();
    expect(await between.innerText()).not.toMatch(/^first\t/m);
    await route.click();
    await page.locator('main[data-place="loom"]').waitFor();
    await workbench.goTo('review');
  });

  it.each(LOOKS)('are clean for axe in %s', async (look) => {
    await workbench.look(look);
    expect(await workbench.axe()).toEqual([]);
    expect(workbench.errors).toEqual([]);
  });
});
