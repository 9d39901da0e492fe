import { useImperativeHandle, useRef, useState, type Ref } from 'react';
import { samePerson } from '../../../checks/index.ts';
import type { StandingStep } from '../../../compare/index.ts';
import { rememberedName, rememberName } from '../../parts/person.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { answerFault, answerStep, type Verdict } from './answering.ts';

export interface AnswerBarHandle {
  agree(): void;
  ask(verdict: 'question' | 'objection'): void;
}

/** The three answers to a step. A question and an objection want a text. */
export function AnswerBar({
  ref,
  standing,
  onAnswered,
  onLeave,
}: {
  readonly ref: Ref<AnswerBarHandle>;
  readonly standing: StandingStep;
  readonly onAnswered: () => void;
  /** The keyboard goes back to the list. */
  readonly onLeave: () => void;
}) {
  const store = useWorkbenchStore();
  const [by, setBy] = useState(rememberedName);
  const [text, setText] = useState(() => ownText(standing, rememberedName()));
  const [intent, setIntent] = useState<Verdict | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const textField = useRef<HTMLTextAreaElement>(null);
  const nameField = useRef<HTMLInputElement>(null);

  const give = (verdict: Verdict): void => {
    const wrong = answerFault(verdict, text, by);
    setFault(wrong);
    setIntent(verdict);
    if (wrong !== null) {
      (by.trim() === '' ? nameField : textField).current?.focus();
      return;
    }
    rememberName(by);
    if (answerStep(store, standing.step, verdict, text, by)) {
      setIntent(null);
      onAnswered();
    }
  };
  useImperativeHandle(ref, () => ({
    agree: () => give('agreed'),
    ask: (verdict) => {
      setIntent(verdict);
      setFault(by.trim() === '' ? answerFault('agreed', text, by) : null);
      (by.trim() === '' ? nameField : textField).current?.focus();
    },
  }));

  return (
    <div
      className="answer-bar"
      role="group"
      aria-label="Your answer"
      onKeyDown={(event) => {
        if (event.key === 'Escape') onLeave();
        else if (event.key === 'Enter' && (event.ctrlKey || event.metaKey) && intent !== null) give(intent);
        else return;
        event.stopPropagation();
        event.preventDefault();
      }}
    >
      <label className="answer-name">
        Your name
        <input
          ref={nameField}
          className="field"
          value={by}
          autoComplete="name"
          onChange={(event) => setBy(event.target.value)}
        />
      </label>
      <label className="answer-words">
        <span>
          What you ask, object to or note{' '}
          {intent === 'question' || intent === 'objection' ? (
            <span className="soft">Ctrl+Enter gives the {intent}, Esc goes back to the list</span>
          ) : null}
        </span>
        <textarea
          ref={textField}
          className="field"
          rows={2}
          value={text}
          aria-invalid={fault !== null || undefined}
          onChange={(event) => {
            setText(event.target.value);
            setFault(null);
          }}
        />
      </label>
      {fault === null ? null : (
        <p className="bad" role="alert">
          {fault}
        </p>
      )}
      <div className="answer-buttons">
        <button type="button" className="button primary" onClick={() => give('agreed')}>
          Agreed <kbd>A</kbd>
        </button>
        <button type="button" className="button" onClick={() => give('question')}>
          Question <kbd>Q</kbd>
        </button>
        <button type="button" className="button" onClick={() => give('objection')}>
          Objection <kbd>O</kbd>
        </button>
        <span className="soft answer-keys">
          <kbd>J</kbd> <kbd>K</kbd> next, previous · <kbd>N</kbd> next to do
        </span>
      </div>
    </div>
  );
}

/** What the same person wrote here before, to be changed rather than typed again. */
function ownText({ answers }: StandingStep, by: string): string {
  return answers.find(({ answer }) => by !== '' && samePerson(answer.by, by))?.answer.text ?? '';
}
