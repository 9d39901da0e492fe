import { AWG_RULE } from '../tables/awg.ts';

/** Millimetres in an inch, exact. */
const INCH_MM = 25.4;

/** A gauge as a number: 20 → 20, `1/0` → 0, `2/0` → −1, `4/0` → −3; null when the text is no gauge. */
export function awgNumber(gauge: string): number | null {
  const aught = /^([1-4])\/0$/.exec(gauge);
  if (aught) return 1 - Number(aught[1]);
  const plain = /^\d{1,2}$/.exec(gauge);
  if (!plain) return null;
  const number = Number(gauge);
  return number >= 0 && number <= 56 ? number : null;
}

/** Diameter of the solid conductor in millimetres. ASTM B258: 0.005 in · 92^((36 − n)/39). Throws RangeError for no gauge. */
export function awgDiameterMm(gauge: string): number {
  const n = awgNumber(gauge);
  if (n === null) throw new RangeError(`"${gauge}" is no American wire gauge: write 20 or 2/0`);
  return AWG_RULE.atGauge36Inch * AWG_RULE.base ** ((36 - n) / AWG_RULE.steps) * INCH_MM;
}

/** Cross-section of the solid conductor in mm². */
export function awgAreaMm2(gauge: string): number {
  return (Math.PI / 4) * awgDiameterMm(gauge) ** 2;
}

/** Cross-section in circular mils: the square of the diameter in thousandths of an inch. */
export function awgCircularMil(gauge: string): number {
  return ((awgDiameterMm(gauge) / INCH_MM) * 1000) ** 2;
}
