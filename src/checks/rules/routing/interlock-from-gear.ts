import { functionIdOfEndpoint } from '../../context.ts';
import { lawAndPractice } from '../../law.ts';
import { named, read, type Draft, type Rule } from '../../rule.ts';
import { bit, byte, flowCase } from '../../examples/signals.ts';
import { interfaceRoute } from '../../examples/frame-case.ts';

const BY_LEVER = new Set([
  'park-neutral-starter-interlock',
  'starter-relay-command',
  'brake-to-shift-interlock',
  'key-removal-park-interlock',
  'park-lock-status',
  'transfer-case-neutral-confirm',
  'reverse-lamp-command',
]);
const NOT_THE_LEVER = new Set([
  'current-gear',
  'transmission-output-speed',
  'transmission-input-speed',
  'vehicle-speed',
  'wheel-speeds',
  'engine-speed',
  'torque-converter-lockup',
]);

export const rule: Rule = {
  id: 'routing/interlock-from-gear',
  severity: 'stop',
  title: 'Interlock follows the engaged gear or a speed instead of the selected lever position',
  why: 'With the lever in a drive range and the clutches drained, the engaged gear reads neutral: the interlock must follow the position the driver selected.',
  sources: [read('Agency interpretation letter 3167yy on 49 CFR 571.102 S3.1.3: the lever position is the test')],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !BY_LEVER.has(entry.id)) return null;
      const drafts: Draft[] = [];
      for (const { ref, entry: source } of context.sources(route)) {
        if (!source) continue;
        const bears = functionIdOfEndpoint(source);
        if (bears !== null && NOT_THE_LEVER.has(bears)) {
          drafts.push({
            message: `${entry.title} is taken from ${ref} (${bears}), not from the selected lever position`,
            because: lawAndPractice(entry, context.classOf(entry)),
            mask: context.maskOf(route),
            values: [named('function', entry.id), named('source', ref), named('source function', bears)],
          });
        } else if (bears === null) {
          drafts.push({
            severity: 'look',
            message: `${ref} bears no function: whether it is the selected lever position or the engaged gear cannot be told. Give the signal its function`,
            mask: context.maskOf(route),
            values: [named('function', entry.id), named('source', ref)],
          });
        }
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Starter permission is made of the engaged gear.',
      documents: startPermission('current-gear'),
      expect: ['route:permission'],
      alsoStops: ['routing/not-hard-wired'],
    }),
    passing: () => ({
      says: 'It is made of the contact at the lever.',
      documents: startPermission('park-neutral-starter-interlock'),
      expect: [],
      alsoStops: ['routing/not-hard-wired'],
    }),
  },
};

function startPermission(source: string) {
  return flowCase({
    toHost: [bit('Permission', 'park-neutral-starter-interlock')],
    unrouted: ['Permission'],
    donor: {
      messages: [
        {
          id: 'Gearbox',
          bus: 'drive-can',
          frameId: '0x140',
          idFormat: 'standard',
          length: 8,
          sender: 'engine',
          cycleMs: 20,
          documents: ['sheet-1'],
          signals: [source === 'current-gear' ? byte('Gear', source, '') : bit('Contact', source)],
        },
      ],
    },
    routes: [
      interfaceRoute({
        id: 'permission',
        function: 'park-neutral-starter-interlock',
        from: [source === 'current-gear' ? 'donor:Gearbox.Gear' : 'donor:Gearbox.Contact'],
        to: 'host:ToCluster.Permission',
        staleAfterMs: 100,
        onLoss: { do: 'substitute', state: 'Off' },
        ...(source === 'current-gear' ? { steps: [{ do: 'bands', at: [1], states: ['On', 'Off'], unit: '' }] } : {}),
      }),
    ],
  });
}
