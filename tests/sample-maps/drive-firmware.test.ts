// The sample's generated firmware, compiled, on the sample drive: what it sends and drives is what the replay engine does.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { pair, readMap, readPlatform, type ReadResult } from '../../src/model/index.ts';
import { busNames, frameLogReader, mergeLogs, wireLogReader } from '../../src/translate/index.ts';
import { findCompilers } from '../translate/c-compilers.mjs';
import { buildBatch, difference, engineLines, scratch, withoutRefused } from '../translate/firmware-rig.ts';
import type { LogEvent } from '../translate/random-log.ts';

const textOf = (name: string): string => readFileSync(new URL(`../../sample-maps/${name}`, import.meta.url), 'utf8');

function documentOf<T>(read: ReadResult<T>): T {
  if (!read.ok) throw new Error('a document of the sample cannot be read');
  return read.document;
}

async function* whole(text: string): AsyncGenerator<string> {
  yield await Promise.resolve(text);
}

const [compiler] = findCompilers();

describe.skipIf(compiler === undefined)('the firmware of the sample on its drive', () => {
  it('sends and drives what the replay does, frame for frame', { timeout: 120_000 }, async () => {
    const pairing = pair(
      documentOf(readMap(textOf('ft6-orrin32.map.json'))),
      documentOf(readPlatform(textOf('halden-ft6.platform.json'))),
      documentOf(readPlatform(textOf('orrin-32.platform.json'))),
    );
    const names = busNames(pairing, ['can0=host:chassis-can', 'can1=donor:powertrain-can', 'can2=host:body-can']);
    const log: LogEvent[] = [];
    const sources = [
      { name: 'frames', reader: frameLogReader(names), chunks: whole(textOf('logs/drive.log')) },
      { name: 'levels', reader: wireLogReader(pairing), chunks: whole(textOf('logs/drive-wires.csv')) },
    ];
    for await (const events of mergeLogs(sources))
      for (const event of events) {
        if (event.kind === 'frame') log.push(event);
        else if (event.level.kind !== 'open') log.push({ ...event, level: event.level });
      }
    const batch = buildBatch(join(scratch(), 'sample'), compiler!, ['-O1'], [pairing]);
    const run = { pairing: withoutRefused(pairing, batch.firmware[0]!), log, untilUs: 58_100_000 };
    const wanted = engineLines(run);
    expect(wanted.length).toBeGreaterThan(66_000);
    expect(difference(wanted, batch.run([run])[0])).toBeNull();
  });
});
