import { parseExact } from '../../number/index.ts';
import type { LossBehaviour } from '../../model/index.ts';
import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import { encodeRaw, writeTarget } from '../evaluate/target-end.ts';
import type { ValueDomain } from '../domain/value-domain.ts';
import { noValue } from '../evaluate/live-value.ts';
import { valueAt } from '../function/pieces.ts';
import { levelsOfTarget } from './build-output.ts';
import { wholeCounts } from './builder.ts';
import type { Output } from './types.ts';

/** What is written when a route has no value: raw values of its output (a float output: the float). */
export interface LossPlan {
  /** Raw value that tells the reader "not available" / "error"; null: the target has none. */
  readonly notAvailable: bigint | null;
  readonly error: bigint | null;
  readonly onLoss: LossAction;
  /** Before the first value. */
  readonly atStart: LossAction;
}

export type LossAction =
  /** The last value for so long (null: without end), then something else. With nothing to hold yet, `then` at once. */
  | { readonly kind: 'hold'; readonly forMs: number | null; readonly then: Exclude<LossAction, { kind: 'hold' }> }
  | { readonly kind: 'write'; readonly raw: bigint | number }
  /** The message is not sent; a wire is opened. */
  | { readonly kind: 'stop' };

const STOP: LossAction = { kind: 'stop' };

/** The loss behaviour of a route in raw values of its output. */
export function lossPlanOf(analysis: RouteAnalysis, output: Output): LossPlan {
  const { route, target } = analysis;
  const special = (means: 'not-available' | 'error'): bigint | null => {
    const { raw } = writeTarget(target, noValue('absent', means));
    return typeof raw === 'bigint' ? raw : null;
  };
  const notAvailable = output.kind === 'field' ? special('not-available') : null;
  const error = output.kind === 'field' ? special('error') : null;
  const tell: Exclude<LossAction, { kind: 'hold' }> =
    notAvailable === null ? { kind: 'stop' } : { kind: 'write', raw: notAvailable };
  const onLoss = actionOf(route.onLoss, target, output, tell);
  return { notAvailable, error, onLoss, atStart: startOf(route.atStart, onLoss, tell) };
}

function actionOf(
  onLoss: LossBehaviour | undefined,
  target: ValueDomain | null,
  output: Output,
  tell: Exclude<LossAction, { kind: 'hold' }>,
): LossAction {
  if (onLoss === undefined) return { kind: 'hold', forMs: null, then: tell };
  switch (onLoss.do) {
    case 'hold': {
      const then = onLoss.then === undefined || onLoss.then === 'not-available' ? tell : ({ kind: 'stop' } as const);
      return { kind: 'hold', forMs: onLoss.forMs ?? null, then };
    }
    case 'substitute': {
      const raw = substituted(onLoss, target, output);
      return raw === null ? tell : { kind: 'write', raw };
    }
    case 'stop-sending':
    case 'open-output':
      return STOP;
  }
}

function startOf(atStart: RouteAnalysis['route']['atStart'], onLoss: LossAction, tell: LossAction): LossAction {
  switch (atStart) {
    case 'not-available':
      return tell;
    case 'stop-sending':
      return STOP;
    case 'loss-behaviour':
    case undefined:
      return onLoss;
  }
}

/** The raw value of a substitute; null when it says "not available" or cannot be written. */
function substituted(
  { value, state }: Extract<LossBehaviour, { do: 'substitute' }>,
  target: ValueDomain | null,
  output: Output,
): bigint | number | null {
  if (value !== undefined && target?.kind === 'number') {
    const exact = parseExact(value);
    if (exact === null) return null;
    switch (output.kind) {
      case 'field':
        return target.coding?.kind === 'integer' ? (encodeRaw(exact, target.coding, target)?.raw ?? null) : null;
      case 'float-field': {
        const { raw } = writeTarget(target, { kind: 'number', value: exact });
        return typeof raw === 'number' ? Math.min(output.hi, Math.max(output.lo, raw)) : null;
      }
      case 'measured-wire': {
        const level = valueAt(levelsOfTarget(target), exact);
        return level === null ? null : wholeCounts(level, { num: 1n, den: 1n });
      }
      case 'switched-wire':
        return null;
    }
  }
  if (state !== undefined && target?.kind === 'state') {
    const entry = target.states.find(({ label }) => label === state);
    if (entry === undefined) return null;
    if (output.kind === 'field') return entry.raw === null ? null : BigInt(entry.raw);
    if (output.kind === 'switched-wire') return entry === target.states[0] ? 1n : 0n;
  }
  return null;
}
