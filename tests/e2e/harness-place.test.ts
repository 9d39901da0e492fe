import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Locator } from 'playwright-core';
import type { CrossloomMap } from '../../src/model/index.ts';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

const MAP = 'ft6-orrin32.map.json';

describe('the harness', () => {
  let bench: TestWorkbench;

  beforeAll(async () => {
    bench = await startWorkbench();
    await bench.goTo('harness');
    await bench.settled();
    await planned();
  });
  afterAll(() => bench.close());

  const planned = (): Promise<void> => bench.page.locator('.harness[data-planned="current"]').waitFor();
  const row = (id: string): Locator => bench.page.locator(`.circuit-row[data-circuit="${id}"]`);
  const detail = (id: string): Locator => bench.page.getByRole('article', { name: `Circuit ${id}` });
  const result = (id: string, name: string): Locator => detail(id).locator(`[data-result="${name}"]`);
  const tab = (name: string): Promise<void> => bench.page.locator(`#harness-tab-${name}`).click();
  /** Selects a circuit in the table. */
  const choose = async (id: string): Promise<void> => {
    await tab('circuits');
    const filter = bench.page.getByLabel('Filter the circuits');
    await filter.fill(id);
    await row(id).click();
    await filter.fill('');
    await detail(id).waitFor();
  };
  const trace = async (id: string): Promise<readonly string[]> =>
    detail(id).locator('section[aria-label="End to end"] ol').first().locator('> li .trace-main').allTextContents();
  const volt = async (id: string): Promise<number> =>
    parseFloat((await result(id, 'drop').locator('strong').textContent())!.replace(' V', ''));

  test('a circuit chosen in the table is traced from connector to connector', async () => {
    await choose('104');
    const steps = await trace('104');
    expect(steps).toHaveLength(3);
    expect(steps[0]).toMatch(/^host:X2 cavity 1/);
    expect(steps[1]).toMatch(/^104.*WH.*6 mm².*1\.3 m/);
    expect(steps[2]).toMatch(/^donor:Y3 cavity 1/);
    // The drawing shows the same: every segment of the way, and the cavity at both ends.
    const ways = bench.page.locator('.harness-drawing [data-way]');
    await expect.poll(() => ways.count()).toBe(3);
    expect(await bench.page.locator('[data-subject="node:nX2"] .node-cavity').textContent()).toBe('1');
    expect(await bench.page.locator('[data-subject="node:nY3"] .node-cavity').textContent()).toBe('1');
    expect(await bench.page.locator('.status-bar').textContent()).toContain('circuit:104');
  });

  test('a circuit through a splice shows the stub, the splice and what else is joined', async () => {
    await choose('114');
    const steps = await trace('114');
    expect(steps.map((text) => text.split(/[ \s]/)[0])).toEqual(['host:X1', '113', 'splice', '114', 'donor:Y5']);
    await detail('114').getByText('Also in its splices').waitFor();
    await detail('114').getByRole('button', { name: '115' }).click();
    await detail('115').waitFor();
    expect((await trace('115')).at(-1)).toMatch(/^donor:Y6 cavity 1/);
  });

  test('from the drawing: a connector shows its face, a cavity its circuit, the trace the other connector', async () => {
    const { page } = bench;
    await page.locator('[data-subject="node:nY3"] .node-sign').click();
    const face = page.getByRole('group', { name: 'Face of donor:Y3' });
    await face.waitFor();
    await page.getByText('Seen from the wire side').waitFor();
    const cavity = face.getByRole('button', { name: /^Cavity 1: circuit 104, WH, 6mm2, to host:X2-1/ });
    await cavity.click();
    await detail('104').waitFor();
    expect(await cavity.getAttribute('aria-current')).toBe('true');
    await detail('104').getByRole('button', { name: 'host:X2' }).click();
    const other = page.getByRole('group', { name: 'Face of host:X2' });
    await other.waitFor();
    expect(await other.locator('[aria-current="true"]').getAttribute('data-cavity')).toBe('1');
    // Empty and occupied cavities are told apart in words.
    await other.getByRole('button', { name: 'Cavity 3: empty, to be plugged' }).waitFor();
  });

  test('from the drawing: a segment lists what runs in it', async () => {
    const { page } = bench;
    await page.locator('[data-subject="segment:s-nX4-b1"] .segment-hit').click({ force: true });
    const segment = page.getByRole('article', { name: 'Segment s-nX4-b1' });
    await segment.getByText('Runs in it: 6 circuits').waitFor();
    await segment.locator('button[data-circuit="110"]').click();
    await detail('110').waitFor();
  });

  test('the drop follows size, length and current, by the formula and the published resistance', async () => {
    await choose('104');
    const form = detail('104');
    // 12 A, 1.30 m, zone of 110 °C. Resistance of 6 mm²: 3.14 mΩ/m at 20 °C (ISO 6722-1, in the reference beside the
    // project); of copper at a temperature: R(T) = R20 (234.5 + T)/254.5 (FAA AC 43.13-1B para 11-66).
    const drop = (milliohmPerM: number, lengthM: number, ampere: number, celsius: number): number =>
      (milliohmPerM / 1000) * lengthM * ampere * ((234.5 + celsius) / 254.5);
    expect(await volt('104')).toBeCloseTo(drop(3.14, 1.3, 12, 110), 3);
    await form.getByLabel('Size', { exact: true }).selectOption('2.5mm2');
    // 2.5 mm²: 7.60 mΩ/m, from the same table.
    await expect.poll(() => volt('104')).toBeCloseTo(drop(7.6, 1.3, 12, 110), 3);
    await form.getByLabel('Length').fill('2,6');
    await form.getByLabel('Current').fill('10');
    await form.getByLabel('Ambient').fill('95');
    await expect.poll(() => volt('104')).toBeCloseTo(drop(7.6, 2.6, 10, 95), 3);
    await expect.poll(() => result('104', 'drop').textContent()).toContain('was 0.066 V');
    // The starter's coil may lose 0.5 V: 40 A through this would lose more, and the smallest size is named with its reason.
    await form.getByLabel('Current').fill('40');
    await expect.poll(() => result('104', 'drop').textContent()).toContain('over the limit');
    await expect.poll(() => result('104', 'minimum').textContent()).toContain('falls short by');
    await form.getByLabel('Current').fill('lots');
    await form.getByText('write a number of amperes from 0 to 1000').waitFor();
    expect(await form.getByRole('button', { name: 'Apply' }).isDisabled()).toBe(true);
    await form.getByRole('button', { name: 'As planned' }).click();
    await expect.poll(() => volt('104')).toBeCloseTo(drop(3.14, 1.3, 12, 110), 3);
  });

  test('what is applied stands in the map, shows in the table, and is undone', async () => {
    await choose('104');
    const form = detail('104');
    await form.getByLabel('Size', { exact: true }).selectOption('4mm2');
    await form.getByText('Writes size 4 mm².').waitFor();
    await form.getByRole('button', { name: 'Apply' }).click();
    await planned();
    await expect.poll(() => row('104').locator('[data-column="size"]').textContent()).toBe('4 mm²');
    await bench.page.getByRole('button', { name: 'Save', exact: true }).click();
    await expect
      .poll(() => {
        const map = JSON.parse(bench.read(MAP)) as CrossloomMap;
        return map.harness!.circuits.find(({ id }) => id === '104')!.conductor!.size;
      })
      .toBe('4mm2');
    await bench.page.getByRole('button', { name: 'Undo' }).click();
    await planned();
    await expect.poll(() => row('104').locator('[data-column="size"]').textContent()).toBe('6 mm²');
  });

  test('a segment made longer lengthens what runs in it', async () => {
    const { page } = bench;
    await tab('segments');
    await page.getByRole('table', { name: 'Segments' }).getByRole('button', { name: 's-b1-b2' }).click();
    const segment = page.getByRole('article', { name: 'Segment s-b1-b2' });
    await segment.getByLabel('Length').fill('0.95');
    await segment.getByLabel('Length').press('Enter');
    await planned();
    await tab('circuits');
    await expect.poll(() => row('104').locator('[data-column="length"]').textContent()).toBe('1.80');
    await page.locator('.circuit-table').focus();
    await page.keyboard.press('Control+z');
    await expect.poll(() => row('104').locator('[data-column="length"]').textContent()).toBe('1.30');
  });

  test('a splice is placed by hand in a segment, and given back to the tool', async () => {
    const { page } = bench;
    await tab('splices');
    await page.getByRole('table', { name: 'Splices' }).getByRole('button', { name: 'S/host:X1-41' }).click();
    const splice = page.getByRole('article', { name: 'Splice S/host:X1-41' });
    await splice.getByText(/placed by the tool/).waitFor();
    await splice.getByLabel('In segment').selectOption('s-b5-nY5');
    await splice.getByLabel(/^from b5/).fill('0.3');
    await splice.getByRole('button', { name: 'Place by hand' }).click();
    await splice.getByText(/At sp1, placed by hand/).waitFor();
    await planned();
    await tab('circuits');
    // The stub now runs on 0.3 m from b5, the leg to the lever is so much shorter.
    await expect.poll(() => row('113').locator('[data-column="length"]').textContent()).toBe('0.85');
    await expect.poll(() => row('114').locator('[data-column="length"]').textContent()).toBe('0.40');
    await splice.getByRole('button', { name: 'Let the tool place it' }).click();
    await splice.getByText(/placed by the tool/).waitFor();
    await page.locator('.circuit-table').focus();
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await expect.poll(() => row('113').locator('[data-column="length"]').textContent()).toBe('0.55');
  });

  test('one build leaves away what only others have; all builds mark whose it is', async () => {
    const { page } = bench;
    await tab('circuits');
    const status = page.locator('.harness-tools [role="status"]').first();
    await expect.poll(() => status.textContent()).toBe('77 of 77 circuits');
    expect(await row('139').count()).toBe(0);
    await page.getByLabel('Filter the circuits').fill('4wd');
    await expect.poll(() => page.locator('.circuit-row').first().textContent()).toContain('drivetrain=4wd');
    await page.getByLabel('Filter the circuits').fill('');
    await page.getByLabel('Builds').selectOption({ label: 'drivetrain 2wd, year 2021' });
    await planned();
    await expect.poll(async () => Number(/^(\d+) of (\d+)/.exec((await status.textContent())!)?.[2])).toBeLessThan(77);
    await page.getByLabel('Builds').selectOption({ label: 'all, marked by build' });
    await expect.poll(() => status.textContent()).toBe('77 of 77 circuits');
  });

  test('keys walk the circuits, move and zoom the drawing, go into the fields and back', async () => {
    const { page } = bench;
    await tab('circuits');
    await page.getByLabel('Filter the circuits').fill('');
    await page.locator('.circuit-table').focus();
    await page.keyboard.press('Home');
    await detail('101').waitFor();
    await page.keyboard.press('j');
    await detail('102').waitFor();
    await page.keyboard.press('Enter');
    const active = (what: string): Promise<boolean> =>
      page.evaluate((selector) => (document.activeElement?.closest(selector) ?? null) !== null, what);
    await expect.poll(() => active('.sizing')).toBe(true);
    await page.keyboard.press('Escape');
    await expect.poll(() => active('.harness-side')).toBe(false);
    await page.locator('.harness-drawing').focus();
    const transform = (): Promise<string | null> => page.locator('.harness-drawing svg > g').getAttribute('transform');
    await page.keyboard.press('0');
    await expect.poll(transform).toContain('scale(1)');
    const before = await transform();
    await page.keyboard.press('ArrowLeft');
    expect(await transform()).not.toBe(before);
    await page.keyboard.press('+');
    await expect.poll(transform).not.toBe(before);
    await page.keyboard.press('0');
    await expect.poll(transform).toBe(before);
    await page.keyboard.press('n');
    await expect.poll(() => page.locator('.harness-drawing [data-selected]').count()).toBe(1);
  });

  test('the drawing is dragged', async () => {
    const { page } = bench;
    const box = (await page.locator('.harness-drawing').boundingBox())!;
    const transform = (): Promise<string | null> => page.locator('.harness-drawing svg > g').getAttribute('transform');
    await page.getByRole('button', { name: 'Fit' }).click();
    await expect.poll(transform).toContain('scale(1)');
    const before = await transform();
    await page.mouse.move(box.x + 30, box.y + 30);
    await page.mouse.down();
    await page.mouse.move(box.x + 90, box.y + 50, { steps: 4 });
    await page.mouse.up();
    expect(await transform()).not.toBe(before);
    await page.getByRole('button', { name: 'Fit' }).click();
    await expect.poll(transform).toBe(before);
  });

  test.each(LOOKS)('has nothing that axe objects to, in %s', async (look) => {
    await bench.look(look);
    for (const name of ['circuits', 'connectors', 'segments', 'nodes', 'splices', 'open']) {
      if (name === 'circuits') await choose('114');
      else await tab(name);
      expect(await bench.axe(name === 'circuits' ? undefined : '.harness-tables'), name).toEqual([]);
    }
    await bench.look('light');
  });

  test('threw nothing', () => {
    expect(bench.errors).toEqual([]);
  });
});
