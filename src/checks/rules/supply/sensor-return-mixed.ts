import type { Circuit, CircuitEnd, Pairing } from '../../../model/index.ts';
import type { WiringPlan } from '../../../wiring/index.ts';
import { circuitRef, circuitWords } from '../../circuits.ts';
import { mendBy } from '../../mends.ts';
import { groundAt } from '../../supplies.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { supplyCase, harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/sensor-return-mixed',
  severity: 'fix',
  title: 'Sensor return is mixed with a power ground',
  why: 'What a fan or a module returns through the conductor of a sensor is added to its reading: the temperature moves when the fan starts.',
  sources: [commonPractice('sensor returns go to the controller that supplies the sensor, never to the chassis')],
  check: {
    interface({ pairing }, owner) {
      const found = groundAt(pairing, owner.ground);
      if (found?.ground.kind !== 'sensor') return null;
      const other = [...pairing.side(found.side).grounds.values()].find(
        ({ kind, of }) => kind === 'power' && of === undefined,
      );
      return [
        {
          message: `${owner.title} (${owner.id}) returns ${owner.maxA === undefined ? 'its current' : `${owner.maxA} A`} by ${owner.ground}, which is a sensor return`,
          mask: pairing.options.maskOf(owner.when),
          values: [
            named('module', owner.id),
            named('ground', owner.ground!),
            named('current', owner.maxA ?? 'not stated', owner.maxA === undefined ? '' : 'A'),
          ],
          mend: other
            ? mendBy(`ground ${owner.id} at ${found.side}:${other.id}`, {
                do: 'set',
                in: 'map',
                path: ['interfaceModules', { id: owner.id }, 'ground'],
                to: `${found.side}:${other.id}`,
              })
            : null,
        },
      ];
    },
    harness({ pairing }, plan) {
      const power = powerPlaces(pairing);
      const nets = netsOf(plan);
      return plan.conductors.flatMap(({ circuit }): Draft[] => {
        if (!isSensorReturn(circuit)) return [];
        const onPower = [circuit.from, circuit.to].map((end) => power.get(end.key)).find((ref) => ref !== undefined);
        const joined = [circuit.from, circuit.to]
          .flatMap((end) => (end.kind === 'splice' ? (nets.get(end.splice) ?? []) : []))
          .find((one) => one !== circuit && isPowerGround(one) && (one.mask & circuit.mask) !== 0n);
        if (onPower === undefined && !joined) return [];
        return [
          {
            subject: circuitRef(circuit),
            message: `${circuitWords(circuit)} is a sensor return and ${onPower !== undefined ? `ends on the power ground ${onPower}` : `is spliced with ${joined!.id}, a power ground`}`,
            mask: circuit.mask,
            values: [named('conductor', circuit.id), named('power ground', onPower ?? joined!.id)],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The interface module is grounded at the sensor ground of a controller.',
      documents: supplyCase({ ground: { kind: 'sensor' } }),
      expect: ['xm'],
    }),
    passing: () => ({ says: 'It is grounded at a power ground.', documents: harnessCase(), expect: [] }),
  },
};

/** Places of the power grounds of both platforms. */
function powerPlaces(pairing: Pairing): ReadonlyMap<CircuitEnd['key'], string> {
  const places = new Map<string, string>();
  for (const { name, platform } of [pairing.host, pairing.donor]) {
    for (const { id, kind, at } of platform.grounds) {
      if (kind !== 'power') continue;
      places.set(at ? `${name}:${at.connector}/${at.cavity}` : `${name}:${id}`, `${name}:${id}`);
    }
  }
  return places;
}

function isSensorReturn({ kind, fromElectrical, toElectrical }: Circuit): boolean {
  // The ground of a module on a sensor return is told of the module.
  if (kind === 'ground') return false;
  return (
    kind === 'sensor-return' || fromElectrical?.class === 'sensor-return' || toElectrical?.class === 'sensor-return'
  );
}

function isPowerGround({ kind, fromElectrical, toElectrical }: Circuit): boolean {
  return kind === 'ground' || fromElectrical?.class === 'power-ground' || toElectrical?.class === 'power-ground';
}

function netsOf({ conductors }: WiringPlan): ReadonlyMap<string, readonly Circuit[]> {
  const nets = new Map<string, Circuit[]>();
  for (const { circuit } of conductors) {
    for (const end of [circuit.from, circuit.to]) {
      if (end.kind === 'splice') nets.set(end.splice, [...(nets.get(end.splice) ?? []), circuit]);
    }
  }
  return nets;
}
