import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CrossloomMap, Platform } from '../../src/model/index.ts';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

describe('Platforms', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench();
    await workbench.goTo('platforms');
  });
  afterAll(() => workbench.close());

  const tab = (name: RegExp) => workbench.page.getByRole('tab', { name });
  const platform = (): Platform => JSON.parse(workbench.read('halden-ft6.platform.json')) as Platform;
  const save = async (): Promise<void> => {
    await workbench.page.keyboard.press('Control+s');
    await workbench.page.locator('.dirty').waitFor({ state: 'detached' });
  };

  it('shows every part of the sample', async () => {
    const { page } = workbench;
    for (const [name, rows] of [
      [/^Modules/, 12],
      [/^Wires/, 40],
      [/^Feeds/, 10],
    ] as const) {
      await tab(name).click();
      expect(await page.locator('.grid-table tbody tr').count()).toBeGreaterThanOrEqual(rows);
    }
    await tab(/^Connectors/).click();
    expect(await page.locator('.pick-list li').count()).toBeGreaterThanOrEqual(15);
    await tab(/^Messages/).click();
    expect(await page.locator('.pick-list li').count()).toBeGreaterThanOrEqual(45);
  });

  it('marks a fate and shows the needs it makes', async () => {
    const { page } = workbench;
    await tab(/^Modules/).click();
    const { fates } = JSON.parse(workbench.read('ft6-orrin32.map.json')) as CrossloomMap;
    const kept = platform().modules.find(
      ({ id, kind }) => (kind ?? 'controller') === 'controller' && !(`host:${id}` in fates),
    )!;
    const before = await page.locator('.status-bar').innerText();
    await page.getByLabel(`Fate of ${kept.title}`, { exact: true }).selectOption('removed');
    await expect.poll(() => page.locator('.status-bar').innerText()).not.toBe(before);
    await page.keyboard.press('Escape');
    await page.locator('.place').focus();
    await page.keyboard.press('Control+z');
    await page.locator('.dirty').waitFor({ state: 'detached' });
  });

  it('moves and lengthens a field by keyboard, moves it by mouse, and undoes to the byte', async () => {
    const { page } = workbench;
    const text = workbench.read('halden-ft6.platform.json');
    await tab(/^Messages/).click();
    await page.locator('.pick-list button').first().click();
    const grid = page.locator('.bit-grid');
    await grid.focus();
    await page.keyboard.press('Enter');
    const bitsNow = async (): Promise<string> =>
      (await page.locator('.grid-table tr[data-current=true] td').first().innerText()).trim();
    const first = await bitsNow();
    await page.keyboard.press('Shift+ArrowRight');
    await expect.poll(bitsNow).not.toBe(first);
    const shorter = await bitsNow();
    const chosen = page.locator('.bit[data-chosen=true]');
    const from = (await chosen.first().boundingBox())!;
    const cell = { width: from.width, height: from.height };
    await page.mouse.move(from.x + cell.width / 2, from.y + cell.height / 2);
    await page.mouse.down();
    await page.mouse.move(from.x + cell.width / 2, from.y + cell.height * 2.5, { steps: 6 });
    await page.mouse.up();
    await expect.poll(bitsNow).not.toBe(shorter);
    await save();
    expect(workbench.read('halden-ft6.platform.json')).not.toBe(text);
    await grid.focus();
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await expect.poll(bitsNow).toBe(first);
    await save();
    expect(workbench.read('halden-ft6.platform.json')).toBe(text);
  });

  it('previews a DBC file, takes it over, and keeps what people added', async () => {
    const { page } = workbench;
    const edited = workbench
      .read('dbc/chassis-can.dbc')
      .replace(/SG_ (\w+) : (\d+)\|(\d+)@(\d)([+-]) \(([^,]+),/, 'SG_ $1 : $2|$3@$4$5 (0.125,');
    workbench.write('dbc/chassis-can.dbc', edited);
    await tab(/^Import/).click();
    await page.getByLabel('Into the bus').fill('chassis-can');
    await page.getByRole('button', { name: 'Choose a DBC file…' }).click();
    await page.getByRole('button', { name: /^dbc\// }).click();
    await page.getByRole('button', { name: /chassis-can\.dbc/ }).click();
    await page
      .getByRole('region', { name: 'What the import changes' })
      .or(page.locator('section[aria-label="What the import changes"]'))
      .first()
      .waitFor();
    await page.getByText(/factor: .* → 0\.125/).waitFor();
    const before = platform();
    await page.getByRole('button', { name: 'Take it over' }).click();
    await save();
    const after = platform();
    const functions = (of: Platform): string[] =>
      of.messages.flatMap(({ signals }) => signals.map((signal) => signal.function ?? '')).filter(Boolean);
    expect(functions(after)).toEqual(functions(before));
    expect(JSON.stringify(after)).toContain('0.125');
    expect(after.imports?.some(({ file }) => file === 'chassis-can.dbc')).toBe(true);
  });

  it.each(LOOKS)('is clean for axe in %s', async (look) => {
    await workbench.look(look);
    for (const name of [/^Modules/, /^Messages/, /^Connectors/]) {
      await tab(name).click();
      expect(await workbench.axe()).toEqual([]);
    }
    expect(workbench.errors).toEqual([]);
  });
});
