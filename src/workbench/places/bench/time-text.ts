/** Ticks of a time axis: a step of 1, 2 or 5 times a power of ten that leaves at most `most` of them in a stretch. */
export function tickStepUs(widthUs: number, most: number): number {
  const least = widthUs / Math.max(1, most);
  const power = 10 ** Math.floor(Math.log10(Math.max(1, least)));
  return [1, 2, 5, 10].map((times) => times * power).find((step) => step >= least) ?? 10 * power;
}

/** The ticks within a stretch, in microseconds since the beginning. */
export function ticksBetween(fromUs: number, toUs: number, most: number): readonly number[] {
  const step = tickStepUs(toUs - fromUs, most);
  const ticks: number[] = [];
  for (let at = Math.ceil(fromUs / step) * step; at <= toUs && ticks.length <= most + 1; at += step) ticks.push(at);
  return ticks;
}

/** A time since the beginning, with as many places as a step needs: "12.345 s", "1:02:03.5". */
export function timeText(us: number, stepUs = 1): string {
  const places = Math.max(0, Math.min(6, Math.ceil(6 - Math.log10(Math.max(1, stepUs)))));
  const sign = us < 0 ? '−' : '';
  const unit = 10 ** (6 - places);
  const rounded = Math.round(Math.abs(us) / unit) * unit;
  const whole = Math.floor(rounded / 1e6);
  const rest =
    places === 0
      ? ''
      : `.${String(Math.round(rounded % 1e6))
          .padStart(6, '0')
          .slice(0, places)}`;
  if (whole < 60) return `${sign}${whole}${rest} s`;
  const two = (count: number): string => String(count).padStart(2, '0');
  const [hours, minutes, seconds] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  return `${sign}${hours > 0 ? `${hours}:${two(minutes)}` : minutes}:${two(seconds)}${rest}${hours > 0 ? ' h' : ' min'}`;
}

/** An age or a length of time in ms, in the unit that reads best. */
export function ageText(ms: number): string {
  if (ms < 1000) return `${ms < 10 ? Math.round(ms * 10) / 10 : Math.round(ms)} ms`;
  return `${ms < 60_000 ? (ms / 1000).toFixed(1) : Math.round(ms / 1000)} s`;
}
