import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { check } from '../../src/checks/index.ts';
import { comparePairings, reviewWalk } from '../../src/compare/index.ts';
import { cellText, renderHtml, reviewRecord, tablesOf, type SpecDocument, type Table } from '../../src/export/index.ts';
import {
  pair,
  readMap,
  readPlatform,
  type Pairing,
  type ReadResult,
  type ReviewAnswer,
} from '../../src/model/index.ts';

const folder = resolve(import.meta.dirname, '../../sample-maps');

function must<T>(result: ReadResult<T>): T {
  if (!result.ok) throw new Error(result.faults[0]!.message);
  return result.document;
}
const read = (name: string): string => readFileSync(resolve(folder, name), 'utf8');
const host = must(readPlatform(read('halden-ft6.platform.json')));
const donor = must(readPlatform(read('orrin-32.platform.json')));
const clean = pair(must(readMap(read('ft6-orrin32.map.json'))), host, donor);
const planted = must(readMap(read('faulty/review-me.map.json')));

function record(review: readonly ReviewAnswer[]): { document: SpecDocument; pairing: Pairing } {
  const pairing = pair({ ...planted, review: [...review] }, host, donor);
  const { findings } = check(pairing);
  const issue = { today: '2026-01-31', version: '0.0.0', digest: 'f'.repeat(64) };
  return { document: reviewRecord(pairing, findings, issue, comparePairings(clean, pairing)), pairing };
}

function table(document: SpecDocument, id: string): Table {
  return tablesOf(document).find((entry) => entry.table.id === id)!.table;
}
const textOf = ({ rows }: Table): string[] =>
  rows.map(({ cells }) => cells.map((cell) => (typeof cell === 'number' ? String(cell) : cellText(cell))).join(' | '));

const steps = reviewWalk(pair(planted, host, donor), check(pair(planted, host, donor)).findings, clean).steps;
const answer = (at: number, verdict: ReviewAnswer['verdict'], text?: string): ReviewAnswer => ({
  step: steps[at]!.id,
  answers: steps[at]!.digest,
  verdict,
  ...(text === undefined ? {} : { text }),
  by: 'R. Iversen',
  on: '2026-01-30',
});

describe('the record of a review', () => {
  it('shows every step as open before anybody has answered: nothing is pre-ticked', () => {
    const { document } = record([]);
    expect(textOf(table(document, 'steps'))).toHaveLength(steps.length);
    expect(textOf(table(document, 'open'))).toHaveLength(steps.length);
    expect(document.facts.find(({ label }) => label === 'Walk')!.value).toContain('0 agreed');
  });

  it('names every planted mistake of review-me', () => {
    const all = renderHtml(record([]).document).replaceAll(/<wbr ?\/?>/g, '');
    const rows = [...read('faulty/review-me.md').matchAll(/^\| *\d+ *\|.*$/gm)].map(([row]) => row);
    expect(rows).toHaveLength(15);
    for (const row of rows) {
      const names = [...row.matchAll(/`([^`]+)`/g)].map(([, name]) => name!);
      expect(
        names.some((name) => all.includes(name)),
        row,
      ).toBe(true);
    }
  });

  it('carries answers with name, day and text, an objection before a question, and what is agreed no longer as open', () => {
    const { document } = record([
      answer(0, 'agreed'),
      answer(1, 'question', 'Which relay is meant?'),
      answer(2, 'objection', '<b>No</b> relay in this path.'),
    ]);
    const open = textOf(table(document, 'open'));
    expect(open).toHaveLength(steps.length - 1);
    expect(open[0]).toContain('objection, R. Iversen, 2026-01-30: <b>No</b> relay in this path.');
    expect(open[1]).toContain('question, R. Iversen, 2026-01-30: Which relay is meant?');
    const html = renderHtml(document);
    expect(html).toContain('&lt;b&gt;No&lt;/b&gt; relay');
    expect(html).not.toContain('<b>No</b>');
  });

  it('says of an answer to other facts that it was to earlier ones, and does not count it', () => {
    const { document } = record([{ ...answer(0, 'agreed'), answers: '0'.repeat(64) }]);
    expect(textOf(table(document, 'open'))).toHaveLength(steps.length);
    expect(textOf(table(document, 'steps'))[0]).toContain('agreed, R. Iversen, 2026-01-30 (to earlier facts)');
  });

  it('draws every interlock path with what each failure does, and says what it does not say', () => {
    const { document } = record([]);
    const paths = steps.filter(({ kind }) => kind === 'interlock-path');
    expect(paths.length).toBeGreaterThan(10);
    for (const { title } of paths)
      expect(tablesOf(document).some(({ table: one }) => one.title === `Elements of ${title}`)).toBe(true);
    expect(document.cautions[0]).toContain('does not say that the map is right');
  });
});
