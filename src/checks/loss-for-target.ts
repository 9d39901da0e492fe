import { levelOfState, wireKind, type Endpoint, type FunctionLoss, type LossBehaviour } from '../model/index.ts';
import { domainOfEndpoint } from '../translate/index.ts';
import { parseExact, toExact, compare } from '../number/index.ts';

/** The function's safe loss behaviour as a route can give it to this target; null when none of them can be given. */
export function lossForTarget(
  loss: FunctionLoss | null,
  target: Endpoint,
  functionId: string | null,
): LossBehaviour | null {
  for (const safe of loss?.safe ?? []) {
    switch (safe.do) {
      case 'hold':
        return { do: 'hold' };
      case 'open-output':
        if (target.kind === 'wire') return { do: 'open-output' };
        break;
      case 'not-available':
        if (target.kind === 'signal' && (target.signal.notAvailable?.length ?? 0) > 0)
          return { do: 'substitute', notAvailable: true };
        if (target.kind === 'wire' && wireKind(target.wire) === 'state') break;
        if (target.kind === 'message') return { do: 'stop-sending' };
        break;
      case 'substitute': {
        const given = substituteFor(safe, target, functionId);
        if (given) return given;
      }
    }
  }
  return target.kind === 'message' ? { do: 'stop-sending' } : null;
}

type Substitute = Extract<FunctionLoss['safe'][number], { do: 'substitute' }>;

function substituteFor(safe: Substitute, target: Endpoint, functionId: string | null): LossBehaviour | null {
  const domain = domainOfEndpoint(target);
  if ('value' in safe) {
    if (domain.kind !== 'number' || domain.unit === null) return null;
    const value = parseExact(safe.value);
    if (value === null || !domain.interval) return null;
    const inside = compare(domain.interval.lo, value) <= 0 && compare(value, domain.interval.hi) <= 0;
    return inside ? { do: 'substitute', value: toExact(value) } : null;
  }
  if (domain.kind !== 'state') return null;
  const wanted =
    'state' in safe
      ? domain.states.find(({ label }) => label.toLowerCase() === safe.state.toLowerCase())
      : domain.states.find(({ label, raw }) => levelOf(target, functionId, label, raw) === safe.level);
  return wanted ? { do: 'substitute', state: wanted.label } : null;
}

/** The level a state of a target stands for: by its wire's meaning, else by catalogue, word and raw value. */
export function levelOf(
  target: Endpoint,
  functionId: string | null,
  label: string,
  raw: string | null,
): 'active' | 'inactive' | null {
  if (target.kind === 'wire' && target.wire.meaning && 'active' in target.wire.meaning) {
    if (target.wire.meaning.active === label) return 'active';
    if (target.wire.meaning.inactive === label) return 'inactive';
  }
  return levelOfState(functionId ?? undefined, label, raw);
}
