/** Functions which exist twice so that one checks the other. */
export const REDUNDANT_PAIRS: readonly (readonly [string, string])[] = [
  ['service-brake-switch-primary', 'service-brake-switch-secondary'],
  ['accelerator-pedal-position-1', 'accelerator-pedal-position-2'],
];

/** The other half of a redundant function; null for a function without one. */
export function otherHalf(functionId: string): string | null {
  for (const [first, second] of REDUNDANT_PAIRS) {
    if (functionId === first) return second;
    if (functionId === second) return first;
  }
  return null;
}
