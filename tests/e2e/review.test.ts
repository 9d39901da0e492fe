import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CrossloomMap } from '../../src/model/index.ts';
import { startWorkbench, type TestWorkbench } from './harness.ts';

/** The colleague's use: find every planted mistake from the window alone, mend half of them, waive one. */
describe('reviewing a map with planted mistakes', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench({ opens: 'faulty/review-me.map.json' });
    await workbench.settled();
    await workbench.goTo('findings');
  });
  afterAll(() => workbench.close());

  const list = () => workbench.page.getByRole('grid', { name: 'Findings' });
  const detail = () => workbench.page.getByRole('article', { name: 'The finding' });
  const ruleShown = async (): Promise<string> => (await detail().locator('header .mono').innerText()).trim();
  const openCount = async (): Promise<number> =>
    Number(
      /\d+/.exec(
        await workbench.page
          .getByRole('group', { name: 'Which findings' })
          .getByRole('button', { name: /^Open/ })
          .innerText(),
      )?.[0] ?? '0',
    );

  /** The rule and the subject of each planted mistake, from the list beside the map. */
  function planted(): { rule: string; subject: string }[] {
    const text = readFileSync(join(workbench.folder, 'faulty/review-me.md'), 'utf8');
    return [...text.matchAll(/^\| *\d+ *\|[^|]*\| *`([^`]+)` *\| *`([^`]+)`/gm)].map(([, subject, rule]) => ({
      subject: subject!,
      rule: rule!,
    }));
  }

  it('shows all fifteen, walked through by keyboard', async () => {
    const { page } = workbench;
    const seen = new Set<string>();
    await list().focus();
    await page.keyboard.press('Home');
    const count = await openCount();
    for (let n = 0; n < count; n += 1) {
      const concerns = await detail().locator('dd .mono').first().innerText();
      seen.add(`${await ruleShown()} ${concerns.trim()}`);
      await page.keyboard.press('j');
    }
    expect(seen.size).toBe(count);
    const mistakes = planted();
    expect(mistakes).toHaveLength(15);
    for (const { rule, subject } of mistakes) {
      const name = subject.replace(/^(route|function|transmit):/, '');
      const found = [...seen].some((line) => line.startsWith(rule) && line.includes(name));
      expect(found, `${rule} on ${subject}`).toBe(true);
    }
  });

  it('mends what the tool knows a mend for, until half of the findings are gone', async () => {
    const { page } = workbench;
    const before = await openCount();
    const half = Math.floor(before / 2);
    for (let tries = 0; tries < before * 2 && (await openCount()) > half; tries += 1) {
      await list().focus();
      await page.keyboard.press('Home');
      const steps = await openCount();
      let mended = false;
      for (let n = 0; n < steps && !mended; n += 1) {
        if ((await detail().getByRole('button', { name: /^Mend/ }).count()) > 0) {
          const now = await openCount();
          await page.keyboard.press('m');
          await workbench.settled();
          mended = true;
          await expect.poll(openCount).not.toBe(now);
        } else if (
          (await detail()
            .getByRole('button', { name: /^Leave out/ })
            .count()) > 0
        ) {
          // Leaving a need out wants a reason, so it is asked for.
          const now = await openCount();
          await page.keyboard.press('m');
          await page.getByLabel('Reason').fill('The donor does without it.');
          await page.getByRole('button', { name: 'Leave out', exact: true }).click();
          mended = true;
          await expect.poll(openCount).not.toBe(now);
        } else await page.keyboard.press('j');
      }
      if (!mended) break;
    }
    expect(await openCount()).toBeLessThanOrEqual(half + 3);
    expect(await openCount()).toBeLessThan(before);
  });

  it('waives one with a reason, and a stop only with two names', async () => {
    const { page } = workbench;
    await list().focus();
    await page.keyboard.press('Home');
    const rule = await ruleShown();
    const isStop = (await detail().locator('header .severity').innerText()).trim() === 'stop';
    const before = await openCount();
    await page.keyboard.press('w');
    await page.getByLabel('Reason').fill('Seen on the bench; the next revision takes it out.');
    await page.getByLabel('Your name').fill('A. Reviewer');
    if (isStop) {
      await page.getByRole('button', { name: 'Waive', exact: true }).click();
      await page.getByRole('alert').waitFor();
      await page.getByLabel(/Second name/).fill('B. Second');
    }
    await page.getByRole('button', { name: 'Waive', exact: true }).click();
    await expect.poll(openCount).toBe(before - 1);
    await page.keyboard.press('Control+s');
    const waivers = (): CrossloomMap['waivers'] =>
      (JSON.parse(workbench.read('faulty/review-me.map.json')) as CrossloomMap).waivers;
    await expect
      .poll(() => waivers()?.some((waiver) => waiver.rule === rule && waiver.by === 'A. Reviewer'))
      .toBe(true);
    expect(workbench.errors).toEqual([]);
  });
});
