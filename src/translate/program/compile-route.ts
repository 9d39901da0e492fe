import { isCombination } from '../analysis/effect.ts';
import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import { combineForms } from './build-combine.ts';
import { writeForm } from './build-output.ts';
import { startOf } from './build-source.ts';
import { stepForm } from './build-steps.ts';
import type { Builder } from './builder.ts';
import { type Form, Refusal, refuse } from './form.ts';
import { type LossPlan, lossPlanOf } from './loss-plan.ts';
import type { FrameProgram, RefusedProgram, RouteProgram, SourceRead } from './types.ts';

/** A route made runnable: its integer arithmetic, and what is written when it has no value. */
export interface CompiledRoute {
  readonly kind: 'values';
  readonly analysis: RouteAnalysis;
  readonly program: RouteProgram;
  readonly loss: LossPlan;
}

/** A whole message copied from one bus to another. */
export interface CompiledFrame {
  readonly kind: 'frame';
  readonly analysis: RouteAnalysis;
  readonly program: FrameProgram;
}

export type CompileResult = CompiledRoute | CompiledFrame | (RefusedProgram & { readonly analysis: RouteAnalysis });

/**
 * Compiles a route to integer arithmetic. `periodMs` is the period of the interface module that runs it: steps in time count in it.
 * A route with a fault that leaves open what it does is refused, with the reason in words.
 */
export function compileRoute(analysis: RouteAnalysis, periodMs: number): CompileResult {
  try {
    if (analysis.delivered?.kind === 'frame' && analysis.target?.kind === 'frame') {
      if (analysis.delivered.lengthBytes !== analysis.target.lengthBytes)
        return refuse('the two messages differ in length');
      return { kind: 'frame', analysis, program: { kind: 'frame' } };
    }
    return compileValues(analysis, periodMs);
  } catch (error) {
    if (error instanceof Refusal) return { kind: 'refused', analysis, why: error.message };
    throw error;
  }
}

function compileValues(analysis: RouteAnalysis, periodMs: number): CompiledRoute {
  const { route, stages, sources } = analysis;
  if (sources.length === 0) return refuse('the route has no source');
  refuseUnits(analysis);
  const starts = sources.map((_, slot) => startOf(analysis, slot));
  const reads: readonly SourceRead[] = starts.map(({ read }) => read);
  const builder: Builder = { sourceCount: reads.length, periodMs, nodes: [], working: [] };
  let forms: readonly Form[] = starts.map(({ form }) => form);
  for (const stage of stages) {
    const [first] = stage.effects;
    if (stage.effects.length === 1 && first && isCombination(first)) {
      forms = [combineForms(builder, forms, first)];
      continue;
    }
    const of = 'of' in stage.step ? stage.step.of : undefined;
    forms = forms.map((form, index) => {
      const effect = stage.effects[index];
      if (effect) return stepForm(builder, form, effect);
      if (of !== undefined && of !== index) return form;
      const [fault] = stage.faults;
      return refuse(`step ${stage.index + 1} (${stage.step.do}) cannot be done${fault ? `: ${fault.message}` : ''}`);
    });
  }
  const [last] = forms;
  if (forms.length !== 1 || last === undefined) return refuse(`${forms.length} values reach the target uncombined`);
  const { result, output } = writeForm(builder, last, analysis);
  return {
    kind: 'values',
    analysis,
    program: {
      kind: 'values',
      sources: reads,
      nodes: builder.nodes,
      result,
      output,
      periodMs,
      working: builder.working,
    },
    loss: lossPlanOf(analysis, output),
  };

  /** A value in one unit must not be written as if it were in another. */
  function refuseUnits({ unitFaults, delivered, target }: RouteAnalysis): void {
    if (delivered?.kind !== 'number' || target?.kind !== 'number') return;
    const fault = unitFaults.find(({ at }) => at === null);
    if (fault === undefined) return;
    if (fault.kind === 'unit-unknown' && delivered.unitText === target.unitText) return;
    refuse(`"${route.id}" is not run: ${fault.message}`);
  }
}
