import { readFileSync } from 'node:fs';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

describe('Hand-over', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench();
    await workbench.settled();
    await workbench.goTo('hand-over');
  });
  afterAll(() => workbench.close());

  const frame = () => workbench.page.frameLocator('iframe.preview');

  it('previews both specs with revision, digest and the cautions', async () => {
    await frame()
      .getByRole('heading', { level: 1, name: /Wiring spec/ })
      .waitFor();
    await frame().getByText('Planning aid only').first().waitFor();
    await workbench.page.getByRole('button', { name: /Translation spec/ }).click();
    await frame()
      .getByRole('heading', { level: 1, name: /Translation spec/ })
      .waitFor();
  });

  it('gives out the PDF of both specs', async () => {
    const { page } = workbench;
    for (const name of [/^Wiring spec/, /^Translation spec/]) {
      await page.getByRole('button', { name }).click();
      const [download] = await Promise.all([
        page.waitForEvent('download', { timeout: 60_000 }),
        page.getByRole('button', { name: 'PDF', exact: true }).click(),
      ]);
      expect(download.suggestedFilename()).toMatch(/^ft6-orrin32-(wiring|translation)\.pdf$/);
      expect(
        readFileSync(await download.path())
          .subarray(0, 5)
          .toString(),
      ).toBe('%PDF-');
    }
  });

  it('shows how far a document is and calls it off: nothing is given out', async () => {
    const slow = await startWorkbench({ renderPauseMs: 500 });
    const { page } = slow;
    await slow.settled();
    await slow.goTo('hand-over');
    let downloads = 0;
    page.on('download', () => (downloads += 1));
    await page.getByRole('button', { name: 'PDF', exact: true }).click();
    await page.getByRole('progressbar', { name: 'Wiring spec, PDF' }).waitFor();
    await page.getByText(/Wiring spec, PDF: section \d+ of \d+/).waitFor();
    expect(await slow.axe('.hand-over-side')).toEqual([]);
    await page.getByRole('button', { name: 'Cancel', exact: true }).click();
    await page.getByText('Wiring spec, PDF: cancelled, nothing was written').waitFor();
    await page.locator('.under-way').waitFor({ state: 'detached' });
    expect(downloads).toBe(0);
    await slow.close();
  });

  it('gives out the DBC of each bus the interface module sends on', async () => {
    const { page } = workbench;
    await page.getByRole('button', { name: /^DBC of what/ }).click();
    await page.locator('.text-preview pre').first().waitFor();
    expect(await page.locator('.text-preview pre').count()).toBe(3);
  });

  it('gives out the firmware as an archive, and shows what is in it', async () => {
    const { page } = workbench;
    await page.getByRole('button', { name: /^Firmware of/ }).click();
    await page.getByRole('heading', { level: 2, name: 'xm/xm.h' }).waitFor();
    await page.getByText('void xm_on_frame(').first().waitFor();
    const [download] = await Promise.all([
      page.waitForEvent('download', { timeout: 60_000 }),
      page.getByRole('button', { name: 'C source', exact: true }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('ft6-orrin32-firmware.zip');
    const names = Object.keys(unzipSync(readFileSync(await download.path())));
    expect(names).toEqual(expect.arrayContaining(['xm/xm.c', 'xm/xm_host.c', 'xm/xm_donor.c', 'xm/xlc_core.c']));
  });

  it('says what stands in the way, on the page and in every document', async () => {
    const faulty = await startWorkbench({ opens: 'faulty/review-me.map.json' });
    await faulty.settled();
    await faulty.goTo('hand-over');
    await faulty.page.getByText(/every page carries “NOT FOR BUILD”/).waitFor();
    await faulty.page.frameLocator('iframe.preview').getByText('NOT FOR BUILD').first().waitFor();
    await faulty.close();
  });

  it.each(LOOKS)('is clean for axe in %s', async (look) => {
    await workbench.look(look);
    expect(await workbench.axe('.hand-over-side')).toEqual([]);
    expect(workbench.errors).toEqual([]);
  });
});
