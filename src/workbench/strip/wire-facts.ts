import type { Electrical } from '../../model/index.ts';

const CONTACTS = { 'normally-open': 'normally open', 'normally-closed': 'normally closed' } as const;

/** What is known of the electrical character of an end: name and value with its unit, what tells most first. */
export function electricalFacts(electrical: Electrical): readonly (readonly [string, string])[] {
  const { activeLevel, contact, openV, minV, maxV, thresholdLowV, thresholdHighV, pullOhm, pullToV } = electrical;
  const { maxA, loadA, inrushA, ohm, frequencyHz, dutyPercent } = electrical;
  const facts: (readonly [string, string] | null)[] = [
    activeLevel === undefined ? null : ['active level', activeLevel],
    contact === undefined ? null : ['contact', CONTACTS[contact]],
    openV === undefined ? null : ['open', `${openV} V`],
    minV === undefined && maxV === undefined ? null : ['level', span(minV, maxV, 'V')],
    thresholdLowV === undefined && thresholdHighV === undefined
      ? null
      : ['thresholds', span(thresholdLowV, thresholdHighV, 'V')],
    pullOhm === undefined ? null : ['pull', `${pullOhm} Ω${pullToV === undefined ? '' : ` to ${pullToV} V`}`],
    ohm === undefined ? null : ['resistance', span(ohm[0], ohm[1], 'Ω')],
    frequencyHz === undefined ? null : ['frequency', span(frequencyHz[0], frequencyHz[1], 'Hz')],
    dutyPercent === undefined ? null : ['duty', span(dutyPercent[0], dutyPercent[1], '%')],
    maxA === undefined ? null : ['can carry', `${maxA} A`],
    loadA === undefined ? null : ['draws', `${loadA} A${inrushA === undefined ? '' : `, ${inrushA} A at switch-on`}`],
  ];
  return facts.filter((fact) => fact !== null);
}

function span(low: number | undefined, high: number | undefined, unit: string): string {
  if (low === undefined) return `up to ${high} ${unit}`;
  if (high === undefined) return `from ${low} ${unit}`;
  return `${low} … ${high} ${unit}`;
}
