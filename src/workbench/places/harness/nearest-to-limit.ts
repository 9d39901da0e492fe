import type { PlannedConductor } from '../../../wiring/index.ts';
import type { ShownConductor } from '../../worker/harness-protocol.ts';

export interface NearLimit {
  readonly shown: ShownConductor;
  /** Of its limit; over 1 it is over. */
  readonly share: number;
  readonly of: 'drop' | 'current' | 'temperature';
}

/** The conductors that have least to spare, each by the worst of its drop, its current and its temperature above the ambient. */
export function nearestToLimit(conductors: readonly ShownConductor[], most: number): readonly NearLimit[] {
  return conductors
    .map((shown): NearLimit => ({ shown, ...worstOf(shown.conductor) }))
    .sort((a, b) => b.share - a.share)
    .slice(0, most);
}

function worstOf(conductor: PlannedConductor): Pick<NearLimit, 'share' | 'of'> {
  const { loopDropV, limitV, currentA, ampacityA, temperatureC, ambientC, insulationC } = conductor;
  const shares: readonly Pick<NearLimit, 'share' | 'of'>[] = [
    { of: 'drop', share: loopDropV === null || limitV === null ? 0 : loopDropV / limitV },
    { of: 'current', share: ampacityA > 0 ? currentA / ampacityA : currentA > 0 ? Infinity : 0 },
    {
      of: 'temperature',
      share: insulationC > ambientC ? (temperatureC - ambientC) / (insulationC - ambientC) : Infinity,
    },
  ];
  return shares.reduce((worst, one) => (one.share > worst.share ? one : worst));
}
