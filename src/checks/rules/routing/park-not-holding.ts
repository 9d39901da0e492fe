import type { Endpoint } from '../../../model/index.ts';
import type { CheckContext } from '../../context.ts';
import { isNative, maskServed, targetSide } from '../../served.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { bit, byte, flowCase } from '../../examples/signals.ts';

const RESTS_ON_PARK = new Set(['pto-enable', 'park-lock-status', 'key-removal-park-interlock', 'remote-start-request']);

export const rule: Rule = {
  id: 'routing/park-not-holding',
  severity: 'fix',
  title: 'Park is taken to hold although the transfer case can be in neutral',
  why: 'With the transfer case in neutral, park does not hold the vehicle: what rests on park must know the range of the transfer case too.',
  sources: [commonPractice('transfer-case neutral frees the wheels')],
  ties: { of: RESTS_ON_PARK, about: new Set(['transfer-case-range', 'transfer-case-neutral-confirm']) },
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !RESTS_ON_PARK.has(entry.id)) return null;
      const fitted = (['host', 'donor'] as const)
        .flatMap((side) => context.bearers(side, 'transfer-case-range'))
        .filter((bearer) => context.sendersPresent(bearer).length > 0)
        .reduce((mask, bearer) => mask | maskOfBearer(context, bearer), 0n);
      if (fitted === 0n) return null;
      const side = targetSide(route);
      if (isNative(context, 'transfer-case-range', side)) return null;
      const mask =
        context.maskOf(route) &
        fitted &
        ~maskServed(context, 'transfer-case-range', side) &
        ~maskServed(context, 'transfer-case-neutral-confirm', side);
      if (mask === 0n) return null;
      return [
        {
          message: `${route.id} rests on park, and the ${side} is not told the range of the transfer case`,
          mask,
          values: [named('function', entry.id), named('missing', 'transfer-case-range')],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'PTO is enabled on park; the transfer case is on the powertrain only.',
      documents: pto(true),
      expect: ['route:locked'],
      alsoStops: ['orphan/need-without-route', 'routing/backup-missing'],
    }),
    passing: () => ({
      says: 'The range of the transfer case arrives with it.',
      documents: pto(false),
      expect: [],
      alsoStops: ['routing/backup-missing'],
    }),
  },
};

/** Builds in which a signal, message or wire is fitted. */
function maskOfBearer(context: CheckContext, bearer: Endpoint): bigint {
  const { options } = context.pairing;
  if (bearer.kind === 'wire') return options.maskOf(bearer.wire.when);
  const ofMessage = options.maskOf(bearer.message.when);
  return bearer.kind === 'signal' ? ofMessage & options.maskOf(bearer.signal.when) : ofMessage;
}

function pto(forgotten: boolean) {
  return flowCase({
    toHost: [bit('Locked', 'park-lock-status'), byte('Range', 'transfer-case-range', '')],
    unrouted: forgotten ? ['Range'] : [],
    route: () => ({ staleAfterMs: 200 }),
  });
}
