/** What can be wrong with messages and signals that were read well: reported, never refused. */
import { quoted } from '../faults.ts';
import { bytesNeeded, hasUsableLength } from '../codec/layout.ts';
import { isMultiplexed, multiplexingOf } from '../codec/multiplexing.ts';
import type { DbcMessage, DbcSignal } from '../model.ts';
import { checkOverlaps, createOverlapChecker } from './overlaps.ts';
import { report } from './reading.ts';
import type { MessageEntry, Reading } from './reading.ts';

const MAX_CLASSIC_BYTES = 8;
const MAX_FD_BYTES = 64;
const FD_LENGTHS: ReadonlySet<number> = new Set([12, 16, 20, 24, 32, 48, 64]);

/** Checks all that was read; call once, after reading. `isIndependent` tells the pseudo messages. */
export function checkDatabase(r: Reading, isIndependent: (message: DbcMessage) => boolean): void {
  checkReferences(r);
  const names = new Set<string>();
  const overlaps = createOverlapChecker();
  for (const entry of r.entries) {
    const { message, offset } = entry;
    if (names.has(message.name)) report(r, 'message-name-repeated', offset, quoted(message.name));
    names.add(message.name);
    checkSignals(r, entry);
    if (isIndependent(message)) continue;
    checkFrameLength(r, message, offset);
    checkLayout(r, entry);
    if (isMultiplexed(message)) checkMultiplexing(r, entry);
    checkOverlaps(r, entry, overlaps);
  }
}

function checkReferences(r: Reading): void {
  for (const [name, { by, offset }] of r.unknownNodes) {
    if (!r.nodesByName.has(name)) report(r, 'node-unknown', offset, by, quoted(name));
  }
  for (const [key, { name, offset }] of r.undefinedAttributes) {
    if (!r.definitions.has(key)) report(r, 'attribute-undefined', offset, quoted(name));
  }
}

function checkFrameLength(r: Reading, message: DbcMessage, offset: number): void {
  const { lengthBytes, name } = message;
  if (lengthBytes > MAX_FD_BYTES) report(r, 'frame-length', offset, quoted(name), String(lengthBytes));
  else if (lengthBytes > MAX_CLASSIC_BYTES && !FD_LENGTHS.has(lengthBytes)) {
    report(r, 'frame-length-not-fd', offset, quoted(name), String(lengthBytes));
  }
}

function checkSignals(r: Reading, entry: MessageEntry): void {
  const { message, signalOffsets } = entry;
  const names = message.signals.length > 1 ? new Set<string>() : null;
  message.signals.forEach((signal, index) => {
    const offset = signalOffsets[index] as number;
    if (names !== null) {
      if (names.has(signal.shortName))
        report(r, 'signal-name-repeated', offset, quoted(signal.shortName), quoted(message.name));
      names.add(signal.shortName);
    }
    if (signal.factor.value === 0) report(r, 'factor-zero', offset, quoted(signal.name));
    if (signal.min.value > signal.max.value) report(r, 'range-reversed', offset, quoted(signal.name));
    if (!hasUsableLength(signal)) report(r, 'signal-length', offset, quoted(signal.name), String(signal.lengthBits));
    else if (signal.number !== 'integer') checkFloatLength(r, signal, offset);
  });
}

function checkFloatLength(r: Reading, signal: DbcSignal, offset: number): void {
  const wanted = signal.number === 'float32' ? 32 : 64;
  if (signal.lengthBits !== wanted) report(r, 'float-length', offset, quoted(signal.name), String(wanted));
}

function checkLayout(r: Reading, entry: MessageEntry): void {
  const { message, signalOffsets } = entry;
  message.signals.forEach((signal, index) => {
    if (hasUsableLength(signal) && bytesNeeded(signal) > message.lengthBytes) {
      report(
        r,
        'signal-outside-frame',
        signalOffsets[index] as number,
        quoted(signal.name),
        String(message.lengthBytes),
      );
    }
  });
}

function checkMultiplexing(r: Reading, entry: MessageEntry): void {
  const { message, signalOffsets } = entry;
  multiplexingOf(message).forEach(({ signal, selector, ranges, problem }, index) => {
    const offset = signalOffsets[index] as number;
    const selectorSignal = selector === null ? undefined : message.signals[selector];
    switch (problem) {
      case null:
        break;
      case 'multiplexer-missing':
      case 'multiplexer-ambiguous':
        report(r, problem, offset, quoted(signal.name), quoted(message.name));
        break;
      case 'multiplexer-unknown':
      case 'multiplexer-unusable':
        report(
          r,
          problem,
          offset,
          quoted(signal.name),
          quoted(signal.extendedMultiplexing?.selector ?? selectorSignal?.name ?? ''),
        );
        return;
      case 'multiplexer-cycle':
        report(r, problem, offset, quoted(signal.name));
        return;
    }
    if (selectorSignal === undefined || !hasUsableLength(selectorSignal)) return;
    const limit = 1n << BigInt(selectorSignal.lengthBits);
    for (const { from, to } of ranges) {
      if (from <= to && to < limit) continue;
      report(r, 'multiplexer-range', offset, quoted(signal.name), from === to ? String(from) : `${from}-${to}`);
      break;
    }
  });
}
