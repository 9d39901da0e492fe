import { DIODE_V, OPERATING_SUPPLY_V, SMALL_RELAY } from '../tables/electrical-classes.ts';
import { withPrefix, type Component, type Conditioning } from './fit-types.ts';
import { preferredAtLeast, preferredAtMost, preferredNearest, type Series } from './preferred.ts';

/** Share of the calculated limit that a preferred value is kept within: values scatter by their tolerance and with heat. */
const MARGIN = 1.25;

function resistor(role: string, value: number, series: Series, acrossV: number): Component {
  return { role, value, unit: 'Ohm', series, watt: acrossV ** 2 / value };
}

/**
 * Pull-up that lifts an input with a pull-down over its upper threshold at the lowest supply, with a margin, and no stronger
 * than the driver can sink at the highest. Null when no value does both.
 */
export function pullUpAgainst(
  pullDownOhm: number,
  thresholdHighV: number,
  maxSinkA: number | null,
): Conditioning | null {
  const wantedV = thresholdHighV * MARGIN;
  if (wantedV >= OPERATING_SUPPLY_V.min) return null;
  // The pull-up should also be at least three times stronger than the pull-down.
  const most = Math.min((pullDownOhm * (OPERATING_SUPPLY_V.min - wantedV)) / wantedV, pullDownOhm / 3);
  const least = maxSinkA === null || maxSinkA === 0 ? 0 : OPERATING_SUPPLY_V.max / maxSinkA;
  const ohm = preferredAtMost('E24', most);
  if (ohm < least) return null;
  const atLowest = (OPERATING_SUPPLY_V.min * pullDownOhm) / (pullDownOhm + ohm);
  return {
    kind: 'pull-up',
    what: `pull-up of ${withPrefix(ohm, 'Ohm')} to the receiver's supply: ${atLowest.toFixed(1)} V at ${OPERATING_SUPPLY_V.min} V supply, and ${((OPERATING_SUPPLY_V.max / ohm) * 1000).toFixed(1)} mA to sink at ${OPERATING_SUPPLY_V.max} V`,
    components: [resistor('pull-up', ohm, 'E24', OPERATING_SUPPLY_V.max)],
  };
}

/** Pull-up of a given or chosen value to a reference, for a resistive or switched source on an input without one. */
export function pullUpTo(ohm: number, referenceV: number, series: Series, why: string): Conditioning {
  return {
    kind: 'pull-up',
    what: `one pull-up of ${withPrefix(ohm, 'Ohm')} to the receiver's ${referenceV} V reference: ${why}`,
    components: [resistor('pull-up', ohm, series, referenceV)],
  };
}

/** Resistor to ground that keeps the leakage of an open output under half of the lower threshold. */
export function bleed(leakageA: number, thresholdLowV: number): Conditioning {
  const ohm = preferredAtMost('E24', thresholdLowV / 2 / leakageA);
  return {
    kind: 'pull-down',
    what: `bleed resistor of ${withPrefix(ohm, 'Ohm')} to ground: ${(leakageA * 1000).toFixed(2)} mA of leakage make ${(leakageA * ohm).toFixed(2)} V`,
    components: [resistor('bleed', ohm, 'E24', OPERATING_SUPPLY_V.max)],
  };
}

/** Divider with a clamp that brings the highest level down to what the receiver bears. */
export function divider(highestV: number, receiverMaxV: number): Conditioning {
  const bottom = 10_000;
  const top = preferredAtLeast('E24', bottom * (highestV / receiverMaxV - 1));
  const at = (volt: number): number => (volt * bottom) / (top + bottom);
  return {
    kind: 'divider',
    what: `divider of ${withPrefix(top, 'Ohm')} over ${withPrefix(bottom, 'Ohm')} with a clamp: ${highestV} V becomes ${at(highestV).toFixed(2)} V`,
    components: [
      resistor('divider, top', top, 'E24', highestV - at(highestV)),
      resistor('divider, bottom', bottom, 'E24', at(highestV)),
      { role: 'clamp', value: receiverMaxV, unit: 'V', series: null, watt: null },
    ],
  };
}

/** Low-pass that turns a duty into a level: time constant ten periods of the lowest frequency. */
export function lowPass(lowestHz: number): Conditioning {
  const ohm = 10_000;
  const farad = preferredAtLeast('E6', 10 / lowestHz / ohm);
  return {
    kind: 'low-pass',
    what: `low-pass of ${withPrefix(ohm, 'Ohm')} and ${withPrefix(farad, 'F')}: ten periods at ${lowestHz} Hz; a timer input would keep the speed`,
    components: [
      { role: 'low-pass', value: ohm, unit: 'Ohm', series: 'E24', watt: null },
      { role: 'low-pass', value: farad, unit: 'F', series: 'E6', watt: null },
    ],
  };
}

/** Transistor that makes a switch to ground of a high level: base current a tenth of the collector's. */
export function inverter(lowestHighV: number, collectorA: number): Conditioning {
  const ohm = Math.min(10_000, preferredAtMost('E24', (lowestHighV - DIODE_V) / (collectorA / 10)));
  return {
    kind: 'inverter',
    what: `transistor to ground with ${withPrefix(ohm, 'Ohm')} at its base (and 10 kΩ base to emitter), or a relay; the level is inverted`,
    components: [
      resistor('base', ohm, 'E24', OPERATING_SUPPLY_V.max),
      { role: 'base to emitter', value: 10_000, unit: 'Ohm', series: 'E24', watt: null },
    ],
  };
}

/** Driver from a logic level to battery level. */
export function levelShift(toV: number): Conditioning {
  return { kind: 'level-shift', what: `level shifter to ${toV} V, not inverting`, components: [] };
}

/** Steering diode with its cathode at the driver: it sinks through the diode and its high side is blocked. */
export function steeringDiode(pullV: number): Conditioning {
  return {
    kind: 'diode',
    what: `diode, cathode at the driver: it pulls the line low through the diode and the ${pullV} V pull-up cannot feed back into it`,
    components: [{ role: 'diode', value: DIODE_V, unit: 'V', series: null, watt: null }],
  };
}

/** Relay between a small driver and a load. */
export function relay(loadA: number, why: string): Conditioning {
  const contactA = [5, 10, 20, 30, 40, 70].find((rating) => rating >= loadA * MARGIN) ?? Math.ceil(loadA * MARGIN);
  return {
    kind: 'relay',
    what: `relay with a contact of ${contactA} A at least and a suppressed coil of about ${SMALL_RELAY.coilOhm} Ω (${SMALL_RELAY.coilA} A): ${why}`,
    components: [
      { role: 'coil', value: SMALL_RELAY.coilOhm, unit: 'Ohm', series: null, watt: null },
      { role: 'contact', value: contactA, unit: 'A', series: null, watt: null },
    ],
  };
}

/** A driver of the other side, rated for the load. */
export function sideDriver(kind: 'low-side-driver' | 'high-side-driver', loadA: number, why: string): Conditioning {
  const ratingA = Number((loadA * MARGIN).toPrecision(2));
  return {
    kind,
    what: `${kind === 'low-side-driver' ? 'low-side' : 'high-side'} driver for ${ratingA} A, or a relay: ${why}`,
    components: [{ role: 'driver', value: ratingA, unit: 'A', series: null, watt: null }],
  };
}

/** Series resistor that keeps a current within a limit. */
export function currentLimit(acrossV: number, maxA: number): Conditioning {
  const ohm = preferredAtLeast('E24', acrossV / maxA);
  return {
    kind: 'current-limit',
    what: `series resistor of ${withPrefix(ohm, 'Ohm')}: at most ${((acrossV / ohm) * 1000).toFixed(1)} mA`,
    components: [resistor('series', ohm, 'E24', acrossV)],
  };
}

/** Suppression across a coil which has none. */
export function suppression(): Conditioning {
  return {
    kind: 'suppression',
    what: 'diode across the coil, cathode at its positive end (or 680 Ω, which lets it release sooner)',
    components: [
      { role: 'across the coil', value: 680, unit: 'Ohm', series: 'E24', watt: OPERATING_SUPPLY_V.max ** 2 / 680 },
    ],
  };
}

/** Sense resistor for a two-level current signal: its upper level makes the wanted volts. */
export function currentSense(lowA: number, highA: number, atHighV: number): Conditioning {
  const ohm = preferredNearest('E96', atHighV / highA);
  return {
    kind: 'current-sense',
    what: `sense resistor of ${withPrefix(ohm, 'Ohm')} with a comparator at ${(((lowA + highA) / 2) * ohm).toFixed(2)} V, or a converter; the sensor stays supplied by its own controller`,
    components: [resistor('sense', ohm, 'E96', highA * ohm)],
  };
}
