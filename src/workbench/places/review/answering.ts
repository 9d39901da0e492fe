import { samePerson } from '../../../checks/index.ts';
import type { WalkStep } from '../../../compare/index.ts';
import type { Edit, ReviewAnswer, SignOff } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { digestToSign } from '../../actions/reviewing.ts';
import type { WorkbenchStore } from '../../state/store.ts';

export type Verdict = ReviewAnswer['verdict'];

/** What is missing of an answer, in words; null when nothing is. */
export function answerFault(verdict: Verdict, text: string, by: string): string | null {
  if (by.trim() === '') return 'Give your name first: an answer is answered for by a person.';
  if (verdict === 'question' && text.trim() === '') return 'Write what is asked: the author must be able to answer it.';
  if (verdict === 'objection' && text.trim() === '')
    return 'Write what is objected to: the author must be able to mend it.';
  return null;
}

/** Answers a step of the walk; what the same person said of it before is replaced. False: it was not done. */
export function answerStep(store: WorkbenchStore, step: WalkStep, verdict: Verdict, text: string, by: string): boolean {
  const { session, open } = store.getState();
  if (!session || !open) return false;
  const value: ReviewAnswer = {
    step: step.id,
    answers: step.digest,
    verdict,
    ...(text.trim() === '' ? {} : { text: text.trim() }),
    by: by.trim(),
    on: session.today,
  };
  const at = positionOfAnswer(open.history.documents.map.review ?? [], step.id, by);
  const edit: Edit =
    at < 0
      ? { do: 'insert', in: 'map', path: ['review'], value }
      : { do: 'set', in: 'map', path: ['review', { at }], to: value };
  return change(store, `answer “${step.title}”: ${verdict}`, [edit]);
}

function positionOfAnswer(answers: readonly ReviewAnswer[], step: string, by: string): number {
  return answers.findIndex((answer) => answer.step === step && samePerson(answer.by, by));
}

/** Takes answers back. */
export function takeBack(store: WorkbenchStore, answers: readonly ReviewAnswer[]): void {
  const all = store.getState().open?.history.documents.map.review ?? [];
  const places = answers.map((answer) => all.indexOf(answer)).filter((at) => at >= 0);
  if (places.length === 0) return;
  const edits = places.sort((a, b) => b - a).map((at): Edit => ({ do: 'remove', in: 'map', path: ['review', { at }] }));
  change(store, answers.length === 1 ? 'take an answer back' : `take ${answers.length} answers back`, edits);
}

/** What is missing of a sign-off, in words; null when nothing is. */
export function signOffFault(by: string, role: string): string | null {
  if (by.trim() === '') return 'Give your name.';
  return role.trim() === '' ? 'Say as what you sign: reviewer, author, electrical lead.' : null;
}

/** Signs the documents as they stand; what the same person signed in the same role before is replaced. */
export function signOff(store: WorkbenchStore, by: string, role: string, note: string): boolean {
  const { session, open } = store.getState();
  if (!session || !open) return false;
  const { documents } = open.history;
  const value: SignOff = {
    by: by.trim(),
    role: role.trim(),
    on: session.today,
    digest: digestToSign(documents),
    ...(note.trim() === '' ? {} : { note: note.trim() }),
  };
  const at = (documents.map.signOffs ?? []).findIndex(
    (entry) => samePerson(entry.by, by) && samePerson(entry.role, role),
  );
  return change(store, `sign off as ${value.role}`, [
    at < 0
      ? { do: 'insert', in: 'map', path: ['signOffs'], value }
      : { do: 'set', in: 'map', path: ['signOffs', { at }], to: value },
  ]);
}

/** Takes a sign-off out of the map. */
export function withdraw(store: WorkbenchStore, entry: SignOff): void {
  const at = store.getState().open?.history.documents.map.signOffs?.indexOf(entry) ?? -1;
  if (at >= 0)
    change(store, `withdraw the sign-off of ${entry.by}`, [{ do: 'remove', in: 'map', path: ['signOffs', { at }] }]);
}
