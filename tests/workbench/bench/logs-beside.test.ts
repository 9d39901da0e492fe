import { describe, expect, it } from 'vitest';
import { together } from '../../../src/workbench/places/bench/logs.ts';

describe('logs beside a map', () => {
  it('go together when a table of wire levels bears the name of a log', () => {
    const file = (name: string) => ({ name, path: `logs/${name}`, bytes: 10 });
    expect(
      together(['drive-wires.csv', 'drive.log', 'idle.log', 'other.csv'].map(file)).map(({ names }) => names),
    ).toEqual([['drive.log', 'drive-wires.csv'], ['idle.log'], ['other.csv']]);
  });
});
