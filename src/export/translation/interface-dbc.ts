import { dbcOfPlatform, writeDbc } from '../../can/index.ts';
import { isFrameField, sideRef, type Message, type Pairing, type SideName, type Transmit } from '../../model/index.ts';

export interface InterfaceDbc {
  /** `side:bus`. */
  readonly bus: string;
  /** File name, one a bus. */
  readonly name: string;
  readonly text: string;
}

/** What a DBC file is made for, beside the pairing. */
export interface InterfaceDbcOptions {
  /** Said at the head of every file: revision, digest, date, cautions. */
  readonly comment?: string;
  /** Only what is sent in one of these builds; all when absent. */
  readonly mask?: bigint;
}

/** The DBC of what the interface modules send, one file a bus: the platform's messages with the interface module as sender. */
export function interfaceDbcs(pairing: Pairing, { comment, mask }: InterfaceDbcOptions = {}): readonly InterfaceDbc[] {
  const sent = new Map<string, { side: SideName; busId: string; transmits: Transmit[] }>();
  for (const transmit of pairing.map.transmits) {
    const entry = pairing.find(transmit.message);
    if (mask !== undefined && (pairing.options.maskOf(transmit.when) & mask) === 0n) continue;
    if (entry?.kind !== 'message') continue;
    const bus = sideRef(entry.side, entry.message.bus);
    const known = sent.get(bus);
    if (known) known.transmits.push(transmit);
    else sent.set(bus, { side: entry.side, busId: entry.message.bus, transmits: [transmit] });
  }
  return [...sent].map(([bus, { side, busId, transmits }]) => {
    const { platform } = pairing.side(side);
    const byMessage = new Map(transmits.map((transmit) => [transmit.message, transmit]));
    const messages = platform.messages.flatMap((message) => {
      const transmit = byMessage.get(sideRef(side, message.id));
      return transmit ? [asSent(message, transmit, pairing, side)] : [];
    });
    const owners = [...new Set(transmits.map(({ by }) => by))].map((id) => ({
      id,
      title: pairing.interfaceModules.get(id)?.title ?? id,
      buses: [busId],
    }));
    const known = new Set(owners.map(({ id }) => id));
    const sending = {
      ...platform,
      modules: [...owners, ...platform.modules.filter(({ id }) => !known.has(id))],
      messages,
    };
    return {
      bus,
      name: `${pairing.map.id}-${side}-${busId}.dbc`,
      text: writeDbc({
        ...dbcOfPlatform(sending, busId, new Set(messages.map(({ id }) => id))),
        ...(comment === undefined ? {} : { comment }),
      }),
    };
  });
}

/** The message with the interface module's cadence and name, and its fill values as start values. */
function asSent(message: Message, transmit: Transmit, pairing: Pairing, side: SideName): Message {
  const { otherSenders: _others, ...own } = message;
  return {
    ...own,
    sender: transmit.by,
    ...(transmit.cycleMs === undefined ? {} : { cycleMs: transmit.cycleMs }),
    signals: message.signals.map((signal) => {
      const fill = transmit.fill?.[signal.id];
      const routed = (pairing.routesTo.get(sideRef(side, `${message.id}.${signal.id}`)) ?? []).map(({ id }) => id);
      const origin = isFrameField(message, signal)
        ? 'made by the interface module'
        : routed.length > 0
          ? `route ${routed.join(', ')}`
          : fill !== undefined
            ? `filled with ${fill}`
            : null;
      return {
        ...signal,
        ...(fill === undefined ? {} : { initial: fill }),
        ...(origin === null ? {} : { comment: [origin, signal.comment].filter(Boolean).join('; ') }),
      };
    }),
  };
}
