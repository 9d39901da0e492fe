import { frameLogReader, type LogReader, wireLogReader } from '../../src/translate/index.ts';
import { generateReplay } from './generate-replay.ts';
import { type BenchRow, medians } from './measure.ts';

const SECONDS = 120;
const ROUNDS = 7;
/** As files are read. */
const PIECE_BYTES = 256 * 1024;

/** Text of logs to events, streaming: against cutting the same text into lines, and against a reader as it is commonly written. */
export async function rows(): Promise<BenchRow[]> {
  const { pairing, frames } = generateReplay(SECONDS);
  const text = frames
    .map(
      ({ timeUs, frameId, data }) =>
        `(${String(1_767_225_600 + Math.floor(timeUs / 1e6))}.${String(timeUs % 1e6).padStart(6, '0')}) can0 ${frameId.toString(16).toUpperCase().padStart(3, '0')}#${Buffer.from(data).toString('hex').toUpperCase()}\n`,
    )
    .join('');
  const bytes = Buffer.from(text);
  const names = {
    busOf: (name: string) => (name === 'can0' ? 'donor:can' : null),
    nameOf: (bus: string) => bus,
    buses: [],
  };
  const stream = (reader: LogReader): number => {
    let events = 0;
    for (let at = 0; at < bytes.length; at += PIECE_BYTES)
      events += reader.push(bytes.subarray(at, at + PIECE_BYTES)).length;
    return events + reader.end().length;
  };
  const byLines = (each: (line: string) => void): void => {
    const decoder = new TextDecoder();
    let rest = '';
    for (let at = 0; at < bytes.length; at += PIECE_BYTES) {
      const lines = (rest + decoder.decode(bytes.subarray(at, at + PIECE_BYTES), { stream: true })).split('\n');
      rest = lines.pop() ?? '';
      for (const line of lines) each(line);
    }
  };
  let characters = 0;
  const split = (): void => byLines((line) => (characters += line.length));
  let plainEvents: unknown[] = [];
  const plain = (): void => {
    plainEvents = [];
    byLines((line) => {
      const found = /^\((\d+)\.(\d{6})\) (\S+) ([0-9A-F]+)#([0-9A-F]*)$/.exec(line);
      if (found === null) return;
      plainEvents.push({
        timeUs: Number(found[1]) * 1e6 + Number(found[2]),
        bus: found[3],
        frameId: Number.parseInt(found[4]!, 16),
        data: Buffer.from(found[5]!, 'hex'),
      });
    });
  };
  const read = (): void => {
    const events = stream(frameLogReader(names));
    if (events !== frames.length) throw new Error(`${events} of ${frames.length} frames were read`);
  };
  const [byReader, bySplit, byPlain] = medians(ROUNDS, [read, split, plain]) as [number, number, number];
  if (plainEvents.length !== frames.length) throw new Error('the plain reader missed frames');
  const megabytes = bytes.length / 1e6;
  const size = `log of ${megabytes.toFixed(0)} MB, ${frames.length} frames`;
  return [
    {
      work: `${size}: text to frames in order`,
      against: 'splitting the same text into lines',
      ratio: byReader / bySplit,
      target: 8,
      note: `${(megabytes / (byReader / 1000)).toFixed(0)} MB/s here`,
    },
    {
      work: `${size}: text to frames in order`,
      against: 'a regular expression a line and Buffer.from(hex), faults overlooked',
      ratio: byReader / byPlain,
      target: 1,
    },
    await wireRow(pairing),
  ];
}

/** The table of wire levels, for a pairing with a wire. */
async function wireRow(pairing: Parameters<typeof wireLogReader>[0]): Promise<BenchRow> {
  const wire = {
    id: 'sender',
    title: 'Sender',
    module: 'a',
    direction: 'out' as const,
    electrical: { class: 'resistive' as const },
  };
  const { pair } = await import('../../src/model/index.ts');
  const wired = pair(pairing.map, { ...pairing.host.platform, wires: [wire] }, pairing.donor.platform);
  const text = `time_s,wire,value\n${Array.from({ length: 200_000 }, (_, k) => `${(k / 100).toFixed(6)},host:sender,${(40 + (k % 2000) / 10).toFixed(1)} Ohm\n`).join('')}`;
  const read = (): void => {
    const reader = wireLogReader(wired);
    let events = 0;
    for (let at = 0; at < text.length; at += PIECE_BYTES)
      events += reader.push(text.slice(at, at + PIECE_BYTES)).length;
    if (events + reader.end().length !== 200_000) throw new Error('levels were missed');
  };
  let cells = 0;
  const split = (): void => {
    for (const line of text.split('\n')) cells += line.split(',').length;
  };
  const [byReader, bySplit] = medians(ROUNDS, [read, split]) as [number, number];
  return {
    work: `table of 200,000 wire levels: text to levels in order, exact`,
    against: 'splitting it into lines and cells',
    ratio: byReader / bySplit,
    note: `${(text.length / 1e6 / (byReader / 1000)).toFixed(0)} MB/s here${cells > 0 ? '' : '!'}`,
  };
}
