/** A shade for the n-th signal of a message; the number printed beside it carries the meaning, the shade only helps the eye. */
export function signalShade(index: number): string {
  const hue = (index * 137.508) % 360;
  return `oklch(from var(--accent-soft) l 0.07 ${hue.toFixed(0)})`;
}
