import { describe, expect, it } from 'vitest';
import type { Pairing } from '../../../src/model/index.ts';
import { busNames } from '../../../src/translate/index.ts';
import { together } from '../../../src/workbench/places/bench/logs.ts';
import { guessBuses } from '../../../src/workbench/places/bench/recording/bus-guess.ts';
import { samplePairing } from '../loom/sample.ts';

const pairing: Pairing = samplePairing();

/** Lines of a log that show some ids of a bus on an interface. */
function seen(name: string, side: 'host' | 'donor', bus: string, most: number): string {
  return [...pairing.side(side).messages.values()]
    .filter(({ message }) => message.bus === bus)
    .slice(0, most)
    .map(({ message }, at) => {
      const id = message.frameId.slice(2).padStart(message.idFormat === 'extended' ? 8 : 3, '0');
      return `(1.${String(at).padStart(6, '0')}) ${name} ${id}#00\n`;
    })
    .join('');
}

const guess = (text: string, said: readonly string[] = []) =>
  guessBuses(pairing, busNames(pairing, said), new TextEncoder().encode(text)).map(({ name, bus }) => `${name}=${bus}`);

describe('the bus of an interface', () => {
  it('is guessed where nearly all ids seen are those of one bus', () => {
    const text = seen('can0', 'host', 'chassis-can', 12) + seen('can1', 'donor', 'powertrain-can', 12);
    expect(guess(text)).toEqual(['can0=host:chassis-can', 'can1=donor:powertrain-can']);
    expect(guess(text, ['can0=host:body-can'])).toEqual(['can1=donor:powertrain-can']);
  });

  it('is not guessed from too few ids, from ids of two buses, or twice', () => {
    expect(guess(seen('can0', 'host', 'chassis-can', 2))).toEqual([]);
    expect(guess(seen('can0', 'host', 'chassis-can', 8) + seen('can0', 'donor', 'powertrain-can', 8))).toEqual([]);
    expect(guess(seen('can0', 'host', 'chassis-can', 8) + seen('can5', 'host', 'chassis-can', 8))).toEqual([]);
    expect(guess('(1.000000) can0 7FF#00\n(1.000001) can0 7FE#00\n(1.000002) can0 7FD#00\n')).toEqual([]);
  });
});

describe('logs beside a map', () => {
  it('go together when a table of wire levels bears the name of a log', () => {
    const file = (name: string) => ({ name, path: `logs/${name}`, bytes: 10 });
    expect(
      together(['drive-wires.csv', 'drive.log', 'idle.log', 'other.csv'].map(file)).map(({ names }) => names),
    ).toEqual([['drive.log', 'drive-wires.csv'], ['idle.log'], ['other.csv']]);
  });
});
