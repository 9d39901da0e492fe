import type { FunctionSource, VehicleFunction } from '../model/index.ts';
import type { EffectiveClass } from './context.ts';

/** Whether a source is law, a regulation or an authority's reading of one, as against a standard or a convention. */
export function isRegulation({ source }: FunctionSource): boolean {
  return /\bCFR\b|\bUSC\b|\bUN R\d|\bFMVSS\b|[Ii]nterpretation letter|\bEPA\b|\bCARB\b/.test(source);
}

/**
 * What the law says about a function and what is engineering practice, apart: the law asks for the function, the carrier is our
 * rule.
 */
export function lawAndPractice(entry: VehicleFunction, is: EffectiveClass): string {
  const law = entry.sources.filter(isRegulation);
  const stated =
    law.length === 0
      ? `No regulation is recorded for it (catalogue: law ${entry.law}).`
      : `The regulation (${entry.law}): ${law.map(({ source, says, provenance }) => `${source}: ${says} [${provenance}]`).join(' ')}`;
  return `${stated} The law asks for the function, not for a wire; engineering practice is the rest: ${entry.title} is ${is.criticality}, carrier rule ${is.carrierRule}. ${entry.why}`;
}
