import type { MessageEntry, Pairing, SideName } from '../model/index.ts';
import type { CheckContext } from './context.ts';

/** A bus as one piece of copper: `side:bus` and what is joined with it, by the name of the first. */
export function segmentOf(pairing: Pairing, side: SideName, bus: string): string {
  const names = [bus];
  const seen = new Set(names);
  for (let at = 0; at < names.length; at += 1) {
    for (const next of pairing.side(side).buses.get(names[at]!)?.joinedWith ?? []) {
      if (!seen.has(next)) {
        seen.add(next);
        names.push(next);
      }
    }
  }
  return `${side}:${[...seen].sort()[0]}`;
}

const byFrame = new WeakMap<Pairing['host'], ReadonlyMap<string, readonly MessageEntry[]>>();

/** Messages of one side by bus, id format and frame id. */
export function messagesWithFrame(context: CheckContext, entry: MessageEntry): readonly MessageEntry[] {
  const side = context.pairing.side(entry.side);
  let known = byFrame.get(side);
  if (!known) {
    const found = new Map<string, MessageEntry[]>();
    for (const other of side.messages.values()) {
      const key = frameKey(context.pairing, other);
      const list = found.get(key);
      if (list) list.push(other);
      else found.set(key, [other]);
    }
    byFrame.set(side, (known = found));
  }
  return known.get(frameKey(context.pairing, entry)) ?? [];
}

function frameKey(pairing: Pairing, { side, message }: MessageEntry): string {
  const bus = pairing.side(side).buses.get(message.bus);
  const segment = bus?.joinedWith === undefined ? `${side}:${message.bus}` : segmentOf(pairing, side, message.bus);
  return `${segment} ${message.idFormat} ${Number(message.frameId)}`;
}

/** Identifiers of legislated diagnostics, ISO 15765-4: 11-bit 0x7DF and 0x7E0–0x7EF, 29-bit 0x18DB33F1 and 0x18DA··F1 / 0x18DAF1··. */
export function isDiagnosticId(frameId: number, idFormat: 'standard' | 'extended'): boolean {
  if (idFormat === 'standard') return frameId === 0x7df || (frameId >= 0x7e0 && frameId <= 0x7ef);
  if (frameId === 0x18db33f1) return true;
  return frameId >>> 16 === 0x18da && ((frameId & 0xff) === 0xf1 || ((frameId >>> 8) & 0xff) === 0xf1);
}

/** Combinations in which a message is sent by a retained module of its own side. */
export function maskSentByOwn(context: CheckContext, entry: MessageEntry): bigint {
  return context.sendersPresent(entry).length > 0 ? context.pairing.options.maskOf(entry.message.when) : 0n;
}
