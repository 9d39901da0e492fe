import { type Rational, mul, roundHalfAway } from '../../number/index.ts';

import type { WireQuantityName } from '../domain/value-domain.ts';
import type { RouteEvaluation } from '../evaluate/evaluate.ts';
import type { LiveValue } from '../evaluate/live-value.ts';
import type { PlannedRoute } from '../plan/types.ts';
import { milliohms } from '../program/build-source.ts';
import type { LossAction } from '../program/loss-plan.ts';
import { MEASURED } from '../program/types.ts';
import { targetStep, workingError } from './working-error.ts';

/** What stands in a field or on a wire, with the room that its working leaves. */
export type Written =
  | { readonly kind: 'raw'; readonly lo: bigint; readonly hi: bigint; readonly value: LiveValue | null }
  | { readonly kind: 'float'; readonly value: number; readonly tolerance: number }
  | { readonly kind: 'switched'; readonly active: boolean }
  /** Thousandths of the quantity. */
  | {
      readonly kind: 'measured';
      readonly of: WireQuantityName;
      readonly lo: number;
      readonly hi: number;
      readonly value: LiveValue | null;
    }
  /** The message is not sent, the wire is open. */
  | { readonly kind: 'nothing' };

/** What the steps of a route give: something to write, or why there is nothing. */
export type Given =
  | { readonly kind: 'value'; readonly written: Written }
  | { readonly kind: 'none'; readonly why: 'lost' | 'not-available' | 'error' };

/** The exact result of a route as it is written: raw values, or thousandths on a wire. */
export function givenBy(planned: PlannedRoute, { delivered, target }: RouteEvaluation): Given {
  if (target.value.kind === 'none') {
    const lost = delivered.kind === 'none' && delivered.why === 'absent';
    return { kind: 'none', why: lost ? 'lost' : target.value.means };
  }
  const { output } = planned.compiled.program;
  const room = roomOf(planned);
  switch (output.kind) {
    case 'field': {
      const raw = BigInt(target.raw ?? 0);
      const { coding } = numberTarget(planned);
      const usable = coding?.kind === 'integer' ? coding.usable : null;
      const spread = BigInt(room);
      const low = raw - spread;
      const high = raw + spread;
      return {
        kind: 'value',
        written: {
          kind: 'raw',
          lo: usable !== null && low < usable.lo && raw >= usable.lo ? usable.lo : low,
          hi: usable !== null && high > usable.hi && raw <= usable.hi ? usable.hi : high,
          value: target.value,
        },
      };
    }
    case 'float-field': {
      const value = Number(target.raw);
      const scale = Math.max(Math.abs(value), Math.abs(output.offset), Math.abs(output.factor));
      const tolerance =
        (output.number === 'float32' ? 2 ** -20 : 2 ** -40) * scale +
        (room > 0 ? Math.max(scale, 1) * 2 ** -20 + workingError(planned) / targetStep(planned) : 0);
      return { kind: 'value', written: { kind: 'float', value, tolerance } };
    }
    case 'switched-wire': {
      const { target: domain } = planned.compiled.analysis;
      const active =
        domain?.kind === 'state' && target.value.kind === 'state' && domain.states[0]?.label === target.value.label;
      return { kind: 'value', written: { kind: 'switched', active } };
    }
    case 'measured-wire':
      return { kind: 'value', written: measured(planned, target.level, target.value, output.of) };
  }
}

function measured(
  planned: PlannedRoute,
  level: Rational | null,
  value: LiveValue,
  of: WireQuantityName,
): Extract<Written, { kind: 'measured' }> {
  if (level === null) {
    // A resistor code: any resistance within it is right.
    const endpoint = planned.compiled.analysis.pairing.find(planned.route.to);
    const meaning = endpoint?.kind === 'wire' ? endpoint.wire.meaning : undefined;
    const code =
      meaning && 'codes' in meaning && value.kind === 'state'
        ? meaning.codes.find(({ state }) => state === value.label)
        : undefined;
    const [lo, hi] = code === undefined ? [0, 0] : [milliohms(code.ohm[0]), milliohms(code.ohm[1])].map(Number);
    return { kind: 'measured', of, lo: lo!, hi: hi!, value };
  }
  const room = roomOf(planned);
  const exact = roundHalfAway(mul(level, { num: 1000n, den: 1n }));
  const kept = exact < MEASURED.lo ? MEASURED.lo : exact > MEASURED.hi ? MEASURED.hi : exact;
  return { kind: 'measured', of, lo: Number(kept) - room, hi: Number(kept) + room, value };
}

/** What a route writes by a loss action; `held` is what it last wrote. Null when nothing was ever written. */
export function lossWritten(
  planned: PlannedRoute,
  action: LossAction,
  held: Written | null,
  holdOver: boolean,
): Written | null {
  switch (action.kind) {
    case 'stop':
      return { kind: 'nothing' };
    case 'write':
      return rawWritten(planned, action.raw);
    case 'hold':
      if (action.forMs !== null && holdOver) return lossWritten(planned, action.then, held, true);
      return held;
  }
}

/** A raw value of the output as it stands there. */
export function rawWritten({ compiled: { program } }: PlannedRoute, raw: bigint | number): Written {
  switch (program.output.kind) {
    case 'field':
      return { kind: 'raw', lo: BigInt(raw), hi: BigInt(raw), value: null };
    case 'float-field': {
      const value = program.output.number === 'float32' ? Math.fround(Number(raw)) : Number(raw);
      return { kind: 'float', value, tolerance: Math.abs(value) * 2 ** -20 };
    }
    case 'switched-wire':
      return { kind: 'switched', active: Number(raw) === 1 };
    case 'measured-wire':
      return { kind: 'measured', of: program.output.of, lo: Number(raw), hi: Number(raw), value: null };
  }
}

/** Steps of the target by which the working of a route may be off, beside the rounding into it: 0 where it works exactly. */
export function roomOf(planned: PlannedRoute): number {
  const { program } = planned.compiled;
  const inexact =
    program.working.some(({ exact }) => !exact) ||
    program.sources.some(({ kind }) => kind === 'float') ||
    program.nodes.some(({ kind }) => kind === 'smooth' || kind === 'rate-limit');
  return inexact ? Math.min(2 ** 52, 1 + Math.ceil(workingError(planned) / targetStep(planned))) : 0;
}

function numberTarget({ compiled: { analysis } }: PlannedRoute): {
  readonly coding: Extract<NonNullable<typeof analysis.target>, { kind: 'number' }>['coding'];
} {
  return { coding: analysis.target?.kind === 'number' ? analysis.target.coding : null };
}
