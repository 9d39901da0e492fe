import type { Wire } from '../../../model/index.ts';
import type { CheckContext } from '../../context.ts';
import { isMotionOrWorse } from '../../context.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { wireCase } from '../../examples/wire-case.ts';

export const rule: Rule = {
  id: 'state/active-level-inverted',
  severity: 'stop',
  title: 'Active level or contact of driver and receiver differ',
  why: 'A contact that closes to ground when pressure is absent, read as high-true, leaves the lamp dark without oil; a normally closed brake contact on a normally open input shows the brake applied whenever it is released.',
  sources: [commonPractice('compare active level and contact at both ends')],
  check: {
    route(context, route) {
      if (route.carrier !== 'hard-wire' || route.from.length !== 1) return null;
      const source = context.pairing.find(route.from[0]!);
      const target = context.pairing.find(route.to);
      if (source?.kind !== 'wire' || target?.kind !== 'wire') return null;
      const inverted = invertingRelays(context, route.via ?? []) % 2 === 1;
      const drives = levelOf(source.wire);
      const wants = levelOf(target.wire);
      const contacts = source.wire.electrical.contact !== undefined && target.wire.electrical.contact !== undefined;
      const contactDiffers = contacts && source.wire.electrical.contact !== target.wire.electrical.contact;
      const levelDiffers = drives !== null && wants !== null && (drives !== wants) !== inverted;
      // Either both hold, and cancel each other, or one alone inverts.
      if (!levelDiffers && !(contactDiffers && !inverted && drives === wants)) return null;
      return [
        {
          severity:
            isMotionOrWorse(context.classOfRoute(route)) ||
            context.classOfRoute(route)?.criticality === 'regulated-display'
              ? 'stop'
              : 'fix',
          message: levelDiffers
            ? `${route.from[0]} is active ${drives}, ${route.to} takes ${wants} for active${inverted ? ', and a relay inverts between' : ''}`
            : `${route.from[0]} is a ${source.wire.electrical.contact} contact, ${route.to} expects a ${target.wire.electrical.contact} one`,
          mask: context.maskOf(route),
          values: [
            named('source active', drives ?? 'not stated'),
            named('target active', wants ?? 'not stated'),
            named('source contact', source.wire.electrical.contact ?? 'not stated'),
            named('target contact', target.wire.electrical.contact ?? 'not stated'),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The contact closes to ground, the input takes high for active.',
      documents: wireCase({ target: { electrical: { class: 'input-pull-up-12v', activeLevel: 'high' } } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The input takes low for active.',
      documents: wireCase({ target: { electrical: { class: 'input-pull-up-12v', activeLevel: 'low' } } }),
      expect: [],
    }),
  },
};

/** The level at which the meaning is active: as declared, else as the class of the driver says. */
function levelOf({ electrical, meaning }: Wire): 'high' | 'low' | null {
  if (electrical.activeLevel) return electrical.activeLevel;
  if (!meaning || !('active' in meaning)) return null;
  switch (electrical.class) {
    case 'switched-battery':
    case 'push-pull-12v':
      return electrical.contact === 'normally-closed' ? 'low' : 'high';
    case 'switched-ground':
    case 'open-collector':
      return electrical.contact === 'normally-closed' ? 'high' : 'low';
    default:
      return null;
  }
}

function invertingRelays(context: CheckContext, via: readonly string[]): number {
  return via.filter((id) => {
    const part = context.part(id);
    return part?.kind === 'relay' && part.contact === 'normally-closed';
  }).length;
}
