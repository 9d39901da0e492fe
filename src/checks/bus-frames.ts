import {
  arbitrationRank,
  FD_LENGTHS,
  frameTimeNs,
  worstCaseFrameBits,
  type BitRates,
  type BusMessage,
} from '../can/index.ts';
import type { BusFrame, FramesOfBus } from './bus-types.ts';
import {
  senderIds,
  sideRef,
  type Bus,
  type MessageEntry,
  type Pairing,
  type Side,
  type Transmit,
} from '../model/index.ts';

interface KnownFrame {
  readonly entry: MessageEntry;
  readonly message: BusMessage;
  readonly timeNs: number;
  readonly rank: number;
  /** The frame as the vehicle sends it, made once. */
  vehicle: BusFrame | null;
}

const knownFrames = new WeakMap<Side, ReadonlyMap<string, readonly KnownFrame[]>>();

/** The frames of a platform by bus, worked out once for each side. One that no frame can be so long as is left to bus/length-beyond-kind. */
function framesOfSide(side: Side): ReadonlyMap<string, readonly KnownFrame[]> {
  const known = knownFrames.get(side);
  if (known) return known;
  const found = new Map<string, KnownFrame[]>();
  for (const entry of side.messages.values()) {
    const frame = knownFrame(side, entry);
    if (!frame) continue;
    const list = found.get(entry.message.bus);
    if (list) list.push(frame);
    else found.set(entry.message.bus, [frame]);
  }
  knownFrames.set(side, found);
  return found;
}

function knownFrame(side: Side, entry: MessageEntry): KnownFrame | null {
  const { message } = entry;
  const bus = side.buses.get(message.bus);
  const frameFormat = message.frameFormat ?? 'classic';
  if (!bus || (frameFormat === 'classic' ? message.length > 8 : !FD_LENGTHS.includes(message.length))) return null;
  const known: BusMessage = {
    name: entry.ref,
    frameId: Number(message.frameId),
    idFormat: message.idFormat,
    frameFormat,
    lengthBytes: message.length,
    periodMs: message.cycleMs ?? null,
    jitterMs: message.jitterMs ?? 0,
  };
  const timeNs = frameTimeNs(worstCaseFrameBits(known), bus);
  return { entry, message: known, timeNs, rank: arbitrationRank(known), vehicle: null };
}

/** Bit rates of a bus as the timing analysis wants them. */
export function ratesOf(bus: Bus): BitRates {
  return bus.dataBitRate === undefined
    ? { bitRate: bus.bitRate }
    : { bitRate: bus.bitRate, dataBitRate: bus.dataBitRate };
}

/** What was sent on a bus in the vehicle as it was built, whatever became of the senders. */
export function framesAsBuilt(pairing: Pairing, side: Side, bus: Bus): readonly BusFrame[] {
  return (framesOfSide(side).get(bus.id) ?? []).flatMap((frame) =>
    senderIds(frame.entry).length === 0 ? [] : [ofVehicle(frame, pairing.options.maskOf(frame.entry.message.when))],
  );
}

function ofVehicle(frame: KnownFrame, mask: bigint): BusFrame {
  if (frame.vehicle?.mask === mask) return frame.vehicle;
  const { entry, message, timeNs, rank } = frame;
  const bus = sideRef(entry.side, entry.message.bus);
  return (frame.vehicle = { ref: entry.ref, bus, entry, transmit: null, message, timeNs, rank, mask });
}

/**
 * What is sent on a bus in this pairing: by retained modules, and by interface modules (`transmits`: those of its messages), which
 * stand in for the module in their combinations.
 */
export function framesInPairing(
  pairing: Pairing,
  side: Side,
  bus: Bus,
  transmitsOf: (messageRef: string) => readonly Transmit[],
): FramesOfBus {
  const frames: BusFrame[] = [];
  const lacks: string[] = [];
  for (const known of framesOfSide(side).get(bus.id) ?? []) {
    const { message, ref } = known.entry;
    const transmits = transmitsOf(ref);
    let own = pairing.options.maskOf(message.when);
    for (const transmit of transmits) {
      const periodMs = sentEveryMs(transmit, message.cycleMs);
      const mask = own & pairing.options.maskOf(transmit.when) & maskOfOwner(pairing, transmit);
      if (mask === 0n && own !== 0n) continue;
      // The jitter is that of the vehicle's sender.
      frames.push({ ...ofVehicle(known, own), transmit, message: { ...known.message, periodMs, jitterMs: 0 }, mask });
      if (periodMs === null && isRegular(transmit.send)) lacks.push(`cycle of the transmit of ${ref}`);
    }
    for (const transmit of transmits) own &= ~pairing.options.maskOf(transmit.when);
    if (own === 0n) continue;
    const senders = senderIds(known.entry);
    if (senders.length === 0 && message.diagnostic === undefined) lacks.push(`sender of ${ref}`);
    if (!senders.some((id) => side.modules.has(id) && pairing.fateOf(side.name, id) !== 'removed')) continue;
    frames.push(ofVehicle(known, own));
    if (message.cycleMs === undefined && isRegular(message.send) && message.diagnostic === undefined)
      lacks.push(`cycle of ${ref}`);
  }
  return { frames, lacks };
}

/** The least time between two sendings of what an interface module sends, in ms; null where nothing says it. */
function sentEveryMs({ send, cycleMs, minGapMs }: Transmit, originalMs: number | undefined): number | null {
  const cycle = cycleMs ?? originalMs ?? null;
  switch (send) {
    case 'forwarded':
      return originalMs ?? null;
    case 'on-change':
      return minGapMs ?? null;
    case 'cyclic-and-on-change':
      return minGapMs === undefined ? cycle : Math.min(minGapMs, cycle ?? minGapMs);
    case 'cyclic':
    case undefined:
      return cycle;
  }
}

function isRegular(send: string | undefined): boolean {
  return send === undefined || send === 'cyclic' || send === 'cyclic-and-on-change';
}

function maskOfOwner(pairing: Pairing, { by }: Transmit): bigint {
  return pairing.options.maskOf(pairing.interfaceModules.get(by)?.when);
}
