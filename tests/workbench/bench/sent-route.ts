// A route from a donor signal to a host signal whose message is sent every 10 ms. Not a test itself.
import type { Pairing, Route, Signal } from '../../../src/model/index.ts';
import { benchPairing, message } from '../../translate/bench-pairing.ts';

/** The route `r` from `donor:M` (0x100) to `host:T` (0x200). */
export function sentRoute(from: Signal, to: Signal, more: Partial<Route>): Pairing {
  return benchPairing({
    donor: { messages: [message({ id: 'M', frameId: '0x100' }, [from])] },
    host: { messages: [message({ id: 'T', frameId: '0x200' }, [to])] },
    transmits: [{ message: 'host:T', by: 'xm', port: 'A', send: 'cyclic', cycleMs: 10 }],
    routes: [{ id: 'r', from: [`donor:M.${from.id}`], to: `host:T.${to.id}`, carrier: 'interface', by: 'xm', ...more }],
  });
}
