import { describe, expect, it } from 'vitest';
import { DRIVER_CLASSES, RECEIVER_CLASSES, type Electrical } from '../../src/model/index.ts';
import {
  ELECTRICAL_CLASSES,
  OPERATING_SUPPLY_V,
  PAIRING_RULES,
  dividerV,
  pairElectrical,
  pairingRule,
  parallelOhm,
  type ElectricalFit,
} from '../../src/wiring/index.ts';

const of = (driver: Electrical | Electrical['class'], receiver: Electrical | Electrical['class']): ElectricalFit =>
  pairElectrical(
    typeof driver === 'string' ? { class: driver } : driver,
    typeof receiver === 'string' ? { class: receiver } : receiver,
  );
const component = (fit: ElectricalFit, role: string): number =>
  fit.conditioning.flatMap(({ components }) => components).find((one) => one.role === role)!.value;
const value = (fit: ElectricalFit, name: string): number => fit.measures.find((one) => one.name === name)!.value;

describe('every pair', () => {
  it('of a driver and a receiver has a rule, a verdict and a reason', () => {
    for (const driver of DRIVER_CLASSES)
      for (const receiver of RECEIVER_CLASSES) {
        expect(pairingRule(driver, receiver), `${driver} on ${receiver}`).not.toBeNull();
        const fit = of(driver, receiver);
        expect(fit.because.length).toBeGreaterThan(3);
        if (fit.verdict === 'fits') expect(fit.direct).toBe('works');
        if (fit.verdict === 'fits-with-conditioning') expect(fit.conditioning.length).toBeGreaterThan(0);
        if (fit.verdict === 'does-not-fit') expect(fit.conditioning).toEqual([]);
        for (const { components } of fit.conditioning)
          for (const { value: size } of components) expect(size > 0 && Number.isFinite(size)).toBe(true);
      }
  });

  it('agrees with the conventions of vehicle inputs and outputs: direct fits, condition needs something, never is never direct', () => {
    const named = PAIRING_RULES.filter(({ practised }) => practised !== null);
    expect(named.length).toBeGreaterThan(40);
    const disagreements = named.flatMap(({ driver, receiver, practised }) => {
      const { verdict } = of(driver, receiver);
      const agrees =
        practised === 'direct'
          ? verdict === 'fits'
          : practised === 'condition'
            ? verdict === 'fits-with-conditioning'
            : verdict !== 'fits';
      return agrees ? [] : [`${driver} on ${receiver}: practice says ${practised}, computed ${verdict}`];
    });
    // A bus pair is conditioned on bit rate and termination, which src/wiring/bus judges; a permanent feed drives a coil
    // as it is, and whether it is live while cranking is judged along the feed tree.
    expect(disagreements).toEqual([
      'can-high on can-high: practice says condition, computed fits',
      'feed on coil-to-ground: practice says condition, computed fits',
    ]);
  });

  it('has no class twice in the table of classes', () => {
    const ids = ELECTRICAL_CLASSES.map(({ referenceId }) => referenceId);
    expect(new Set(ids).size).toBe(ids.length);
    const known = new Set(ELECTRICAL_CLASSES.map((row) => row.class));
    // A gauge is a receiver of resistance only, and the low line of a pair is described with the high one.
    const missing = [...DRIVER_CLASSES, ...RECEIVER_CLASSES].filter((one) => !known.has(one));
    expect(missing).toEqual(['resistive-gauge']);
  });
});

describe('levels', () => {
  it('a switch to battery on a pull-down: lowest 9 V less the ground shift, against 6 V', () => {
    const fit = of('switched-battery', 'input-pull-down');
    expect(fit.verdict).toBe('fits');
    expect(value(fit, 'lowest high level')).toBeCloseTo(8.8, 9);
    expect(fit.activeLevel).toBe('high');
  });

  it('leakage of a smart switch on a large pull-down asks for a bleed resistor (Ohm’s law)', () => {
    const leaky = of(
      { class: 'switched-battery', leakageA: 0.0005 },
      { class: 'input-pull-down', pullOhm: 47_000, thresholdLowV: 3.5, thresholdHighV: 6 },
    );
    expect(0.0005 * 47_000).toBeGreaterThan(16);
    expect(value(leaky, 'highest low level')).toBeCloseTo(16.2, 9);
    expect([leaky.verdict, leaky.direct, leaky.conditioning[0]!.kind]).toEqual([
      'fits-with-conditioning',
      'misreads',
      'pull-down',
    ]);
    const ohm = component(leaky, 'bleed');
    expect(0.0005 * parallelOhm(ohm, 47_000)).toBeLessThan(3.5);
  });

  it('a switch to ground on a pull-down gets the pull-up that lifts it over 6 V at 9 V, and is inverted', () => {
    const fit = of('switched-ground', { class: 'input-pull-down', activeLevel: 'high' });
    expect([fit.verdict, fit.conditioning[0]!.kind, fit.activeLevel, fit.inverted]).toEqual([
      'fits-with-conditioning',
      'pull-up',
      'low',
      true,
    ]);
    const ohm = component(fit, 'pull-up');
    expect(dividerV(OPERATING_SUPPLY_V.min, ohm, 10_000)).toBeGreaterThan(6);
    // Practice: 1 to 2.2 kΩ against pull-downs of some kΩ; at least three times stronger than the pull-down.
    expect(ohm).toBeLessThanOrEqual(10_000 / 3);
  });

  it('no pull-up does when the driver sinks too little for it', () => {
    const fit = of({ class: 'open-collector', maxA: 0.004 }, { class: 'input-pull-down', pullOhm: 2000 });
    expect(fit.verdict).toBe('does-not-fit');
  });

  it('a 5 V output on a pull-up to battery is damaged; a diode keeps it and still pulls under 3 V', () => {
    const fit = of('push-pull-5v', 'input-pull-up-12v');
    expect([fit.direct, fit.conditioning[0]!.kind]).toEqual(['damages', 'diode']);
  });

  it('battery level on a pull-up to 5 V is damage; a transistor turns it round', () => {
    const fit = of('switched-battery', { class: 'input-pull-up-5v', activeLevel: 'low' });
    expect([fit.direct, fit.conditioning[0]!.kind, fit.activeLevel, fit.inverted]).toEqual([
      'damages',
      'inverter',
      'low',
      false,
    ]);
  });

  it('a pull-up stronger than the driver sinks is named with the current', () => {
    const fit = of({ class: 'open-collector', maxA: 0.005 }, { class: 'input-pull-up-12v', pullOhm: 1000 });
    expect(fit.direct).toBe('overloads');
    expect(value(fit, 'current through the pull')).toBeCloseTo((16 - 0.8) / 1000, 6);
  });

  it('a frequency beyond the receiver does not fit', () => {
    const fit = of(
      { class: 'hall-frequency', frequencyHz: [0, 4000] },
      { class: 'input-frequency', frequencyHz: [0, 400] },
    );
    expect([fit.verdict, fit.because]).toEqual(['does-not-fit', 'the receiver cannot follow the frequency']);
  });

  it('opposite active levels are inverted; contacts that rest differently too', () => {
    const high = { class: 'switched-battery', activeLevel: 'high', contact: 'normally-open' } as const;
    const input = { class: 'input-pull-down', activeLevel: 'high' } as const;
    expect(of(high, input).inverted).toBe(false);
    expect(of(high, { ...input, activeLevel: 'low' }).inverted).toBe(true);
    expect(of(high, { ...input, contact: 'normally-closed' }).inverted).toBe(true);
    expect(of({ ...high, activeLevel: 'low' }, input).inverted).toBe(true);
  });
});

describe('loads', () => {
  it('a coil goes to the driver of its other side and within its current', () => {
    expect(of({ class: 'switched-ground', maxA: 1 }, { class: 'coil-to-battery', loadA: 0.15 }).verdict).toBe('fits');
    const wrong = of({ class: 'switched-battery', maxA: 1 }, { class: 'coil-to-battery', loadA: 0.15 });
    expect([wrong.direct, wrong.conditioning[0]!.kind]).toEqual(['does-nothing', 'low-side-driver']);
    const strong = of({ class: 'switched-battery', maxA: 1 }, { class: 'coil-to-ground', loadA: 12 });
    expect([strong.direct, strong.conditioning[0]!.kind]).toEqual(['overloads', 'relay']);
    expect(component(strong, 'contact')).toBeGreaterThanOrEqual(12 * 1.25);
  });

  it('a weak driver needs a transistor before the relay, a bare coil its suppression', () => {
    const weak = of({ class: 'switched-ground', maxA: 0.05 }, { class: 'lamp', loadA: 2 });
    expect(weak.conditioning.map(({ kind }) => kind)).toEqual(['relay', 'low-side-driver']);
    const bare = of('switched-ground', { class: 'coil-to-battery', loadA: 0.2, suppressed: false });
    expect(bare.conditioning.map(({ kind }) => kind)).toEqual(['suppression']);
  });
});

describe('analogue and resistive', () => {
  it('practice: battery level on a 5 V converter takes 22 kΩ over 10 kΩ', () => {
    const fit = of('push-pull-12v', 'input-analogue');
    expect([component(fit, 'divider, top'), component(fit, 'divider, bottom')]).toEqual([22_000, 10_000]);
  });

  it('a ratiometric sensor fits only where the reading controller supplies it', () => {
    const sensor = { class: 'ratiometric-5v' } as const;
    expect(of(sensor, 'input-analogue').conditioning[0]!.kind).toBe('buffer');
    expect(pairElectrical(sensor, { class: 'input-analogue' }, { sharedReference: true }).verdict).toBe('fits');
  });

  it('a 33 to 240 Ω sender under 2.2 kΩ uses 8 % of the range (divider formula)', () => {
    const fit = of('resistive', 'input-analogue-pull-up');
    const share = (240 / (2200 + 240) - 33 / (2200 + 33)) * 100;
    expect(value(fit, 'share of the range used')).toBeCloseTo(share, 9);
    expect(fit.verdict).toBe('fits-with-conditioning');
    const together = parallelOhm(component(fit, 'pull-up'), 2200);
    expect(240 / (together + 240) - 33 / (together + 33)).toBeGreaterThan(0.3);
  });

  it('a thermistor whose curve was made with another pull-up is named', () => {
    const sensor = { class: 'thermistor', pullOhm: 1000, ohm: [180, 48_000] as [number, number] } as const;
    expect(of(sensor, { class: 'input-analogue-pull-up', pullOhm: 1000 }).verdict).toBe('fits');
    expect(of(sensor, { class: 'input-analogue-pull-up', pullOhm: 2200 }).direct).toBe('misreads');
  });

  it('a sender fits a gauge of its own range only', () => {
    const sender = { class: 'resistive', ohm: [33, 240] as [number, number] } as const;
    const gauge = (ohm: [number, number]): Electrical => ({ class: 'resistive-gauge', ohm });
    expect(of(sender, gauge([33, 240])).verdict).toBe('fits');
    expect(of(sender, gauge([0, 90])).verdict).toBe('does-not-fit');
  });
});

describe('supplies', () => {
  it('a feed of 5 V and 50 mA bears a sensor of 10 mA, and not one that wants 9 V', () => {
    const feed = { class: 'feed', minV: 4.9, maxV: 5.1, maxA: 0.05 } as const;
    expect(of(feed, { class: 'feed', loadA: 0.01 }).verdict).toBe('fits');
    expect(of(feed, { class: 'feed', minV: 9, maxV: 16, loadA: 0.01 }).verdict).toBe('does-not-fit');
    expect(of(feed, { class: 'feed', loadA: 0.2 }).direct).toBe('overloads');
  });
  it('a feed on a ground is a short circuit, a sensor return on a power ground shifts every sensor', () => {
    expect(of('feed', 'power-ground').direct).toBe('damages');
    expect(of('sensor-return', 'power-ground').verdict).toBe('does-not-fit');
    expect(of('can-high', 'can-low').verdict).toBe('does-not-fit');
  });
  it('two receivers are no pair', () => {
    expect(of('lamp', 'motor').because).toMatch(/no pair/);
  });
});
