import type { Endpoint } from '../../model/index.ts';
import { domainOfSignal } from './signal-domain.ts';
import { domainOfWire } from './wire-domain.ts';
import type { ValueDomain } from './value-domain.ts';

/** What the thing a reference names can be: signal, wire, or whole message. */
export function domainOfEndpoint(endpoint: Endpoint): ValueDomain {
  switch (endpoint.kind) {
    case 'signal':
      return domainOfSignal(endpoint.signal);
    case 'wire':
      return domainOfWire(endpoint.wire);
    case 'message':
      return { kind: 'frame', message: endpoint.message, lengthBytes: endpoint.message.length };
  }
}
