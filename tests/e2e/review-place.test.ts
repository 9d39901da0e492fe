import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CrossloomMap } from '../../src/model/index.ts';
import { LOOKS, startWorkbench, type TestWorkbench } from './harness.ts';

const SLOW = { timeout: 30_000 };

/** A colleague passes a revision: sees what differs, walks through it, answers, signs, and the author changes something. */
describe('the place Review', () => {
  let workbench: TestWorkbench;
  beforeAll(async () => {
    workbench = await startWorkbench({ opens: 'faulty/review-me.map.json' });
    await workbench.settled();
    await workbench.goTo('review');
  });
  afterAll(() => workbench.close());

  const page = () => workbench.page;
  const steps = () => page().getByRole('grid', { name: 'Steps of the review' });
  const detail = () => page().getByRole('article', { name: 'The step' });
  const view = (name: string) =>
    page().getByRole('group', { name: 'What is shown' }).getByRole('button', { name, exact: true });
  const count = async (status: string): Promise<number> => {
    const one = page().locator(`.walk-counts [data-count="${status}"]`);
    return (await one.count()) === 0 ? 0 : Number(/\d+/.exec(await one.innerText())?.[0]);
  };
  const saved = (): CrossloomMap => JSON.parse(workbench.read('faulty/review-me.map.json')) as CrossloomMap;
  const save = () => page().keyboard.press('Control+s');
  const find = async (text: string): Promise<void> => {
    await page().getByRole('search', { name: 'Filter the steps' }).getByRole('searchbox').fill(text);
    await page().keyboard.press('Enter');
    await page().keyboard.press('Home');
    await expect.poll(() => detail().innerText(), SLOW).toContain(text);
  };

  /** The subject of each planted mistake, from the list beside the map. */
  function planted(): string[] {
    const text = readFileSync(join(workbench.folder, 'faulty/review-me.md'), 'utf8');
    return [...text.matchAll(/^\| *\d+ *\|[^|]*\| *`([^`]+)`/gm)].map(([, subject]) => subject!);
  }

  it('takes the map it was made from as the earlier revision', async () => {
    await steps().waitFor();
    const before = await count('open');
    await page().getByRole('button', { name: 'The sample it was made from' }).click();
    await expect.poll(() => count('open'), SLOW).toBeGreaterThan(before);
    await expect.poll(() => page().locator('.base-choice').innerText(), SLOW).toContain('revision C');
    expect(await count('agreed')).toBe(0);
  });

  it('shows every planted mistake on the looms and in the list of what differs, in words', async () => {
    await view('Compare').click();
    const entries = page().getByRole('grid', { name: 'What differs' });
    await entries.waitFor();
    const seen = new Set<string>();
    await entries.focus();
    await page().keyboard.press('Home');
    const details = page().locator('.compare-detail');
    for (let last = '', turn = 0; turn < 200; turn += 1) {
      const now = await details.innerText();
      if (now === last) break;
      seen.add(now);
      last = now;
      await page().keyboard.press('j');
    }
    const all = [...seen].join('\n');
    const mistakes = planted();
    expect(mistakes).toHaveLength(15);
    for (const subject of mistakes) expect(all, subject).toContain(subject);
    // Shape and word, never colour alone.
    await page().keyboard.press('Home');
    for (const word of ['added', 'removed', 'changed'])
      await page().locator(`.compare-counts [data-change="${word}"]`, { hasText: word }).waitFor();
    await page()
      .getByRole('tree', { name: /Strands of this revision/ })
      .waitFor();
    await page()
      .getByRole('tree', { name: /Strands of the earlier revision/ })
      .waitFor();
    expect(await page().locator('.two-looms [data-change="before-removed"]').count()).toBeGreaterThan(0);
  });

  it('walks through all fifteen, worst harm first', async () => {
    await view('Walk').click();
    await steps().focus();
    await page().keyboard.press('Home');
    const seen: string[] = [];
    const total = await count('open');
    for (let at = 0; at < total; at += 1) {
      seen.push(await page().locator('.step-detail .step-subject, .step-detail header h2').allInnerTexts().then((parts) => parts.join(' '))); // prettier-ignore
      await page().keyboard.press('j');
    }
    const all = seen.join('\n');
    for (const subject of planted()) expect(all, subject).toContain(subject);
    expect(seen[0]).toContain('park-neutral');
  });

  it('shows the starter interlock element by element, with what the failure of each does', async () => {
    await find('route:park-neutral');
    const path = detail().locator('.path-table');
    const text = await path.innerText();
    for (const element of [
      'donor:range-switch',
      'donor:park-neutral',
      'k2',
      'host:starter-coil-low',
      'host:starter-relay',
    ])
      expect(text).toContain(element);
    expect(text).toContain('firmware in series');
    expect(text).toContain('against the safe state');
    expect(await detail().innerText()).toContain('NOT a conductor from end to end');
  });

  it('takes an objection, a question and an agreement by keyboard; the first two want a text', async () => {
    const objections = page().getByRole('alert');
    await steps().focus();
    await page().keyboard.press('a');
    await objections.waitFor();
    await page().getByLabel('Your name').fill('A. Reviewer');
    await page()
      .getByRole('button', { name: /^Objection/ })
      .click();
    expect(await objections.innerText()).toContain('Write what is objected to');
    await page().keyboard.type('A relay that firmware commands is in series with the starter.');
    await page().keyboard.press('Control+Enter');
    await expect.poll(() => count('objection'), SLOW).toBe(1);

    await find('value:route:abs-active'.slice('value:'.length));
    await steps().focus();
    await page().keyboard.press('q');
    await page().keyboard.type('Why is a second tolerated here?');
    await page().keyboard.press('Control+Enter');
    await expect.poll(() => count('question'), SLOW).toBe(1);

    await find('route:crash-line');
    await steps().focus();
    await page().keyboard.press('a');
    await expect.poll(() => count('agreed'), SLOW).toBe(1);
    await save();
    await expect
      .poll(() => saved().review?.map(({ verdict, step, by }) => [verdict, step, by]), SLOW)
      .toEqual([
        ['objection', 'path:route:park-neutral', 'A. Reviewer'],
        ['question', 'value:route:abs-active', 'A. Reviewer'],
        ['agreed', 'path:route:crash-line', 'A. Reviewer'],
      ]);
  });

  it('an answer is undone and done again like any other change', async () => {
    await page().keyboard.press('Control+z');
    await expect.poll(() => count('agreed'), SLOW).toBe(0);
    await page().keyboard.press('Control+Shift+z');
    await expect.poll(() => count('agreed'), SLOW).toBe(1);
  });

  it('shows the author what was objected to on the strand, and in the strip', async () => {
    await find('route:park-neutral');
    await detail().getByRole('button', { name: 'Show in Loom' }).click();
    const strand = page().getByRole('treeitem', { name: /Park\/neutral.*review: 1 objection/ });
    await strand.waitFor();
    await strand.locator('.review-note[data-verdict="objection"]').waitFor();
    const notes = page().getByRole('region', { name: 'Review' });
    await expect.poll(() => notes.first().innerText(), SLOW).toContain('A relay that firmware commands');
    await workbench.goTo('review');
  });

  it('signs with the caution, and an edit makes sign-off and answer visibly stale', async () => {
    await view('Sign-off').click();
    const panel = page().getByRole('region', { name: 'Sign-off and waivers' });
    expect(await panel.innerText()).toContain('It never says that a map is safe');
    expect(await panel.innerText()).toContain('Names are plain text');
    await panel.getByLabel('Note').fill('Read against the connector books; one objection stands.');
    await panel.getByRole('button', { name: 'Sign off', exact: true }).click();
    await panel.getByText('for exactly this map and these platforms').waitFor();
    await save();
    await expect.poll(() => saved().signOffs?.[0]?.by, SLOW).toBe('A. Reviewer');

    // The author mends what was objected to.
    await workbench.goTo('findings');
    const list = page().getByRole('grid', { name: 'Findings' });
    await page().getByRole('searchbox', { name: 'Filter by text' }).fill('route:abs-active');
    await list.focus();
    await page().keyboard.press('Home');
    await page().keyboard.press('m');
    await workbench.settled();
    await workbench.goTo('review');
    await panel.getByText('stale: map or platforms have changed since').waitFor();
    await view('Walk').click();
    await expect.poll(() => count('stale'), SLOW).toBe(1);
    await find('route:abs-active');
    await expect.poll(() => detail().innerText(), SLOW).toContain('stale: the facts have changed since');
  });

  it('hands over the review record, with the earlier revision, the answers and what is open', async () => {
    await page().getByRole('button', { name: 'Review record…' }).click();
    const sheet = page().getByRole('dialog', { name: 'Review record' });
    expect(await sheet.innerText()).toContain('Compared with revision C');
    const download = page().waitForEvent('download');
    await sheet.getByRole('button', { name: 'HTML page' }).click();
    const html = readFileSync(await (await download).path(), 'utf8');
    for (const said of [
      'A relay that firmware commands is in series with the starter.',
      'Why is a second tolerated here?',
      'revision C',
      'A. Reviewer',
      'Range switch on the transmission',
      'one wrong bit closes or parts the path',
    ])
      expect(html, said).toContain(said);
    await sheet.waitFor({ state: 'detached' });
  });

  it('shows the text of both revisions side by side', async () => {
    await view('Text').click();
    await page().locator('.text-diff-editor[data-compared]').waitFor();
    await expect.poll(() => page().locator('.text-diff-bar').innerText(), SLOW).toMatch(/[1-9]\d* places differ/);
    await view('Walk').click();
    expect(workbench.errors).toEqual([]);
  });

  it.each(LOOKS)('is clean for axe in %s, in every view', async (look) => {
    await workbench.look(look);
    for (const name of ['Compare', 'Sign-off', 'Walk']) {
      await view(name).click();
      await page().locator('.loading').waitFor({ state: 'detached' });
      expect(await workbench.axe(), `${name} in ${look}`).toEqual([]);
    }
    await workbench.look('light');
  });
});
