import { type Rational, ZERO, mul, parseExact } from '../../number/index.ts';
import type { Step } from '../../model/index.ts';
import type { ValueDomain } from '../domain/value-domain.ts';
import type { Effect } from './effect.ts';
import { parameterScaling } from './step-number.ts';
import { type Report, note } from './report.ts';

export type TimingStep = Extract<Step, { do: 'rate-limit' | 'smooth' | 'debounce' | 'delay' }>;

/** Resolves a step that holds a value back in time and lets every steady value through. Null when a fault stops it. */
export function resolveTimingStep(step: TimingStep, at: number, domain: ValueDomain, report: Report): Effect | null {
  switch (step.do) {
    case 'debounce':
      return { kind: 'debounce', forMs: step.forMs };
    case 'delay':
      return { kind: 'delay', byMs: step.byMs };
    case 'smooth':
      if (domain.kind !== 'number') return wantsNumber(step.do, at, domain, report);
      return { kind: 'smooth', timeConstantMs: step.timeConstantMs };
    case 'rate-limit': {
      if (domain.kind !== 'number') return wantsNumber(step.do, at, domain, report);
      const scaling = parameterScaling(step.unit, at, { text: domain.unitText, unit: domain.unit }, report);
      if (scaling === null) return null;
      // A rate is a difference per second: the factor of the unit counts, its zero does not.
      const rate = (x: string | number | undefined): Rational | null =>
        x === undefined ? null : mul(scaling.factor, parseExact(x) ?? ZERO);
      const risePerS = rate(step.risePerS);
      const fallPerS = rate(step.fallPerS);
      if ((risePerS !== null && risePerS.num < 0n) || (fallPerS !== null && fallPerS.num < 0n)) {
        note(report, {
          kind: 'rate-negative',
          at,
          message: `a rate of change below zero makes no sense in rate-limit: write both rates as amounts, in ${step.unit} per second`,
        });
        return null;
      }
      return { kind: 'rate-limit', risePerS, fallPerS };
    }
  }
}

function wantsNumber(name: string, at: number, domain: ValueDomain, report: Report): null {
  note(report, {
    kind: 'kind-mismatch',
    at,
    needs: 'number',
    has: domain.kind,
    message: `${name} works on a number, but a ${domain.kind} comes in`,
  });
  return null;
}
