import {
  applyChecksum,
  codecOf,
  firstCount,
  insertRaw,
  nextCount,
  rationalOfDouble,
  type SignalValue,
} from '../../can/index.ts';
import type { Message, Pairing } from '../../model/index.ts';
import { busNames, frameLogWriter } from '../../translate/index.ts';
import { EVENTS_MS, type Moment, STEP_MS } from './drive.ts';
import { type LoggedMessage, MESSAGES, type Told } from './messages.ts';
import { numbersFrom } from './random.ts';

/** Interface names of the logs. */
export const INTERFACES = ['can0=host:chassis-can', 'can1=donor:powertrain-can', 'can2=host:body-can'] as const;

const SEED = 20_260_131;
/** Senders do not keep time to the microsecond. */
const JITTER_US = 400;

interface Frame {
  readonly timeUs: number;
  readonly message: Message;
  readonly bus: string;
  readonly data: Uint8Array;
}

/** The frames of the drive in candump's log format. The powertrain network is silent between `dropout` and `recovery`. */
export function frameLog(pairing: Pairing, moments: readonly Moment[]): string {
  const random = numbersFrom(SEED);
  const frames = MESSAGES.flatMap((logged, index) => framesOf(pairing, logged, moments, index, random));
  frames.sort((a, b) => a.timeUs - b.timeUs || Number(a.message.frameId) - Number(b.message.frameId));
  const line = frameLogWriter(busNames(pairing, INTERFACES));
  return frames
    .map(({ timeUs, message, bus, data }) =>
      line({
        timeUs,
        bus,
        frameId: Number(message.frameId),
        extended: message.idFormat === 'extended',
        fd: false,
        data,
      }),
    )
    .join('');
}

function framesOf(
  pairing: Pairing,
  { ref, values }: LoggedMessage,
  moments: readonly Moment[],
  index: number,
  random: (limit: number) => number,
): Frame[] {
  const endpoint = pairing.find(ref);
  if (endpoint?.kind !== 'message' || endpoint.message.cycleMs === undefined)
    throw new Error(`${ref} is no message with a cycle`);
  const { message, side } = endpoint;
  const protect = protecting(message);
  const frames: Frame[] = [];
  // Senders start one after another, 1.3 ms apart.
  const phaseUs = index * 1300;
  for (let ms = 0; ms < EVENTS_MS.end; ms += message.cycleMs!) {
    const timeUs = ms * 1000 + phaseUs + random(JITTER_US);
    const moment = moments[Math.min(moments.length - 1, Math.floor(timeUs / 1000 / STEP_MS))]!;
    const data = encoded(message, values(moment), side === 'donor' ? 0xff : 0);
    // The sender counts on while nobody hears it.
    protect(data);
    const silent = side === 'donor' && timeUs >= EVENTS_MS.dropout * 1000 && timeUs < EVENTS_MS.recovery * 1000;
    if (!silent) frames.push({ timeUs, message, bus: `${side}:${message.bus}`, data });
  }
  return frames;
}

function encoded(message: Message, told: Readonly<Record<string, Told>>, unused: number): Uint8Array {
  const unknown = Object.keys(told).find((id) => !message.signals.some((signal) => signal.id === id));
  if (unknown !== undefined) throw new Error(`${message.id} has no signal ${unknown}`);
  const values = new Map(message.signals.map((signal) => [signal.id, valueOf(told[signal.id])] as const));
  const { bytes, faults } = codecOf(message).encode(values, new Uint8Array(message.length).fill(unused));
  if (faults.length > 0) throw new Error(`${message.id}: ${faults[0]!.signal}: ${faults[0]!.problem}`);
  return Uint8Array.from(bytes);
}

function valueOf(told: Told | undefined): SignalValue {
  if (told === undefined) return { kind: 'raw', raw: 0n };
  if (told === null) return { kind: 'not-available' };
  if (typeof told === 'string') return { kind: 'state', state: told };
  return { kind: 'physical', value: rationalOfDouble(told) };
}

/** Puts the next count and the checksum into a payload, as the message's protection says. */
function protecting({ id, protection, signals }: Message): (data: Uint8Array) => void {
  if (protection === undefined) return () => undefined;
  const counter = signals.find((signal) => signal.id === protection.counter);
  const checksum = signals.find((signal) => signal.id === protection.checksum);
  const { algorithm, counterModulo, covers, dataId, dataIdAt } = protection;
  if (
    counter === undefined ||
    checksum === undefined ||
    algorithm === undefined ||
    algorithm === 'unknown' ||
    counterModulo === undefined
  )
    throw new Error(`the protection of ${id} is not fully known`);
  const spec = { modulo: counterModulo };
  let count = firstCount(spec);
  return (data) => {
    insertRaw(data, counter.bits, BigInt(count));
    count = nextCount(count, spec);
    applyChecksum(
      data,
      {
        algorithm,
        ...(covers === undefined ? {} : { covers }),
        ...(dataId === undefined ? {} : { dataId }),
        ...(dataIdAt === undefined ? {} : { dataIdAt }),
      },
      checksum.bits,
    );
  };
}
