import { describe, expect, it } from 'vitest';
import { check } from '../../../src/checks/index.ts';
import { reviewWalk, walkStanding, type WalkStep } from '../../../src/compare/index.ts';
import type { ReviewAnswer } from '../../../src/model/index.ts';
import { answerFault, signOffFault } from '../../../src/workbench/places/review/answering.ts';
import { sampleAncestor } from '../../../src/workbench/places/review/base.ts';
import {
  FIRST_MEMORY,
  currentStep,
  filterSteps,
  harmBlocks,
  nextToDo,
} from '../../../src/workbench/places/review/view.ts';
import { doubtsOfRows } from '../../../src/workbench/places/loom/doubts.ts';
import { layLoom } from '../../../src/workbench/places/loom/layout.ts';
import { loadPairing } from '../../compare/sample-pairings.ts';

const pairing = loadPairing('faulty/review-me.map.json');
const walk = reviewWalk(pairing, check(pairing).findings);
const answerTo = (step: WalkStep, verdict: ReviewAnswer['verdict'], digest = step.digest): ReviewAnswer => ({
  step: step.id,
  answers: digest,
  verdict,
  by: 'A. Reviewer',
  on: '2026-04-01',
  ...(verdict === 'agreed' ? {} : { text: 'See there.' }),
});
const [first, second, third] = walk.steps as [WalkStep, WalkStep, WalkStep];

describe('the list of the walk', () => {
  it('goes to the next step to do, past what is answered and round the end', () => {
    const { steps } = walkStanding(walk, [answerTo(second, 'agreed')]);
    expect(nextToDo(steps, first.id)?.step.id).toBe(third.id);
    expect(nextToDo(steps, steps.at(-1)!.step.id)?.step.id).toBe(first.id);
    const all = walkStanding(
      walk,
      walk.steps.map((step) => answerTo(step, 'agreed')),
    );
    expect(nextToDo(all.steps, first.id)).toBeNull();
  });

  it('counts a stale answer as to do, and shows questions and objections as doubts', () => {
    const { steps } = walkStanding(walk, [
      answerTo(first, 'agreed', '0'.repeat(64)),
      answerTo(second, 'objection'),
      answerTo(third, 'question'),
    ]);
    const ids = (shows: 'to-do' | 'doubts') =>
      filterSteps(steps, { ...FIRST_MEMORY, shows }).map(({ step }) => step.id);
    expect(ids('to-do')).toContain(first.id);
    expect(ids('doubts')).toEqual([second.id, third.id]);
    expect(harmBlocks(steps)[0]).toMatchObject({ harm: 'interlock' });
    expect(currentStep(steps, 'nothing of the kind')?.step.id).toBe(first.id);
  });

  it('finds steps by rule, title and subject', () => {
    const { steps } = walkStanding(walk, []);
    const found = filterSteps(steps, { ...FIRST_MEMORY, text: 'hard-wire-in-name-only park-neutral', kind: 'finding' });
    expect(found.map(({ step }) => step.id)).toEqual(['finding:routing/hard-wire-in-name-only route:park-neutral']);
  });
});

describe('answering and signing', () => {
  it('wants a name, and a text for what is not agreed', () => {
    expect(answerFault('agreed', '', ' ')).toContain('name');
    expect(answerFault('agreed', '', 'A')).toBeNull();
    expect(answerFault('question', ' ', 'A')).toContain('asked');
    expect(answerFault('objection', '', 'A')).toContain('objected');
    expect(signOffFault('A', '')).toContain('as what');
    expect(signOffFault('A', 'reviewer')).toBeNull();
  });

  it('offers the sample only to a map that stands on its platforms', () => {
    const session = { sample: 'maps/sample.map.json' } as Parameters<typeof sampleAncestor>[0]['session'];
    const open = (mapPath: string, folder: string) =>
      ({ mapPath, hostPath: `${folder}/h.platform.json`, donorPath: `${folder}/d.platform.json` }) as Parameters<
        typeof sampleAncestor
      >[0]['open'];
    expect(sampleAncestor({ session, open: open('maps/faulty/x.map.json', 'maps') })).toBe('maps/sample.map.json');
    expect(sampleAncestor({ session, open: open('maps/sample.map.json', 'maps') })).toBeNull();
    expect(sampleAncestor({ session, open: open('mine/x.map.json', 'mine') })).toBeNull();
  });
});

describe('what the author sees on the loom', () => {
  it('pins questions and objections to their strands, and marks what is stale', () => {
    const groups = layLoom(pairing, [], []);
    const path = walk.steps.find(({ id }) => id === 'path:route:park-neutral')!;
    const finding = walk.steps.find(({ id }) => id.startsWith('finding:guard/target-not-regenerated'))!;
    const doubts = doubtsOfRows(
      groups,
      [answerTo(path, 'objection'), answerTo(finding, 'question', '0'.repeat(64)), answerTo(second, 'agreed')],
      walk.steps,
    );
    expect(doubts.get('route:park-neutral')).toEqual({ objections: 1, questions: 0, stale: false });
    // A finding about a message that is sent concerns every strand which it carries.
    expect(doubts.get('route:torque-actual')).toEqual({ objections: 0, questions: 1, stale: true });
    expect(doubts.has('route:crash-line')).toBe(false);
  });
});
