import {
  findingDigest,
  samePerson,
  standingOfWaivers,
  type Finding,
  type WaiverStanding,
} from '../../../checks/index.ts';
import type { CrossloomMap, Edit } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { notify } from '../../actions/notices.ts';
import type { WorkbenchStore } from '../../state/store.ts';

export type Waiver = NonNullable<CrossloomMap['waivers']>[number];

/** What a person gives to waive findings. */
export interface WaiverAnswer {
  readonly reason: string;
  readonly by: string;
  readonly secondBy: string;
}

/** What is missing of an answer, in words; null when nothing is. A `stop` needs two people. */
export function answerFault(answer: WaiverAnswer, findings: readonly Finding[]): string | null {
  if (answer.reason.trim() === '') return 'Give the reason: the next reader must be able to judge it.';
  if (answer.by.trim() === '') return 'Give your name: a waiver is answered for by a person.';
  const stops = findings.some(({ severity }) => severity === 'stop');
  if (stops && answer.secondBy.trim() === '') return 'A stop is waived by two people: give the second name.';
  if (stops && samePerson(answer.by, answer.secondBy)) return 'The two names must be of two people.';
  return null;
}

/** Answers findings with waivers, as one change. */
export function waive(store: WorkbenchStore, findings: readonly Finding[], answer: WaiverAnswer): void {
  const { session } = store.getState();
  if (!session || findings.length === 0) return;
  const edits = findings.map((finding): Edit => {
    const waiver: Waiver = {
      rule: finding.rule,
      subject: finding.subject,
      answers: findingDigest(finding),
      reason: answer.reason.trim(),
      by: answer.by.trim(),
      ...(finding.severity === 'stop' ? { secondBy: answer.secondBy.trim() } : {}),
      on: session.today,
    };
    return { do: 'insert', in: 'map', path: ['waivers'], value: waiver };
  });
  const title = findings.length === 1 ? `waive ${findings[0]!.rule}` : `waive ${findings.length} findings`;
  if (change(store, title, edits))
    notify(store, 'good', findings.length === 1 ? 'Waived' : `Waived ${findings.length} findings`);
}

/** Takes a waiver out of the map again. */
export function lift(store: WorkbenchStore, waiver: Waiver): void {
  const at = store.getState().open?.history.documents.map.waivers?.indexOf(waiver) ?? -1;
  if (at < 0) return;
  change(store, `lift the waiver of ${waiver.rule}`, [{ do: 'remove', in: 'map', path: ['waivers', { at }] }]);
}

/** The waiver that answers a finding; null when none does. */
export function waiverOf(map: CrossloomMap, finding: Finding): Waiver | null {
  const answers = findingDigest(finding);
  return (
    map.waivers?.find(
      (waiver) => waiver.rule === finding.rule && waiver.subject === finding.subject && waiver.answers === answers,
    ) ?? null
  );
}

/** A waiver's standing in words. */
export function standingWords(standing: WaiverStanding): { readonly mark: string; readonly text: string } {
  switch (standing.kind) {
    case 'answers':
      return { mark: '✓', text: 'answers its finding' };
    case 'one-name':
      return { mark: '½', text: 'does not count yet: a stop needs the names of two people' };
    case 'lapsed':
      return { mark: '≠', text: 'lapsed: what it answered has changed since' };
    case 'spent':
      return { mark: '∅', text: 'spent: nothing is found there any more' };
  }
}

/** Every waiver of the map with its standing against the findings. */
export function standings(map: CrossloomMap, findings: readonly Finding[]) {
  return standingOfWaivers(map.waivers ?? [], findings);
}
