import type { Command } from 'commander';
import { createReadStream } from 'node:fs';
import { resolve } from 'node:path';
import {
  candumpReader,
  codecOf,
  contentOfDbc,
  readDbc,
  type CandumpData,
  type CandumpFrame,
  type DecodedSignal,
} from '../../can/index.ts';
import { UnusableInput, loadPlatform, readBytes, reasonOf } from '../../host/index.ts';
import type { Message } from '../../model/index.ts';
import { toNumber } from '../../number/index.ts';
import { columns, formatOption } from '../formats.ts';
import type { Terminal } from '../terminal.ts';

interface Options {
  readonly bus: readonly string[];
  readonly format: string;
}

/** Messages by bus ('' where the database has but one) and frame. */
type Messages = ReadonlyMap<string, ReadonlyMap<string, Message>>;

const frameKey = (idFormat: string, frameId: number): string => `${idFormat} ${frameId}`;

function byFrame(messages: readonly Message[]): Map<string, Message> {
  return new Map(messages.map((message) => [frameKey(message.idFormat, Number(message.frameId)), message]));
}

async function messagesOf(file: string): Promise<Messages> {
  if (file.endsWith('.json')) {
    const platform = await loadPlatform(file);
    return new Map(platform.buses.map(({ id }) => [id, byFrame(platform.messages.filter(({ bus }) => bus === id))]));
  }
  const { database } = readDbc(await readBytes(file));
  if (database.messages.length === 0)
    throw new UnusableInput(`${file} holds no message: it does not look like a DBC file`);
  return new Map([['', byFrame(contentOfDbc(database, 'bus').messages)]]);
}

/** Which bus of the database an interface name of the log stands for. */
function busOf(messages: Messages, pairs: readonly string[]): (interfaceName: string) => string | null {
  if (messages.has('')) return () => '';
  const ids = [...messages.keys()];
  const named = new Map<string, string>();
  for (const pair of pairs) {
    const [name, id] = pair.includes('=')
      ? [pair.slice(0, pair.indexOf('=')), pair.slice(pair.indexOf('=') + 1)]
      : ['', pair];
    if (!messages.has(id)) throw new UnusableInput(`the platform has no bus "${id}"; it has: ${ids.join(', ')}`);
    named.set(name, id);
  }
  if (pairs.length === 0 && ids.length === 1) named.set('', ids[0]!);
  return (name) => named.get(name) ?? (messages.has(name) ? name : (named.get('') ?? null));
}

/** Numbers JSON can hold exactly stay numbers; larger integers become decimal text, and what is no number says so. */
function jsonNumber(value: number | bigint): number | string {
  if (typeof value === 'bigint')
    return value >= -9007199254740991n && value <= 9007199254740991n ? Number(value) : value.toString();
  return Number.isFinite(value) ? value : String(value);
}

function physical({ value }: DecodedSignal): number | string {
  if (typeof value === 'number') return jsonNumber(value);
  return value.den === 1n ? jsonNumber(value.num) : jsonNumber(toNumber(value));
}

function timeText({ timeUs }: CandumpFrame): string {
  return timeUs === null ? '–' : `${Math.floor(timeUs / 1e6)}.${String(timeUs % 1e6).padStart(6, '0')}`;
}

interface Decoded {
  readonly frame: CandumpData;
  readonly bus: string;
  readonly message: Message | null;
  readonly signals: readonly DecodedSignal[];
}

function idText(frame: CandumpData): string {
  return `0x${frame.frameId.toString(16).toUpperCase()}`;
}

function hexOf(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('hex').toUpperCase();
}

function jsonLine({ frame, bus, message, signals }: Decoded): string {
  return `${JSON.stringify({
    t: frame.timeUs === null ? null : frame.timeUs / 1e6,
    bus,
    id: idText(frame),
    message: message?.id ?? null,
    signals: Object.fromEntries(
      signals.map((signal) => [
        signal.name,
        { raw: jsonNumber(signal.raw), value: physical(signal), unit: signal.unit, state: signal.state },
      ]),
    ),
    ...(message ? {} : { data: hexOf(frame.bytes) }),
  })}\n`;
}

function tableRow({ frame, bus, message, signals }: Decoded): string {
  const values = signals.map(
    (signal) =>
      `${signal.name}=${signal.state ?? physical(signal)}${signal.state === null && signal.unit !== '' ? ` ${signal.unit}` : ''}`,
  );
  return columns([
    [
      timeText(frame).padStart(17),
      bus.padEnd(8),
      idText(frame).padEnd(10),
      (message?.id ?? 'unknown').padEnd(24),
      message ? values.join('  ') : hexOf(frame.bytes),
    ],
  ]);
}

const MAX_LISTED_FAULTS = 20;

async function decode(file: string, log: string, options: Options, terminal: Terminal): Promise<void> {
  const messages = await messagesOf(resolve(terminal.cwd, file));
  const bus = busOf(messages, options.bus);
  const print = options.format === 'json' ? jsonLine : tableRow;
  const reader = candumpReader();
  let faults = 0;
  let frames = 0;
  const take = (read: ReturnType<typeof reader.push>): void => {
    for (const fault of read.faults) {
      faults += 1;
      if (faults <= MAX_LISTED_FAULTS) terminal.err(`${log}:${fault.line}:${fault.column}: ${fault.problem}\n`);
    }
    let text = '';
    for (const frame of read.frames) {
      if (frame.kind !== 'data') continue;
      frames += 1;
      const id = bus(frame.interfaceName);
      const message = id === null ? null : (messages.get(id)?.get(frameKey(frame.idFormat, frame.frameId)) ?? null);
      text += print({
        frame,
        bus: id === null || id === '' ? frame.interfaceName : id,
        message,
        signals: message ? codecOf(message).decode(frame.bytes) : [],
      });
    }
    if (text !== '') terminal.out(text);
  };
  const stream = log === '-' ? process.stdin : createReadStream(resolve(terminal.cwd, log));
  try {
    for await (const chunk of stream) take(reader.push(chunk as Uint8Array));
  } catch (error) {
    throw new UnusableInput(`cannot read ${log}: ${reasonOf(error)}`);
  }
  take(reader.end());
  if (faults > MAX_LISTED_FAULTS) terminal.err(`and ${faults - MAX_LISTED_FAULTS} more lines that are not candump's\n`);
  if (frames === 0)
    throw new UnusableInput(
      `${log} holds no frame in candump's log format, e.g. (1436509052.249713) can0 123#DEADBEEF`,
    );
}

const gather = (value: string, before: readonly string[]): readonly string[] => [...before, value];

/** `crossloom decode FILE LOG`: a log through a DBC file or a platform, as JSON lines or a table. */
export function addDecode(program: Command, terminal: Terminal): void {
  program
    .command('decode')
    .description('decode a candump log with a DBC file or a platform; one line a frame')
    .argument('<file>', 'a *.dbc or *.platform.json file')
    .argument('<log>', 'a log in candump format; - for standard input')
    .option(
      '--bus <name=id>',
      'which bus of the platform an interface of the log is, e.g. can0=chassis-can; may be given again',
      gather,
      [],
    )
    .addOption(formatOption(['text', 'json']))
    .addHelpText('after', '\nExample:\n  crossloom decode sample-maps/dbc/chassis-can.dbc drive.log --format json')
    .action((file: string, log: string, options: Options) => decode(file, log, options, terminal));
}
