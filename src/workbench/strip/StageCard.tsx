import type { Stage, StageEvaluation, ValueDomain } from '../../translate/index.ts';
import { valueText } from './format.ts';

const CUT_WORDS = { low: 'held at its lower end', high: 'held at its upper end' } as const;

function unitOf(domain: ValueDomain | null | undefined): string {
  return domain?.kind === 'number' ? domain.unitText : '';
}

/** One step: its words, the arithmetic, the value after it. */
export function StageCard({
  stage,
  evaluation,
  formula,
}: {
  readonly stage: Stage;
  readonly evaluation: StageEvaluation;
  readonly formula: readonly string[];
}) {
  return (
    <section className="stage step-stage" aria-label={`Step ${stage.index + 1}, ${stage.step.do}`}>
      <header className="stage-head">
        <span className="mono">
          {stage.index + 1} {stage.step.do}
        </span>
      </header>
      <div className="stage-values">
        {formula.map((line, index) => (
          <p key={index} className="mono formula">
            {line}
          </p>
        ))}
        {evaluation.values.map((value, index) => (
          <p
            key={index}
            className="stage-value"
            data-none={value.kind === 'none' || undefined}
            data-untouched={(stage.effects.length > 1 && !stage.effects[index]) || undefined}
            data-one-of-many={evaluation.values.length > 2 || undefined}
          >
            {valueText(value, unitOf(stage.output[index]))}
          </p>
        ))}
        {evaluation.cut === 'none' ? null : <p className="clip-word">{CUT_WORDS[evaluation.cut]}</p>}
        {stage.faults.map((fault, index) => (
          <p key={index} className="strip-reason">
            {fault.message}
          </p>
        ))}
      </div>
    </section>
  );
}
