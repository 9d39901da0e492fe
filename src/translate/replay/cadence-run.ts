import type { ModulePlan } from '../plan/types.ts';
import type { TransmitRun } from './transmit-run.ts';
import { endsHolding } from './route-run.ts';

/** The clock of all transmits of a module. */
export interface CadenceRun {
  start(timeUs: number): void;
  /** Sends what is due at this tick, in the order of the map. */
  tick(timeUs: number): void;
  /** Something that a transmit is made from has changed. */
  touch(transmits: readonly number[]): void;
  /** Anything may have changed. */
  touchAll(): void;
}

export function createCadence(plan: ModulePlan, transmits: readonly TransmitRun[]): CadenceRun {
  const count = transmits.length;
  const dueUs = new Float64Array(count).fill(Infinity);
  const cycleUs = new Float64Array(count);
  const phaseUs = new Float64Array(count);
  const gapUs = new Float64Array(count).fill(-1);
  /** Routes that change by themselves keep their transmit touched. */
  const restless = Uint8Array.from(plan.transmits, ({ pages }) =>
    pages.some(({ fields }) =>
      fields.some(({ routes }) =>
        routes.some((index) => plan.routes[index]!.everyTick || endsHolding(plan.routes[index]!)),
      ),
    )
      ? 1
      : 0,
  );
  const touched = new Uint8Array(count).fill(1);
  plan.transmits.forEach(({ cadence }, index) => {
    if (cadence.kind === 'cyclic' || cadence.kind === 'cyclic-and-on-change') {
      cycleUs[index] = cadence.cycleUs;
      phaseUs[index] = cadence.phaseUs;
    }
    if (cadence.kind === 'on-change' || cadence.kind === 'cyclic-and-on-change') gapUs[index] = cadence.minGapUs;
  });
  return {
    start(timeUs) {
      for (let index = 0; index < count; index += 1) if (cycleUs[index]! > 0) dueUs[index] = timeUs + phaseUs[index]!;
    },
    touch(list) {
      for (let index = 0; index < list.length; index += 1) touched[list[index]!] = 1;
    },
    touchAll() {
      touched.fill(1);
    },
    tick(timeUs) {
      for (let index = 0; index < count; index += 1) {
        if (timeUs >= dueUs[index]!) {
          let next = dueUs[index]! + cycleUs[index]!;
          // A cycle shorter than the period: the next moment of the grid.
          if (next <= timeUs) next += Math.ceil((timeUs - next + 1) / cycleUs[index]!) * cycleUs[index]!;
          dueUs[index] = next;
          transmits[index]!.inTurn(timeUs);
        } else if (gapUs[index]! >= 0 && (touched[index] === 1 || restless[index] === 1)) {
          transmits[index]!.changed(gapUs[index]!, timeUs);
        }
      }
    },
  };
}
