import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { check } from '../../src/checks/index.ts';
import { pair, readMap, readPlatform, type Pairing } from '../../src/model/index.ts';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

/** The integrator's use: a new pairing from two DBC files, fates, proposals, a first look at the checks, saved. */
describe('a new pairing from two DBC files', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench({ opens: null });
  });
  afterAll(() => workbench.close());

  const side = (name: 'host' | 'donor') => workbench.page.locator(`.side-card[data-side="${name}"]`);

  /** Chooses a file of the folder dbc in the page's own dialog. */
  const readDbc = async (name: 'host' | 'donor', file: RegExp): Promise<void> => {
    const { page } = workbench;
    await side(name)
      .getByRole('button', { name: /DBC file…/ })
      .click();
    await page.getByRole('button', { name: /^dbc\// }).click();
    await page.getByRole('button', { name: file }).click();
    await side(name).locator('.source').first().waitFor();
  };

  it('reads both files and shows what is in them', async () => {
    const { page } = workbench;
    await page.getByRole('button', { name: /^New pairing/ }).click();
    await readDbc('host', /chassis-can\.dbc/);
    await readDbc('donor', /powertrain-can\.dbc/);
    expect(await side('host').locator('.source-head').innerText()).toMatch(/\d+ messages, \d+ signals/);
  });

  it('shows needs as fates are marked', async () => {
    const { page } = workbench;
    await page
      .getByRole('radiogroup', { name: /^Fate of Engine control module/ })
      .first()
      .getByText('removed')
      .click();
    await expect.poll(() => page.locator('.needs-column').innerText()).toMatch(/[1-9]\d* /);
  });

  it('saves three valid files, accepts proposals, and saves again', async () => {
    const { page } = workbench;
    await page.getByLabel('Title', { exact: true }).fill('Test pairing');
    await page.getByRole('button', { name: 'Save the pairing…' }).click();
    await page.getByRole('textbox', { name: 'File name' }).fill('test-pairing.map.json');
    await page.getByRole('button', { name: 'Save', exact: true }).last().click();
    await page.getByRole('heading', { level: 1 }).getByText('Test pairing').waitFor();
    const before = load();
    expect(before.map.routes).toHaveLength(0);
    await workbench.goTo('worklist');
    // Signals of a bare DBC file have no function yet, so proposals rest on unit, name and rate and score less.
    await page.locator('.accept-bar input').fill('36');
    await page.getByRole('button', { name: /^Accept [1-9]\d*$/ }).click();
    await expect.poll(() => page.locator('.status-bar').innerText()).not.toMatch(/^0 of/);
    await workbench.settled();
    await page.keyboard.press('Control+s');
    await page.locator('.dirty').waitFor({ state: 'detached' });
    const after = load();
    expect(after.map.routes.length).toBeGreaterThan(3);
    expect(check(after).findings.length).toBeGreaterThan(0);
  });

  it('fixes what the checks offer a mend for', async () => {
    const { page } = workbench;
    await workbench.goTo('findings');
    const openCount = async (): Promise<number> =>
      Number(/\d+/.exec(await page.getByRole('button', { name: /^Open \d+/ }).innerText())?.[0] ?? '0');
    const before = await openCount();
    const listed = (): Promise<string> => page.locator('.row-list').innerText();
    const textBefore = await listed();
    const mendAll = page.getByRole('button', { name: /^Mend all/ }).first();
    if ((await mendAll.count()) > 0) await mendAll.click();
    else {
      await page.getByRole('grid', { name: 'Findings' }).focus();
      for (
        let n = 0;
        n < before && (await page.getByRole('article').getByRole('button', { name: /^Mend/ }).count()) === 0;
        n += 1
      ) {
        await page.keyboard.press('j');
      }
      await page.keyboard.press('m');
    }
    // A mend may bring to light what it hid, so the list changes though its length may not.
    await expect.poll(listed).not.toBe(textBefore);
    await page.keyboard.press('Control+s');
    await page.locator('.dirty').waitFor({ state: 'detached' });
    load();
    expect(workbench.errors).toEqual([]);
  });

  it.each(LOOKS)('Start and Worklist are clean for axe in %s', async (look) => {
    await workbench.look(look);
    for (const place of ['start', 'worklist', 'findings'] as const) {
      await workbench.goTo(place);
      expect(await workbench.axe(), place).toEqual([]);
    }
  });

  /** The pairing as it lies on disk; every file must be valid. */
  function load(): Pairing {
    const read = (path: string): string => readFileSync(join(workbench.folder, path), 'utf8');
    const map = readMap(read('test-pairing.map.json'));
    if (!map.ok) throw new Error(map.faults[0]!.message);
    const [host, donor] = [map.document.host.platform, map.document.donor.platform].map((path) =>
      readPlatform(read(path)),
    );
    if (!host!.ok || !donor!.ok) throw new Error('a platform is not valid');
    return pair(map.document, host!.document, donor!.document);
  }
});
