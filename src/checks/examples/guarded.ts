import { hostMessage, donorMessage, interfaceRoute, transmitOf } from './frame-case.ts';
import {
  donorPlatform,
  exampleMap,
  hostPlatform,
  type MessageInput,
  type PairingDocuments,
  type RouteInput,
  type SignalInput,
  type TransmitInput,
} from './documents.ts';

export const GUARD: NonNullable<MessageInput['protection']> = {
  counter: 'Counter',
  counterModulo: 16,
  checksum: 'Checksum',
  algorithm: 'crc8-sae-j1850',
  covers: 'all-but-checksum',
  dataId: 12,
  dataIdAt: 'before',
  evidence: 'specified',
};

const speed: SignalInput = {
  id: 'Speed',
  bits: { start: 0, length: 16, order: 'little' },
  number: 'unsigned',
  factor: 0.25,
  offset: 0,
  unit: '{rev}/min',
  range: [0, 8000],
  notAvailable: [65535],
  function: 'engine-speed',
};
const field = (id: string, start: number, length: number): SignalInput => ({
  id,
  bits: { start, length, order: 'little' },
  number: 'unsigned',
  factor: 1,
  offset: 0,
  unit: '',
  kind: 'number',
});

export interface GuardedCase {
  readonly source?: MessageInput['protection'] | null;
  readonly target?: MessageInput['protection'] | null;
  readonly transmit?: Partial<TransmitInput>;
  readonly route?: Partial<RouteInput>;
  readonly routes?: readonly RouteInput[];
}

/** Engine speed in guarded frames on both sides; null takes a guard away. */
export function guardedCase({ source, target, transmit, route, routes = [] }: GuardedCase = {}): PairingDocuments {
  const signals = [speed, field('Counter', 48, 4), field('Checksum', 56, 8)];
  const guard = (given: MessageInput['protection'] | null | undefined) =>
    given === null ? {} : { protection: given ?? GUARD };
  return {
    host: hostPlatform({
      messages: [
        hostMessage({
          cycleMs: 20,
          staleAfterMs: 200,
          signals: source === null && target === null ? [speed] : signals,
          ...guard(target),
        }),
      ],
    }),
    donor: donorPlatform({
      messages: [donorMessage({ cycleMs: 20, signals: source === null ? [speed] : signals, ...guard(source) })],
    }),
    map: exampleMap({
      routes: [
        interfaceRoute({
          id: 'speed',
          from: ['donor:FromEngine.Speed'],
          to: 'host:ToCluster.Speed',
          staleAfterMs: 100,
          verifySource: true,
          ...route,
        }),
        ...routes,
      ],
      transmits: [
        transmitOf('host:ToCluster', {
          cycleMs: 20,
          ...(target === null ? {} : { protection: target ?? GUARD }),
          ...transmit,
        }),
      ],
    }),
  };
}
