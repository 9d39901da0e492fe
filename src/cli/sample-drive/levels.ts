import type { Pairing } from '../../model/index.ts';
import { levelWords, WIRE_LOG_HEADER, type WireLevel, wireLogWriter } from '../../translate/index.ts';
import { EVENTS_MS, type Moment } from './drive.ts';
import { numbersFrom } from './random.ts';

const SEED = 20_260_201;
/** How often a measured wire is recorded. */
const MEASURED_EVERY_MS = 250;

/** What is on each wire at a moment: a level in words, or a number with its unit. */
const WIRES: Readonly<Record<string, (moment: Moment, random: (limit: number) => number) => string>> = {
  'host:ignition-run': ({ key }) => switched(key !== 'Off'),
  'host:crank-request': ({ key }) => switched(key === 'Crank'),
  'host:brake-switch-a': ({ brake }) => switched(brake),
  // Normally closed: battery while the pedal is released.
  'host:brake-switch-b': ({ brake }) => switched(!brake),
  'host:brake-switch-c': ({ brake }) => switched(brake),
  'host:pedal-track-1': ({ pedalPercent }) => `${(0.75 + pedalPercent * 0.035).toFixed(3)} V`,
  'host:pedal-track-2': ({ pedalPercent }) => `${(0.375 + pedalPercent * 0.0175).toFixed(3)} V`,
  'host:fuel-sender': ({ kmh }, random) => `${(118 + (kmh > 0 ? random(60) / 10 - 3 : 0)).toFixed(1)} Ohm`,
  'host:booster-vacuum': ({ brake, engineRpm }) => `${(engineRpm === 0 ? 1.3 : brake ? 2.9 : 3.3).toFixed(2)} V`,
  'host:ambient-sensor': () => '2.06 kOhm',
  'host:fan-tacho': ({ compressorOn }) => (compressorOn ? '43 Hz' : '0 Hz'),
  'host:tow-button': ({ ms }) => switched(ms >= 15_000 && ms < 15_200),
  'host:mode-button': () => 'inactive',
  'host:idle-switch': () => 'inactive',
  'donor:oil-level': () => 'inactive',
  'donor:coolant-level': () => 'inactive',
  'donor:park-neutral': ({ gear }) => switched(gear === 'N'),
  'donor:reverse-contact': ({ gear }) => switched(gear === 'R'),
  'donor:starter-relay-out': ({ ms }) => switched(ms >= EVENTS_MS.crank + 50 && ms < EVENTS_MS.running),
  'donor:ac-relay-out': ({ compressorOn }) => switched(compressorOn),
};

function switched(on: boolean): string {
  return on ? 'active' : 'inactive';
}

/** The levels of the drive as a table: of each wire the first, then every change, measured ones every quarter of a second at most. */
export function levelLog(pairing: Pairing, moments: readonly Moment[]): string {
  const random = numbersFrom(SEED);
  const line = wireLogWriter(pairing);
  const wires = Object.entries(WIRES).map(([ref, textOf]) => {
    const endpoint = pairing.find(ref);
    if (endpoint?.kind !== 'wire') throw new Error(`${ref} is no wire`);
    return { ref, textOf, words: levelWords(endpoint.wire), last: '' };
  });
  const rows: string[] = [];
  for (const moment of moments) {
    for (const wire of wires) {
      if (wire.words.of !== null && moment.ms % MEASURED_EVERY_MS !== 0) continue;
      const text = wire.textOf(moment, random);
      if (text === wire.last) continue;
      wire.last = text;
      rows.push(line({ timeUs: moment.ms * 1000, wire: wire.ref, level: levelOf(wire.words, text) }));
    }
  }
  return WIRE_LOG_HEADER + rows.join('');
}

function levelOf(words: ReturnType<typeof levelWords>, text: string): WireLevel {
  const read = words.read(text);
  if ('problem' in read) throw new Error(read.problem);
  return read.level;
}
