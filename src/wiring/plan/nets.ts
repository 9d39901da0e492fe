import type { CircuitEnd } from '../../model/index.ts';
import type { PlanContext } from './context.ts';
import type { PlannedConductor } from './planned-conductor.ts';

/** Two places that a tester can touch, with the conductors between them. */
export interface TestRun {
  readonly net: string;
  readonly from: CircuitEnd;
  readonly to: CircuitEnd;
  readonly conductors: readonly PlannedConductor[];
  readonly mask: bigint;
}

/** A conductor's electrical net within the added harness: its splice, or itself. */
export function netOf({ circuit }: PlannedConductor): string {
  for (const end of [circuit.from, circuit.to]) if (end.kind === 'splice') return end.splice;
  return circuit.key;
}

/** Runs to test for continuity. A splice cannot be touched: of a spliced net each place is tested against its first. */
export function testRuns(context: PlanContext): readonly TestRun[] {
  const nets = new Map<string, PlannedConductor[]>();
  for (const conductor of context.conductors) {
    const net = netOf(conductor);
    const list = nets.get(net);
    if (list) list.push(conductor);
    else nets.set(net, [conductor]);
  }
  return [...nets].flatMap(([net, conductors]): TestRun[] => {
    if (conductors.length === 1) {
      const [conductor] = conductors as [PlannedConductor];
      const { circuit } = conductor;
      return [{ net, from: circuit.from, to: circuit.to, conductors, mask: circuit.mask }];
    }
    const hub = conductors.find(({ circuit }) => circuit.kind === 'splice-stub') ?? conductors[0]!;
    const order = [hub, ...conductors.filter((conductor) => conductor !== hub)];
    return order.flatMap((conductor, place) => {
      // Where the first is not fitted, the next one that is takes its part.
      let left = conductor.circuit.mask;
      return order.slice(0, place).flatMap((other): TestRun[] => {
        const mask = other.circuit.mask & left;
        left &= ~other.circuit.mask;
        return mask === 0n
          ? []
          : [{ net, from: outer(other), to: outer(conductor), conductors: [other, conductor], mask }];
      });
    });
  });
}

function outer({ circuit }: PlannedConductor): CircuitEnd {
  return circuit.from.kind === 'splice' ? circuit.to : circuit.from;
}
