import {
  donorPlatform,
  exampleMap,
  hostPlatform,
  type MessageInput,
  type PairingDocuments,
  type RouteInput,
  type TransmitInput,
} from './documents.ts';

export interface DiagnosticsCase {
  readonly ways?: readonly ('request' | 'response')[];
  readonly route?: Partial<RouteInput>;
  readonly transmit?: Partial<TransmitInput>;
}

/** Scan tool on the chassis bus, emission controller on the powertrain's; frames forwarded whole. */
export function diagnosticsCase({
  ways = ['request', 'response'],
  route,
  transmit,
}: DiagnosticsCase = {}): PairingDocuments {
  const frame = (more: Partial<MessageInput>): MessageInput => ({
    id: 'Request',
    bus: 'body-can',
    frameId: '0x7DF',
    idFormat: 'standard',
    length: 8,
    sender: null,
    send: 'on-request',
    documents: ['sheet-1'],
    signals: [],
    ...more,
  });
  const request = { diagnostic: 'request', function: 'obd-request' } as const;
  const response = { id: 'Response', frameId: '0x7E8', diagnostic: 'response', function: 'obd-response' } as const;
  return {
    host: hostPlatform({
      modules: [{ id: 'connector', title: 'Diagnostic connector', kind: 'diagnostic-connector' }],
      messages: [
        frame({ ...request, sender: 'connector', readers: ['old-ecm'] }),
        frame({ ...response, sender: 'old-ecm', readers: ['connector'] }),
      ],
    }),
    donor: donorPlatform({
      modules: [{ id: 'old-connector', title: 'Old diagnostic connector', kind: 'diagnostic-connector' }],
      messages: [
        frame({ ...request, bus: 'drive-can', sender: 'old-connector', readers: ['engine'] }),
        frame({ ...response, bus: 'drive-can', sender: 'engine', readers: ['old-connector'] }),
      ],
    }),
    map: exampleMap({
      fates: { 'donor:old-connector': 'removed' },
      routes: ways.map((way): RouteInput => {
        const name = way === 'request' ? 'Request' : 'Response';
        return {
          id: way,
          from: [way === 'request' ? `host:${name}` : `donor:${name}`],
          to: way === 'request' ? `donor:${name}` : `host:${name}`,
          carrier: 'interface',
          by: 'xm',
          onLoss: { do: 'stop-sending' },
          atStart: 'stop-sending',
          measured: true,
          ...(way === 'response' ? route : {}),
        };
      }),
      transmits: ways.map((way): TransmitInput => ({
        message: way === 'request' ? 'donor:Request' : 'host:Response',
        by: 'xm',
        port: way === 'request' ? 'B' : 'A',
        send: 'forwarded',
        ...(way === 'response' ? transmit : {}),
      })),
    }),
  };
}
