import type { Route, Step, StepKind } from '../../../model/index.ts';
import { unitSymbol } from '../../../units/index.ts';
import type { RouteAnalysis, ValueDomain } from '../../../translate/index.ts';
import { stepWith, stepsMoved, stepsWith } from './edits.ts';
import { STEP_FORMS, STEP_KINDS, type StepSurroundings } from './step-fields.ts';
import { StepFieldView } from './StepFieldView.tsx';

interface StepsEditorProps {
  readonly route: Route;
  readonly analysis: RouteAnalysis;
  readonly onSteps: (title: string, steps: readonly Step[]) => string | null;
}

function statesOf(domain: ValueDomain | null | undefined): readonly string[] {
  return domain?.kind === 'state' ? [...new Set(domain.states.map(({ label }) => label))] : [];
}

function surroundings(analysis: RouteAnalysis, at: number): StepSurroundings {
  const reaching = analysis.stages[at]?.input ?? analysis.stages.at(-1)?.output ?? analysis.sources;
  const number = reaching.find((domain) => domain?.kind === 'number');
  const { target } = analysis;
  return {
    unit: number?.kind === 'number' ? number.unitText : '',
    targetUnit: target?.kind === 'number' ? target.unitText : '',
    states: [...new Set(reaching.flatMap(statesOf))],
    targetStates: statesOf(target),
  };
}

/** The steps of a route: each with its fields, to add, take out and move. */
export function StepsEditor({ route, analysis, onSteps }: StepsEditorProps) {
  const steps = route.steps ?? [];
  return (
    <section className="steps-editor" aria-label="Steps">
      <h3>Steps</h3>
      {steps.length === 0 ? <p className="soft">None: the value is copied as it is.</p> : null}
      <ol>
        {steps.map((step, at) => {
          const form = STEP_FORMS[step.do];
          const around = surroundings(analysis, at);
          const unit = 'unit' in step && typeof step.unit === 'string' ? unitSymbol(step.unit) : '';
          const faults = analysis.stages[at]?.faults ?? [];
          return (
            <li key={`${at} ${step.do}`} className="step-card" data-step={step.do}>
              <header>
                <span className="step-number">{at + 1}</span>
                <span className="mono">{step.do}</span>
                <span className="soft">{form.title}</span>
                <span className="push">
                  <button
                    type="button"
                    className="button quiet small"
                    aria-label={`Move step ${at + 1} up`}
                    disabled={at === 0}
                    onClick={() => onSteps('move a step', stepsMoved(steps, at, -1))}
                  >
                    ↑
                  </button>
                  <button
                    type="button"
                    className="button quiet small"
                    aria-label={`Move step ${at + 1} down`}
                    disabled={at === steps.length - 1}
                    onClick={() => onSteps('move a step', stepsMoved(steps, at, 1))}
                  >
                    ↓
                  </button>
                  <button
                    type="button"
                    className="button quiet small"
                    aria-label={`Take out step ${at + 1}, ${step.do}`}
                    onClick={() =>
                      onSteps(
                        `take out ${step.do}`,
                        steps.filter((_, index) => index !== at),
                      )
                    }
                  >
                    ×
                  </button>
                </span>
              </header>
              <div className="step-fields">
                {form.fields.map((field) => (
                  <StepFieldView
                    key={field.key}
                    field={field}
                    step={step}
                    around={around}
                    sources={route.from}
                    suffix={field.key === 'factor' || field.key === 'k' || field.key === 'pulsesPerUnit' ? '' : unit}
                    onValue={(key, value) =>
                      onSteps(`${step.do}: ${field.label}`, stepsWith(steps, at, stepWith(step, key, value)))
                    }
                  />
                ))}
              </div>
              {faults.map((fault, index) => (
                <p key={index} className="entry-reason">
                  {fault.message}
                </p>
              ))}
            </li>
          );
        })}
      </ol>
      <label className="add-step">
        <span className="visually-hidden">Add a step</span>
        <select
          className="field"
          value=""
          onChange={(event) => {
            const kind = event.target.value as StepKind;
            onSteps(`add ${kind}`, [...steps, STEP_FORMS[kind].first(surroundings(analysis, steps.length))]);
          }}
        >
          <option value="">Add a step…</option>
          {STEP_KINDS.map((kind) => (
            <option key={kind} value={kind}>
              {kind}: {STEP_FORMS[kind].title}
            </option>
          ))}
        </select>
      </label>
    </section>
  );
}
