import type { Endpoint, Pairing, Route } from '../../model/index.ts';
import { domainOfWire } from '../domain/wire-domain.ts';
import { inputText } from './meaning.ts';
import { vectorId } from './vector-id.ts';
import type { RouteVectors, Vector, VectorLevel } from './schema.ts';
import { type Stimulus } from './stimuli.ts';
import { levelOf } from './timeline.ts';

type WireEnd = Extract<Endpoint, { kind: 'wire' }>;

const HOLD_US = 100_000;

/** A conductor from end to end: what stands on it here stands there. Switched levels only; an analogue one is for a meter. */
export function conductorVectors(pairing: Pairing, route: Route): Pick<RouteVectors, 'vectors' | 'leftOut'> {
  const none = (why: string): Pick<RouteVectors, 'vectors' | 'leftOut'> => ({
    vectors: [],
    leftOut: [{ what: 'all', why }],
  });
  const ends = route.from.map((ref) => pairing.find(ref));
  const to = pairing.find(route.to);
  const [from] = ends;
  if (ends.length !== 1 || from?.kind !== 'wire' || to?.kind !== 'wire')
    return none('it is not one conductor between two wires: its test is in the wiring spec');
  const domain = domainOfWire(from.wire);
  if (domain.kind !== 'state' || from.wire.meaning === undefined)
    return none('its level is measured on the harness: its test is in the wiring spec');
  const vectors = domain.states.map(({ label }, at): Vector => {
    const input: Stimulus['input'] = { kind: 'state', label };
    const level = levelOf(from, input)!;
    return {
      id: vectorId(at + 1, `state ${label}`),
      name: `state “${label}”`,
      kind: 'state',
      given: [{ source: from.ref, text: inputText(from, input) }],
      lengthUs: HOLD_US,
      send: [],
      levels: [{ wire: from.ref, atUs: 0, level }],
      expect: [
        {
          on: 'wire',
          wire: to.ref,
          fromUs: 1000,
          untilUs: HOLD_US,
          level: sameLevel(level),
          meaning: { text: meaningAt(to, level) },
        },
      ],
    };
  });
  return { vectors, leftOut: [] };
}

function sameLevel(level: VectorLevel['level']): Extract<Vector['expect'][number], { on: 'wire' }>['level'] {
  return level.kind === 'switched'
    ? level
    : { kind: 'measured', of: level.of, thousandths: [level.thousandths, level.thousandths] };
}

function meaningAt({ wire }: WireEnd, level: VectorLevel['level']): string {
  const domain = domainOfWire(wire);
  if (level.kind !== 'switched' || domain.kind !== 'state') return 'the same level';
  return `“${domain.states[level.active ? 0 : 1]?.label ?? 'the same level'}”`;
}
