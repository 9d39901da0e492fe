import { dividerV } from '../divider.ts';
import { divider, pullUpTo } from '../conditioning.ts';
import type { FitDraft, Pair } from '../fit-draft.ts';
import { measure, withPrefix, type Conditioning } from '../fit-types.ts';
import { preferredNearest } from '../preferred.ts';

const BUFFER: Conditioning = {
  kind: 'buffer',
  what: 'unity buffer supplied by the receiving reference, and a re-scaling; or a second sensor on the receiver',
  components: [],
};

/** An analogue voltage on a converter: its range, and whose reference and return it uses. */
export function fitVoltage({ driver, receiver, rule, sharedReference }: Pair): FitDraft {
  const referenceV = receiver.of.maxV ?? 5;
  const highest = driver.of.maxV!;
  const list = [measure('highest level at the receiver', highest, 'V', 'at most', referenceV)];
  const draft = { measures: list, because: rule.says, onLevel: null } as const;
  if (highest > referenceV) return { ...draft, direct: 'damages', conditioning: [divider(highest, referenceV)] };
  if (driver.of.class === 'ratiometric-5v' && !sharedReference)
    return { ...draft, direct: 'misreads', conditioning: [BUFFER] };
  return { ...draft, direct: 'works', conditioning: [] };
}

/** Share of the converter's range that a resistive source should use, so that its resolution is not thrown away. */
const LEAST_SPAN = 0.3;

/** A resistance under a pull-up: one pull-up only, and enough of the range used. */
export function fitResistance({ driver, receiver, rule }: Pair): FitDraft {
  const referenceV = receiver.of.pullToV ?? receiver.of.maxV ?? 5;
  const [least, most] = driver.of.ohm!;
  const middle = Math.sqrt(Math.max(least, 1) * Math.max(most, 1));
  const span = (pullOhm: number): number =>
    (dividerV(referenceV, pullOhm, most) - dividerV(referenceV, pullOhm, least)) / referenceV;
  const calibrated = driver.given.pullOhm;
  const wantedOhm = calibrated ?? preferredNearest('E96', middle);
  const wantedWhy =
    calibrated !== undefined
      ? 'the value that the curve was made with'
      : `the geometric mean of ${withPrefix(least, 'Ohm')} and ${withPrefix(most, 'Ohm')} uses ${(span(wantedOhm) * 100).toFixed(0)} % of the range`;
  if (receiver.of.class === 'input-analogue') {
    const list = [measure('share of the range used', span(wantedOhm) * 100, '%', 'at least', LEAST_SPAN * 100)];
    return {
      direct: 'does-nothing',
      measures: list,
      conditioning: [pullUpTo(wantedOhm, referenceV, 'E96', wantedWhy)],
      because: rule.says,
      onLevel: null,
    };
  }
  const pullOhm = receiver.of.pullOhm!;
  const list = [
    measure('level at the lowest resistance', dividerV(referenceV, pullOhm, least), 'V'),
    measure('level at the highest resistance', dividerV(referenceV, pullOhm, most), 'V'),
    measure('share of the range used', span(pullOhm) * 100, '%', 'at least', LEAST_SPAN * 100),
  ];
  const draft = { measures: list, because: rule.says, onLevel: null } as const;
  if (calibrated !== undefined && Math.abs(calibrated / pullOhm - 1) > 0.02) {
    const replace = pullUpTo(
      calibrated,
      referenceV,
      'E96',
      `the curve was made with it; the receiver has ${withPrefix(pullOhm, 'Ohm')}: re-measure the curve, or replace its pull-up`,
    );
    return { ...draft, direct: 'misreads', conditioning: [replace] };
  }
  if (driver.of.class === 'resistor-ladder' && calibrated === undefined) {
    const same = pullUpTo(
      pullOhm,
      referenceV,
      'E96',
      'the codes hold for the pull-up they were measured with: re-measure all of them with this one',
    );
    return { ...draft, direct: 'misreads', conditioning: [same] };
  }
  if (span(pullOhm) < LEAST_SPAN) {
    // A lower value in parallel with the receiver's own brings the pull down to what the sender's range asks for.
    const parallel = preferredNearest('E96', 1 / (1 / middle - 1 / Math.max(pullOhm, middle * 1.01)));
    const together = 1 / (1 / parallel + 1 / pullOhm);
    const added = pullUpTo(
      parallel,
      referenceV,
      'E96',
      `beside the receiver's own ${withPrefix(pullOhm, 'Ohm')}, ${(span(together) * 100).toFixed(0)} % of the range are used instead of ${(span(pullOhm) * 100).toFixed(0)} %`,
    );
    return { ...draft, direct: 'misreads', conditioning: [added] };
  }
  return { ...draft, direct: 'works', conditioning: [] };
}

/** A sender on a gauge: both of one range of resistance. */
export function fitGauge({ driver, receiver, rule }: Pair): FitDraft {
  const [from, to] = [driver.given.ohm, receiver.given.ohm];
  if (!from || !to)
    return {
      direct: 'misreads',
      measures: [],
      conditioning: [],
      because: 'the range of the sender or of the gauge is not stated',
      onLevel: null,
    };
  const off = Math.max(Math.abs(from[0] - to[0]), Math.abs(from[1] - to[1]));
  const list = [measure('difference of the ranges', off, 'Ohm', 'at most', 0.1 * Math.max(...to))];
  const works = list[0]!.holds !== false;
  return {
    direct: works ? 'works' : 'misreads',
    measures: list,
    conditioning: [],
    because: works
      ? rule.says
      : 'sender and gauge have different ranges: a second sensor or a synthesised resistance is needed',
    onLevel: null,
  };
}
