import { findFunction, lossOf, type Endpoint, type FunctionLoss, type Route } from '../../../model/index.ts';
import { domainOfEndpoint } from '../../../translate/index.ts';
import { lawAndPractice } from '../../law.ts';
import { levelOf, lossForTarget } from '../../loss-for-target.ts';
import { setRoute } from '../../mends.ts';
import { float } from '../../numbers.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';
import type { Json } from '../../../model/index.ts';

export const rule: Rule = {
  id: 'time/loss-opposes-safe-state',
  severity: 'stop',
  title: 'Loss behaviour is the opposite of the function’s safe state',
  why: 'A lost fan request given as 0 % cooks the engine; a lost neutral contact given as “permitted” cranks it in drive.',
  sources: [commonPractice('safe states of the function catalogue')],
  check: {
    route(context, route) {
      const functionId = context.functionIdOf(route);
      const loss = lossOf(functionId ?? undefined);
      if (!loss || route.onLoss?.do !== 'substitute' || route.onLoss.notAvailable === true) return null;
      const target = context.pairing.find(route.to);
      const entry = findFunction(functionId ?? undefined);
      if (!target || !entry || loss.dangerous.length === 0) return null;
      const verdict = judge(route, target, functionId!, loss, entry.unit);
      if (verdict === null) return null;
      const safe = lossForTarget(loss, target, functionId);
      const draft: Draft = {
        severity:
          verdict === 'dangerous'
            ? entry.criticality === 'comfort' && entry.equipmentProtection !== true
              ? 'fix'
              : 'stop'
            : 'look',
        message:
          verdict === 'dangerous'
            ? `${route.id} gives ${given(route)} on loss; the safe state is: ${entry.safeState}`
            : `whether ${given(route)} is safe for ${entry.title} cannot be told: ${verdict}. The safe state is: ${entry.safeState}`,
        because: lawAndPractice(entry, context.classOf(entry)),
        mask: context.maskOf(route),
        values: [named('given on loss', given(route)), named('safe state', entry.safeState)],
        mend:
          verdict === 'dangerous' && safe
            ? setRoute(route, 'onLoss', safe as Json, 'give it the safe state of the function')
            : null,
      };
      return [draft];
    },
  },
  examples: {
    failing: () => ({
      says: 'A lost overheat warning is given as Off.',
      documents: warning('Off'),
      expect: ['route:overheat'],
    }),
    passing: () => ({ says: 'It is given as On.', documents: warning('On'), expect: [] }),
  },
};

/** 'dangerous', null when it is not, or in words what is lacking to tell. */
function judge(
  route: Route,
  target: Endpoint,
  functionId: string,
  { safe, dangerous }: FunctionLoss,
  unit: string,
): 'dangerous' | string | null {
  if (route.onLoss?.do !== 'substitute') return null;
  const { state, value } = route.onLoss;
  const domain = domainOfEndpoint(target);
  if (state !== undefined) {
    const raw = domain.kind === 'state' ? (domain.states.find(({ label }) => label === state)?.raw ?? null) : null;
    const level = levelOf(target, functionId, state, raw);
    // Of a function that is a number elsewhere, a state may be the flag beside it: "no reduction wanted" is safe.
    if (safe.some((one) => 'level' in one && one.level === level)) return null;
    for (const bad of dangerous) {
      if ('states' in bad && bad.states.some((one) => one.toLowerCase() === state.toLowerCase())) return 'dangerous';
      if ('level' in bad && level === bad.level) return 'dangerous';
      if ('level' in bad && level === null) return `the state "${state}" does not say whether it is on or off`;
      if ('above' in bad && bad.above === 0 && level === 'active') return 'dangerous';
      if ('below' in bad && level === 'inactive') return 'dangerous';
    }
    return null;
  }
  if (value === undefined) return null;
  const number = float(value);
  for (const bad of dangerous) {
    if (!('above' in bad) && !('below' in bad)) continue;
    // Numbers are compared in the function's own unit only; another unit with a zero of its own could mislead.
    const sameUnit = domain.kind === 'number' && (domain.unitText === unit || number === 0);
    if (!sameUnit)
      return `the target is in ${domain.kind === 'number' ? domain.unitText : 'no unit'}, the safe state in ${unit}`;
    if ('above' in bad && number > bad.above) return 'dangerous';
    if ('below' in bad && number < bad.below) return 'dangerous';
  }
  return null;
}

function given(route: Route): string {
  if (route.onLoss?.do !== 'substitute') return 'nothing';
  return route.onLoss.state === undefined ? String(route.onLoss.value) : `"${route.onLoss.state}"`;
}

function warning(state: string) {
  return flowCase({
    toHost: [bit('Overheat', 'coolant-overheat-warning')],
    route: () => ({ onLoss: { do: 'substitute', state } }),
  });
}
