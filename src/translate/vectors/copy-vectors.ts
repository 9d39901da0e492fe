import type { Route } from '../../model/index.ts';
import { protectionOf } from '../plan/checksum-plan.ts';
import type { ModulePlan } from '../plan/types.ts';
import { copyExpectation } from './expectation.ts';
import type { VectorBench } from './vector-bench.ts';
import { vectorId } from './vector-id.ts';
import type { RouteVectors, Vector } from './schema.ts';
import { hexOf } from './source-message.ts';

const EVERY_US = 20_000;
const FRAMES = 3;

const PATTERNS: readonly { readonly name: string; readonly byte: (at: number) => number }[] = [
  { name: 'all bits 0', byte: () => 0x00 },
  { name: 'all bits 1', byte: () => 0xff },
  { name: 'alternating bits', byte: (at) => (at % 2 === 0 ? 0x55 : 0xaa) },
  { name: 'rising bytes', byte: (at) => (0x10 + 0x11 * at) & 0xff },
];

/** Vectors of a message passed on whole: patterns go in and the same bytes come out. Null when the route copies none. */
export function copyVectors(
  { pairing, busUs }: VectorBench,
  plan: ModulePlan,
  route: Route,
): Pick<RouteVectors, 'vectors' | 'leftOut'> | null {
  const source = pairing.find(route.from[0] ?? '');
  const target = pairing.find(route.to);
  if (source?.kind !== 'message' || target?.kind !== 'message') return null;
  const transmit = plan.transmits.find(({ ref, copyOf }) => ref === route.to && copyOf !== null);
  const received = transmit === undefined ? undefined : plan.received[transmit.copyOf!];
  if (transmit === undefined || received === undefined)
    return { vectors: [], leftOut: [{ what: 'all', why: `${plan.module.id} does not pass ${route.to} on` }] };
  const { message } = source;
  // What stands in it is none of the module's business: it is passed on with whatever protection it bears.
  const guarded = protectionOf(message, message.protection).checksum !== null;
  const vectors = PATTERNS.map(({ name, byte }, at): Vector => {
    const data = hexOf(Uint8Array.from({ length: message.length }, (_, index) => byte(index)));
    const fromUs = plan.startUs + plan.periodUs;
    const untilUs = fromUs + FRAMES * EVERY_US;
    return {
      id: vectorId(at + 1, name),
      name,
      kind: 'copy',
      given: [{ source: route.from[0]!, text: `${data}${guarded ? ' (its own checksum is not looked at)' : ''}` }],
      lengthUs: untilUs + plan.latencyUs + busUs,
      send: [
        {
          message: received.ref,
          bus: received.bus,
          frameId: message.frameId,
          idFormat: message.idFormat,
          frameFormat: message.frameFormat ?? 'classic',
          fromUs,
          everyUs: EVERY_US,
          count: FRAMES,
          data: [data],
        },
      ],
      levels: [],
      expect: [copyExpectation(transmit, data, { fromUs, untilUs: untilUs + plan.latencyUs })],
    };
  });
  return { vectors, leftOut: [] };
}
