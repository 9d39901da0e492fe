import { readerIds } from '../../../model/index.ts';
import { isNative, targetSide } from '../../served.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';
import type { CheckContext } from '../../context.ts';
import type { SideName } from '../../../model/index.ts';

const TORQUE_BY_DRIVER_AID = new Set(['cruise-set-coast', 'cruise-resume-accel', 'acc-torque-request']);
const BRAKES = ['service-brake-switch-primary', 'service-brake-switch-secondary'];

export const rule: Rule = {
  id: 'routing/brake-cancel-missing',
  severity: 'stop',
  title: 'Cruise or assistance has no wired brake cancel',
  why: 'The controller that holds torque for cruise must lose it by the brake switch itself, also when the bus or the interface module is dead.',
  sources: [commonPractice('a wired brake switch at the owner of cruise torque')],
  ties: { of: TORQUE_BY_DRIVER_AID, about: new Set(BRAKES) },
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !TORQUE_BY_DRIVER_AID.has(entry.id)) return null;
      const target = context.pairing.find(route.to);
      if (!target) return null;
      const side = targetSide(route);
      const drafts: Draft[] = [];
      for (const owner of context.readersPresent(target)) {
        const mask = context.maskOf(route) & ~maskOfWiredBrake(context, side, owner);
        if (mask === 0n) continue;
        drafts.push({
          message: `${side}:${owner} holds torque for ${entry.title}, but no brake switch is wired to it`,
          mask,
          values: [named('function', entry.id), named('owner of the torque', `${side}:${owner}`)],
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The engine controller gets the cruise buttons and has no brake switch on a wire.',
      documents: cruise(false),
      expect: ['route:resume'],
      alsoStops: ['orphan/need-without-route', 'orphan/required-function-missing'],
    }),
    passing: () => ({ says: 'A brake switch of the chassis is wired to it.', documents: cruise(true), expect: [] }),
  },
};

function maskOfWiredBrake(context: CheckContext, side: SideName, owner: string): bigint {
  let mask = 0n;
  for (const id of BRAKES) {
    for (const route of context.routesOf(id)) {
      const target = context.pairing.find(route.to);
      if (context.isHard(route) && target && target.side === side && readerIds(target).includes(owner))
        mask |= context.maskOf(route);
    }
    const own = context
      .bearers(side, id)
      .some(
        (bearer) =>
          bearer.kind === 'wire' && readerIds(bearer).includes(owner) && context.sendersPresent(bearer).length > 0,
      );
    if (own && isNative(context, id, side)) return context.pairing.options.all;
  }
  return mask;
}

function cruise(wired: boolean) {
  return flowCase({
    toDonor: [bit('Resume', 'cruise-resume-accel')],
    route: () => ({ staleAfterMs: 250, onLoss: { do: 'substitute', state: 'Off' } }),
    host: {
      modules: [{ id: 'brake-switch', title: 'Brake switch', kind: 'switch' }],
      wires: [
        {
          id: 'brake',
          title: 'Brake switch',
          module: 'brake-switch',
          direction: 'out',
          electrical: { class: 'switched-battery' },
          meaning: { active: 'pressed', inactive: 'released' },
          function: 'service-brake-switch-primary',
          documents: ['sheet-1'],
        },
      ],
    },
    donor: {
      modules: [{ id: 'old-switch', title: 'Old brake switch', kind: 'switch' }],
      wires: [
        {
          id: 'brake-in',
          title: 'Brake input',
          module: 'engine',
          direction: 'in',
          driver: 'old-switch',
          electrical: { class: 'input-pull-down' },
          meaning: { active: 'pressed', inactive: 'released' },
          function: 'service-brake-switch-primary',
          documents: ['sheet-1'],
        },
      ],
    },
    map: {
      fates: { 'donor:old-switch': 'removed' },
      leftOut: [{ function: 'service-brake-switch-secondary', reason: 'the engine controller has one input' }],
    },
    routes: wired
      ? [{ id: 'brake', from: ['host:brake'], to: 'donor:brake-in', carrier: 'hard-wire', measured: true }]
      : [],
  });
}
