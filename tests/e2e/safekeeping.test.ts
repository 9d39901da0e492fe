import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CrossloomMap } from '../../src/model/index.ts';
import { startWorkbench, type TestWorkbench } from './harness.ts';

const MAP = 'ft6-orrin32.map.json';

describe('nothing is lost', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench();
    await workbench.settled();
    await workbench.goTo('routes');
  });
  afterAll(() => workbench.close());

  const saved = (): CrossloomMap => JSON.parse(workbench.read(MAP)) as CrossloomMap;
  const heading = () => workbench.page.getByRole('heading', { level: 1 });

  /** Types a text into a cell of the routes table: row and column count from 0. */
  const type = async (row: number, column: number, text: string): Promise<void> => {
    const { page } = workbench;
    await page
      .locator('.routes-row')
      .nth(row)
      .locator('[role=gridcell]')
      .nth(column + 2)
      .dblclick();
    await page.keyboard.press('Control+a');
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  };
  const save = async (): Promise<void> => {
    await workbench.page.keyboard.press('Control+s');
    await workbench.page.locator('.dirty').waitFor({ state: 'detached' });
  };

  it('recovers unsaved work after a crash, as one change over what is on disk', async () => {
    const before = workbench.read(MAP);
    await type(0, 1, 'Typed before the crash');
    await workbench.page.locator('.dirty').waitFor();
    await workbench.page.waitForTimeout(4000);
    await workbench.crash();
    await workbench.reopen();
    const { page } = workbench;
    await page.getByRole('button', { name: 'Recover it' }).click();
    await page.locator('.dirty').waitFor();
    expect(workbench.read(MAP)).toBe(before);
    await save();
    expect(saved().routes.some(({ title }) => title === 'Typed before the crash')).toBe(true);
    await workbench.reopen();
    expect(await workbench.page.getByRole('button', { name: 'Recover it' }).count()).toBe(0);
  });

  it('shows a file changed outside at once when nothing is unsaved', async () => {
    await workbench.settled();
    workbench.write(MAP, JSON.stringify({ ...saved(), title: 'Renamed outside' }));
    await heading().getByText('Renamed outside').waitFor();
  });

  it('merges a file changed outside with unsaved work, by meaning', async () => {
    await workbench.goTo('routes');
    await type(1, 1, 'Mine');
    await workbench.page.locator('.dirty').waitFor();
    workbench.write(MAP, JSON.stringify({ ...saved(), title: 'Theirs' }));
    await heading().getByText('Theirs').waitFor();
    await save();
    expect(saved().title).toBe('Theirs');
    expect(saved().routes.some(({ title }) => title === 'Mine')).toBe(true);
  });

  it('asks where both changed the same, and loses neither without an answer', async () => {
    const { page } = workbench;
    await type(2, 1, 'My title');
    const id = await page.locator('.routes-row').nth(2).locator('[role=gridcell]').nth(2).innerText();
    const theirs = {
      ...saved(),
      routes: saved().routes.map((route) => (route.id === id ? { ...route, title: 'Their title' } : route)),
    };
    workbench.write(MAP, JSON.stringify(theirs));
    await page.getByText(new RegExp(`both changed: routes\\[${id}\\]\\.title`)).waitFor();
    await page.getByRole('button', { name: 'Merge, mine in these places' }).click();
    await save();
    expect(saved().routes.find((route) => route.id === id)?.title).toBe('My title');
  });

  it('undoes 200 mixed edits back to the identical file', async () => {
    const { page } = workbench;
    const before = workbench.read(MAP);
    const columns = [1, 8, 9, 12];
    for (let n = 0; n < 200; n += 1) {
      const column = columns[n % columns.length]!;
      await type(n % 12, column, column === 1 || column === 12 ? `edit ${n}` : String(20 + n));
    }
    await save();
    expect(workbench.read(MAP)).not.toBe(before);
    await page.getByRole('grid', { name: 'Routes' }).focus();
    for (let n = 0; n < 200; n += 1) await page.keyboard.press('Control+z');
    await save();
    expect(workbench.read(MAP)).toBe(before);
    expect(workbench.errors).toEqual([]);
  });
});
