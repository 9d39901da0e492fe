import { TEST_LIMITS } from '../tables/allowances.ts';
import { CAN_TERMINATION } from '../tables/can-physical.ts';
import { DROP_LIMITS } from '../tables/drop-limits.ts';
import { OPERATING_SUPPLY_V } from '../tables/electrical-classes.ts';
import type { BusPhysical } from '../bus/bus-physical.ts';
import type { ConnectorPage } from './connector-pages.ts';
import { placeText, type PlanContext } from './context.ts';
import { netOf, testRuns } from './nets.ts';
import { interlockTests } from './test-interlock.ts';
import { numbered, type TestDraft, type TestRow } from './test-row.ts';

/** The whole test sheet, page by page in the order in which a harness is proved. */
export function testSheet(
  context: PlanContext,
  pages: readonly ConnectorPage[],
  buses: readonly BusPhysical[],
): readonly TestRow[] {
  return numbered([
    ...continuityTests(context),
    ...isolationTests(context, pages),
    ...busTests(context, buses),
    ...feedTests(context),
    ...dropTests(context),
    ...interlockTests(context),
  ]);
}

const UNPLUGGED = 'harness on the bench, all modules and parts unplugged';

function continuityTests(context: PlanContext): TestDraft[] {
  return testRuns(context).map(({ from, to, conductors, mask }) => {
    const known = conductors.every(({ cutLengthMm }) => cutLengthMm !== null);
    const ohm = conductors.reduce(
      (sum, { size, cutLengthMm }) => sum + (size.ohmPerM20C * (cutLengthMm ?? 0)) / 1000,
      0,
    );
    const thick = conductors.some(({ size }) => size.areaMm2 > TEST_LIMITS.fourWireAboveMm2);
    return {
      kind: 'continuity',
      points: [placeText(from), placeText(to)],
      condition: UNPLUGGED,
      expectedValue: known ? ohm : null,
      expected: known ? `${(ohm * 1000).toFixed(0)} mΩ at 20 °C` : 'length not known: under 1 Ω',
      unit: 'Ω',
      lowest: null,
      highest: known ? ohm + TEST_LIMITS.continuityMarginOhm : 1,
      instrument: thick ? 'milliohm meter, four-wire' : 'milliohm meter',
      source: TEST_LIMITS.continuitySource,
      circuits: conductors.map(({ circuit }) => circuit.id),
      options: context.optionsOf(mask),
    };
  });
}

/** Each conductor against its neighbours in every housing, to the right and below. */
function isolationTests(context: PlanContext, pages: readonly ConnectorPage[]): TestDraft[] {
  return pages.flatMap((page) => {
    const at = new Map(page.cavities.map((cavity) => [`${cavity.row}/${cavity.column}`, cavity]));
    return page.cavities.flatMap((cavity) =>
      [at.get(`${cavity.row}/${cavity.column + 1}`), at.get(`${cavity.row + 1}/${cavity.column}`)].flatMap(
        (neighbour) =>
          cavity.conductors.flatMap((a) =>
            (neighbour?.conductors ?? []).flatMap((b): TestDraft[] => {
              const [one, other] = [context.byKey.get(a.key)!, context.byKey.get(b.key)!];
              const mask = one.circuit.mask & other.circuit.mask;
              if (netOf(one) === netOf(other) || mask === 0n) return [];
              return [
                {
                  kind: 'isolation',
                  points: [`${page.ref}-${cavity.cavity}`, `${page.ref}-${neighbour!.cavity}`],
                  condition: UNPLUGGED,
                  expectedValue: null,
                  expected: 'open',
                  unit: 'Ω',
                  lowest: TEST_LIMITS.isolationOhm,
                  highest: null,
                  instrument: 'insulation tester at low voltage',
                  source: TEST_LIMITS.isolationSource,
                  circuits: [a.circuit, b.circuit],
                  options: context.optionsOf(mask),
                },
              ];
            }),
          ),
      ),
    );
  });
}

/** Termination across each bus that the added harness touches, and its lines against supply and ground. */
function busTests(context: PlanContext, buses: readonly BusPhysical[]): TestDraft[] {
  return buses.flatMap((bus): TestDraft[] => {
    const highs = context.conductors.filter(({ circuit }) => touches(circuit.key, circuit.of, bus.ref, context));
    if (highs.length === 0) return [];
    const circuits = highs.map(({ circuit }) => circuit.id);
    const touchable = highs.map(({ circuit }) => (circuit.to.kind === 'splice' ? circuit.from : circuit.to));
    const points = [...new Set(touchable.map(placeText))].slice(0, 2);
    const mask = highs.reduce((all, { circuit }) => all | circuit.mask, 0n);
    const options = context.optionsOf(mask);
    const across: TestDraft = {
      kind: 'bus',
      points,
      condition: `${bus.ref}: in the vehicle, battery disconnected, everything plugged in`,
      expectedValue: Number.isFinite(bus.termination.pairOhm) ? bus.termination.pairOhm : null,
      expected: `${CAN_TERMINATION.pairOhm} Ω across the pair; the documents make ${Number.isFinite(bus.termination.pairOhm) ? `${bus.termination.pairOhm.toFixed(0)} Ω` : 'no termination at all'}`,
      unit: 'Ω',
      lowest: CAN_TERMINATION.pairMinOhm,
      highest: CAN_TERMINATION.pairMaxOhm,
      instrument: 'multimeter',
      source: CAN_TERMINATION.source,
      circuits,
      options,
    };
    const lines: TestDraft = {
      ...across,
      points: [...points, 'battery + and ground'],
      condition: UNPLUGGED,
      expectedValue: null,
      expected: 'each line open to battery and to ground',
      lowest: TEST_LIMITS.canToSupplyOhm,
      highest: null,
      source: TEST_LIMITS.canToSupplySource,
    };
    return [across, lines];
  });
}

function touches(key: string, of: string | null, busRef: string, { pairing }: PlanContext): boolean {
  if (key.startsWith('join:')) return key.slice(5, key.lastIndexOf('/')).split('=').includes(busRef);
  if (!key.startsWith('bus:') || of === null) return false;
  const [owner, port] = of.split('.');
  return pairing.interfaceModules.get(owner!)?.ports.some(({ id, bus }) => id === port && bus === busRef) ?? false;
}

/** Voltage at every place that a feed reaches, with its fuse in and out. */
function feedTests(context: PlanContext): TestDraft[] {
  return context.conductors.flatMap(({ circuit }): TestDraft[] => {
    const fed = circuit.kind === 'feed' || (circuit.kind === 'part' && circuit.fuse?.place === 'feed');
    if (!fed || circuit.to.kind === 'splice' || circuit.fuse === null) return [];
    const base = {
      kind: 'feed-voltage',
      points: [placeText(circuit.to), 'ground of the vehicle'],
      unit: 'V',
      instrument: 'multimeter',
      circuits: [circuit.id],
      options: context.optionsOf(circuit.mask),
    } as const;
    return [
      {
        ...base,
        condition: `${circuit.fuse.id} in, key in a position where it is live, module unplugged`,
        expectedValue: null,
        expected: 'battery voltage less 0.2 V at most',
        lowest: OPERATING_SUPPLY_V.min,
        highest: OPERATING_SUPPLY_V.max,
        source: 'operating range 9 to 16 V, ISO 16750-2 code C, from memory',
      },
      {
        ...base,
        condition: `${circuit.fuse.id} out, all other fuses in`,
        expectedValue: 0,
        expected: '0 V: nothing else feeds this conductor',
        lowest: null,
        highest: 0.1,
        source: 'common practice: a conductor that is live with its fuse out is fed from elsewhere',
      },
    ];
  });
}

/** From which current a drop is worth measuring, in amperes. */
const MEASURABLE_A = 0.5;

function dropTests(context: PlanContext): TestDraft[] {
  return context.conductors.flatMap((conductor): TestDraft[] => {
    const { circuit, duty, limitV, loopDropV, currentA, loop } = conductor;
    if (duty === null || limitV === null || loopDropV === null || currentA < MEASURABLE_A) return [];
    if (circuit.kind === 'splice-stub') return [];
    return [
      {
        kind: 'drop',
        points: [placeText(circuit.from), placeText(circuit.to)],
        condition: `under ${Number(currentA.toPrecision(3))} A${loop.length > 0 ? `, together with ${loop.join(', ')}` : ''}`,
        expectedValue: loopDropV,
        expected: `${(loopDropV * 1000).toFixed(0)} mV at ${conductor.ambientC} °C`,
        unit: 'V',
        lowest: null,
        highest: limitV,
        instrument: 'multimeter across the conductor, load on',
        source: DROP_LIMITS[duty].source,
        circuits: [circuit.id],
        options: context.optionsOf(circuit.mask),
      },
    ];
  });
}
