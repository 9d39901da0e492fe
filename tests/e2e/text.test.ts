import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CrossloomMap } from '../../src/model/index.ts';
import { startWorkbench, type TestWorkbench } from './harness.ts';

describe('Text', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench({ opens: 'faulty/review-me.map.json' });
    await workbench.settled();
    await workbench.goTo('text');
    await workbench.page.locator('.monaco-editor .view-line').first().waitFor();
  });
  afterAll(() => workbench.close());

  /** Puts the cursor behind the first place where `text` stands, by the editor's own find. */
  const findText = async (text: string): Promise<void> => {
    const { page } = workbench;
    await page.locator('.monaco-editor .view-lines').first().click();
    await page.keyboard.press('Control+f');
    await page.keyboard.press('Control+a');
    await page.keyboard.type(text);
    await page.waitForTimeout(300);
    await page.keyboard.press('Escape');
    await page.keyboard.press('ArrowRight');
  };

  it('marks the findings at their places', async () => {
    await findText('"id": "vehicle-speed"');
    await workbench.page.locator('.squiggly-error, .squiggly-warning, .squiggly-info').first().waitFor();
  });

  it('takes valid text into the pairing, and undo brings it back into the text', async () => {
    const { page } = workbench;
    await findText('"revision": "D');
    await page.keyboard.type('2');
    await page.getByRole('heading', { level: 1 }).getByText('revision D2').waitFor();
    await page.locator('.place-button[data-place="text"]').focus();
    await page.keyboard.press('Control+z');
    await page.getByRole('heading', { level: 1 }).getByText('revision D', { exact: true }).waitFor();
    await expect.poll(() => page.locator('.view-lines').innerText()).toContain('"D"');
  });

  it('never loses invalid text: it is kept, marked, and the pairing stays as it was', async () => {
    const { page } = workbench;
    await findText('"revision": "D');
    await page.keyboard.type('"3');
    await page.getByText('This text is not a valid document').waitFor();
    await workbench.goTo('routes');
    await workbench.goTo('text');
    await page.getByText('This text is not a valid document').waitFor();
    await page.getByRole('button', { name: 'Put the document back' }).click();
    await page.getByText('Valid text changes the pairing at once').waitFor();
    expect((JSON.parse(workbench.read('faulty/review-me.map.json')) as CrossloomMap).revision).toBe('D');
  });

  it('explains a function of the catalogue where it stands', async () => {
    const { page } = workbench;
    await findText('"function": "vehicle-speed');
    const word = page.locator('.view-line').getByText('vehicle-speed').first();
    await word.hover();
    await page.locator('.monaco-hover').getByText('regulated-display').first().waitFor();
  });

  it('is clean for axe around the editor', async () => {
    expect(await workbench.axe('.text-bar')).toEqual([]);
    expect(workbench.errors).toEqual([]);
  });
});
