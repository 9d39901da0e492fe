import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startWorkbench, type TestWorkbench } from './harness.ts';

let workbench: TestWorkbench;
beforeAll(async () => {
  workbench = await startWorkbench();
});
afterAll(() => workbench.close());

describe('the window', () => {
  it('opens the sample and checks it', async () => {
    await workbench.settled();
    await expect.poll(() => workbench.page.title()).toContain('Crossloom');
    expect(await workbench.page.locator('.status-bar').innerText()).toMatch(/\d+ of \d+ needs met/);
    expect(workbench.errors).toEqual([]);
  });
});
