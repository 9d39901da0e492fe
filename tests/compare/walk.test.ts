import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { check } from '../../src/checks/index.ts';
import { comparePairings, reviewWalk, walkStanding, withAnswer, type WalkStep } from '../../src/compare/index.ts';
import { pair, readMap, writeMap, type CrossloomMap, type ReviewAnswer } from '../../src/model/index.ts';
import { loadDocuments, loadPairing, plantedMistakes } from './sample-pairings.ts';

const clean = loadPairing('ft6-orrin32.map.json');
const faulty = loadPairing('faulty/review-me.map.json');
const faultyFindings = check(faulty).findings;
const walk = reviewWalk(faulty, faultyFindings, comparePairings(clean, faulty));
const cleanWalk = reviewWalk(clean, check(clean).findings);

function step(id: string, of = walk): WalkStep {
  const found = of.steps.find((one) => one.id === id);
  if (!found) throw new Error(`no step ${id}`);
  return found;
}

function failure(id: string, ref: string, how: string, of = cleanWalk) {
  const element = step(id, of).elements.find((one) => one.ref === ref);
  const found = element?.failures.find((one) => one.how === how);
  if (!found) throw new Error(`${id}: ${ref} has no failure ${how}`);
  return found;
}

describe('the review walk', () => {
  it('shows every planted mistake of review-me, as a finding and, where a thing of the map differs, as a change', () => {
    const mistakes = plantedMistakes();
    expect(mistakes).toHaveLength(15);
    for (const { subject, rule } of mistakes) {
      const found = walk.steps.find(({ kind, findings }) => kind === 'finding' && findings.some((one) => one.rule === rule && one.subject === subject)); // prettier-ignore
      expect(found, `${rule} ${subject}`).toBeDefined();
    }
    const changed = walk.steps.filter(({ kind }) => kind === 'change').flatMap(({ subjects }) => subjects);
    for (const subject of mistakes.map((one) => one.subject).filter((one) => /^(route|transmit):/.test(one)))
      expect(changed).toContain(subject);
  });

  it('answers nothing by itself', () => {
    expect(walkStanding(walk, []).counts).toEqual({
      open: walk.steps.length,
      stale: 0,
      objection: 0,
      question: 0,
      agreed: 0,
    });
  });

  const catalogue = resolve(import.meta.dirname, '../../../shared/reference/functions.json');
  it.skipIf(!existsSync(catalogue))(
    'has a step for every route whose function the reference calls an interlock or motion control',
    () => {
      const { functions } = JSON.parse(readFileSync(catalogue, 'utf8')) as {
        functions: { id: string; criticality: string }[];
      };
      const classOf = new Map(functions.map(({ id, criticality }) => [id, criticality]));
      const ids = new Set(walk.steps.map(({ id }) => id));
      let seen = 0;
      for (const route of faulty.map.routes) {
        const is = classOf.get(route.function ?? '');
        if (is === 'interlock') expect(ids).toContain(`path:route:${route.id}`);
        if (is === 'motion-control') expect(ids).toContain(`value:route:${route.id}`);
        if (is === 'interlock' || is === 'motion-control') seen += 1;
      }
      expect(seen).toBeGreaterThan(40);
    },
  );

  it('goes from the worst harm to the least', () => {
    const order = ['interlock', 'motion-control', 'stop', 'regulated-display', 'comfort', 'other'];
    const places = walk.steps.map(({ harm }) => order.indexOf(harm));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(new Set(places).size).toBe(6);
    // What concerns one function stands together.
    const parkNeutral = walk.steps.flatMap(({ functionId }, at) =>
      functionId === 'park-neutral-starter-interlock' ? [at] : [],
    );
    expect(parkNeutral.length).toBeGreaterThan(3);
    expect(parkNeutral.at(-1)! - parkNeutral[0]!).toBe(parkNeutral.length - 1);
  });

  it('has a step for every waiver and every open stop and fix', () => {
    expect(walk.steps.filter(({ kind }) => kind === 'waiver')).toHaveLength(faulty.map.waivers!.length);
    const open = faultyFindings.filter(({ waived, severity }) => waived === null && severity !== 'look');
    const shown = walk.steps.filter(({ kind }) => kind === 'finding').flatMap(({ findings }) => findings);
    expect(shown.map(({ rule, subject }) => `${rule} ${subject}`).sort()).toEqual(
      open.map(({ rule, subject }) => `${rule} ${subject}`).sort(),
    );
  });

  it('says of a hard wire with a commanded relay in series that it is none', () => {
    const { says, elements } = step('path:route:park-neutral');
    expect(says.join(' ')).toMatch(/NOT a conductor from end to end.*k2/);
    expect(elements.find(({ ref }) => ref === 'k2')).toMatchObject({ kind: 'relay', programmable: true });
    expect(elements.find(({ ref }) => ref === 'KX2')?.place).toBe('30, 85, 86, 87');
    expect(step('path:route:park-neutral', cleanWalk).says.join(' ')).toContain('A conductor from end to end');
  });
});

/**
 * What an open or shorted conductor does, worked out by hand from the electrical classes (a pull-up reads high when open, a coil on
 * battery is energised by ground) and the safe states of the reference catalogue. Common practice.
 */
describe('what each element’s failure does', () => {
  it('a crash line that opens reads as a crash, one shorted to ground as none', () => {
    expect(failure('path:route:crash-line', 'host:inertia-line', 'opens')).toMatchObject({
      reads: 'Crash',
      standing: 'safe',
    });
    expect(failure('path:route:crash-line', 'donor:crash-in', 'shorted to ground')).toMatchObject({
      reads: 'Normal',
      standing: 'against',
    });
    expect(failure('path:route:crash-line', 'host:G103', 'opens')).toMatchObject({ reads: 'Crash', standing: 'safe' });
  });

  it('the coil side of the starter relay is energised by a short to ground and by nothing else', () => {
    const at = (ref: string, how: string) => failure('path:route:park-neutral', ref, how);
    expect(at('host:starter-coil-low', 'shorted to ground')).toMatchObject({
      reads: 'Park or Neutral',
      standing: 'against',
    });
    expect(at('host:starter-coil-low', 'opens')).toMatchObject({ reads: 'In gear', standing: 'safe' });
    expect(at('host:starter-coil-low', 'shorted to battery')).toMatchObject({ reads: 'In gear', standing: 'safe' });
    expect(at('donor:range-switch', 'stays closed')).toMatchObject({ standing: 'against' });
  });

  it('a run input without its feed reads off', () => {
    expect(failure('path:route:ignition-run', 'host:F12', 'is dead')).toMatchObject({ reads: 'Off', standing: 'safe' });
    expect(failure('path:route:ignition-run', 'host:ignition-run', 'shorted to battery')).toMatchObject({
      reads: 'Run',
      standing: 'against',
    });
  });

  it('a fault in front of a relay in series reaches the reader only while the relay conducts', () => {
    const found = failure('path:route:park-neutral', 'donor:park-neutral', 'shorted to ground', walk);
    expect(found.effect).toContain('as long as k2 conducts');
    expect(failure('path:route:park-neutral', 'host:starter-coil-low', 'shorted to ground', walk).effect).not.toContain('k2'); // prettier-ignore
  });

  it('a source behind firmware is given its loss behaviour, and firmware that computes wrongly nothing notices', () => {
    expect(failure('path:route:remote-start', 'host:body-can', 'stops').effect).toMatch(/after 500 ms “None”/);
    expect(failure('path:route:remote-start', 'xm', 'computes wrongly').effect).toContain('nothing behind it notices');
    // Its own bus on the way in is told apart from the same bus on the way out.
    const rows = step('path:route:remote-start', cleanWalk).elements.filter(
      ({ ref }) => ref === 'donor:powertrain-can',
    );
    expect(rows.map(({ sources }) => sources)).toEqual([['donor:TransData2.LeverRange'], []]);
  });

  it('never calls safe what the catalogue treats differently from case to case', () => {
    // "Treat as pressed for cruise …; treat as not pressed for shift-out-of-park."
    expect(failure('path:route:brake-primary', 'host:brake-switch-a', 'opens').standing).toBe('undecided');
    expect(failure('path:route:brake-primary', 'host:brake-switch-a', 'shorted to battery').standing).toBe('undecided');
  });
});

describe('the values of motion functions', () => {
  it('show guard, age and loss behaviour with their units', () => {
    const { facts } = step('value:route:torque-reduction');
    const of = (name: string) => facts.find((row) => row.name === name);
    expect(of('on loss')?.value).toBe('the last value stays without end');
    expect(of('counts as lost after')).toMatchObject({ value: 50, unit: 'ms' });
    expect(of('age tolerated')).toMatchObject({ value: 50, unit: 'ms' });
    expect(of('guard that xm sends')?.value).toContain('crc8-autosar-h2f');
    expect(step('value:route:torque-actual').facts.find(({ name }) => name === 'guard that xm sends')?.value).toBe(
      'none',
    );
    expect(step('value:route:abs-active').facts.find(({ name }) => name === 'counts as lost after')?.value).toBe(1000);
  });
});

describe('answers', () => {
  const at = step('path:route:park-neutral');
  const answer = (over: Partial<ReviewAnswer> = {}): ReviewAnswer => ({
    step: at.id,
    answers: at.digest,
    verdict: 'agreed',
    by: 'A. Reviewer',
    on: '2026-04-01',
    ...over,
  });
  const statusOf = (...answers: ReviewAnswer[]) =>
    walkStanding(walk, answers).steps.find(({ step: { id } }) => id === at.id)!.status;

  it('the worst of what is said decides', () => {
    const doubt = answer({ verdict: 'question', text: 'Why?', by: 'B. Second' });
    expect(statusOf(answer())).toBe('agreed');
    expect(statusOf(answer(), doubt)).toBe('question');
    expect(statusOf(answer({ verdict: 'objection', text: 'No.' }), doubt)).toBe('objection');
  });

  it('an answer whose facts have changed is stale, and a doubt is not outvoted by somebody else', () => {
    const old = { answers: '0'.repeat(64) };
    expect(statusOf(answer(old))).toBe('stale');
    expect(statusOf(answer({ ...old, verdict: 'objection', text: 'No.' }), answer({ by: 'B. Second' }))).toBe('stale');
    expect(statusOf(answer(old), answer({ by: 'B. Second' }))).toBe('agreed');
  });

  it('tells of answers that belong to nothing in this walk', () => {
    const gone = answer({ step: 'change:route:no-longer' });
    expect(walkStanding(walk, [gone]).elsewhere).toEqual([gone]);
  });

  it('a person’s second answer takes the place of the first', () => {
    const first = withAnswer([], answer());
    const second = withAnswer(first, answer({ verdict: 'objection', text: 'No.', by: ' a. reviewer ' }));
    expect(second).toHaveLength(1);
    expect(second[0]!.verdict).toBe('objection');
    expect(withAnswer(second, answer({ by: 'B. Second' }))).toHaveLength(2);
  });

  it('are read and written with the map; a question without a text is refused where it stands', () => {
    const { map } = loadDocuments('ft6-orrin32.map.json');
    const written = writeMap({ ...map, review: [answer({ verdict: 'question', text: 'Why?' })] });
    const read = readMap(written);
    expect(read.ok && read.document.review).toEqual([answer({ verdict: 'question', text: 'Why?' })]);
    expect(written.indexOf('"review"')).toBeGreaterThan(written.indexOf('"waivers"'));
    const refused = readMap(writeMap({ ...map, review: [answer({ verdict: 'objection', text: ' ' })] }));
    expect(refused.ok).toBe(false);
    if (!refused.ok) expect(refused.faults[0]!.message).toContain('an objection says in its text');
  });

  it('do not change what they answer', () => {
    const answered: CrossloomMap = {
      ...faulty.map,
      review: walk.steps.map(({ id, digest }) => answer({ step: id, answers: digest })),
    };
    const after = pair(answered, faulty.host, faulty.donor);
    const again = reviewWalk(after, check(after).findings, clean);
    expect(walkStanding(again, answered.review!).counts.agreed).toBe(walk.steps.length);
  });
});
