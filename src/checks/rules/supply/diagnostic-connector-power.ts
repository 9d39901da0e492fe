import type { Connector, SideName } from '../../../model/index.ts';
import { liveIn } from '../../../wiring/index.ts';
import type { CheckContext } from '../../context.ts';
import { fromMemory, named, read, type Draft, type Rule } from '../../rule.ts';
import { fourWay } from '../../examples/harness-case.ts';
import { diagnosticsCase } from '../../examples/diagnostics.ts';

/** Cavities of the diagnostic connector for battery, chassis ground and signal ground. */
const BATTERY = '16';
const GROUNDS = ['4', '5'] as const;

export const rule: Rule = {
  id: 'supply/diagnostic-connector-power',
  severity: 'fix',
  title: 'Diagnostic connector is not powered as a scan tool expects',
  why: 'A scan tool takes its supply from cavity 16, fused and live with the key off, and its grounds from 4 and 5, within 0.1 V of battery negative: else it resets, and an inspection ends there.',
  sources: [
    fromMemory('SAE J1962: cavities 16, 4 and 5'),
    read('Scan-tool manual: 0.1 V or less between its ground and battery negative'),
  ],
  check: {
    module(context, { side, module }) {
      if (module.kind !== 'diagnostic-connector' || context.pairing.fateOf(side, module.id) === 'removed') return null;
      const connectors = context.pairing.side(side).platform.connectors.filter(({ of }) => of === module.id);
      const connector = connectors.find(({ cavities }) => cavities.includes(BATTERY));
      if (!connector) {
        return [
          {
            severity: 'look',
            message: `the connector of ${module.title} is not described with a cavity ${BATTERY}: nothing says how a scan tool is supplied`,
            values: [named('module', `${side}:${module.id}`)],
          },
        ];
      }
      return [feedFault(context, side, connector), ...groundFaults(context, side, connector)].filter(
        (draft) => draft !== null,
      );
    },
  },
  examples: {
    failing: () => ({
      says: 'Cavity 16 lies on a feed without a fuse.',
      documents: powered(null),
      expect: ['module:host:connector'],
    }),
    passing: () => ({
      says: 'It lies on a permanent feed of 10 A, with both grounds.',
      documents: powered(10),
      expect: [],
    }),
  },
};

function isAt(
  at: { readonly connector: string; readonly cavity: string } | undefined,
  connector: Connector,
  cavity: string,
) {
  return at?.connector === connector.id && at.cavity === cavity;
}

function feedFault({ pairing }: CheckContext, side: SideName, connector: Connector): Draft | null {
  const feed = pairing.side(side).platform.feeds.find(({ at }) => isAt(at, connector, BATTERY));
  const place = `${side}:${connector.id}/${BATTERY}`;
  if (!feed) {
    return {
      severity: 'look',
      message: `nothing says which feed lies in ${place}, where a scan tool takes its supply`,
      values: [named('cavity', place), named('feed', 'not stated')],
    };
  }
  const faults = [
    ...(feed.fuseA === null ? ['it has no fuse'] : []),
    ...(liveIn(feed).includes('off') ? [] : [`it is live in ${liveIn(feed).join(', ')} only`]),
  ];
  if (faults.length === 0) return null;
  return {
    message: `${place} lies on ${side}:${feed.id}: ${faults.join(' and ')}`,
    values: [
      named('cavity', place),
      named('feed', `${side}:${feed.id}`),
      named('fuse', feed.fuseA ?? 'none', feed.fuseA === null ? '' : 'A'),
      named('live in', liveIn(feed).join(', ')),
    ],
  };
}

function groundFaults({ pairing }: CheckContext, side: SideName, connector: Connector): Draft[] {
  const { grounds, wires } = pairing.side(side).platform;
  const lacking = GROUNDS.filter(
    (cavity) =>
      connector.cavities.includes(cavity) &&
      !grounds.some(({ at }) => isAt(at, connector, cavity)) &&
      !wires.some(({ at, electrical }) => electrical.class === 'power-ground' && isAt(at, connector, cavity)),
  );
  if (lacking.length === 0) return [];
  return [
    {
      severity: 'look',
      message: `nothing says that ${lacking.map((cavity) => `${side}:${connector.id}/${cavity}`).join(' and ')} ${lacking.length === 1 ? 'is a ground' : 'are grounds'}, where a scan tool takes its own`,
      values: lacking.map((cavity) => named('cavity', `${side}:${connector.id}/${cavity}`)),
    },
  ];
}

function powered(fuseA: number | null) {
  const documents = diagnosticsCase();
  const at = (cavity: string) => ({ connector: 'D1', cavity });
  const ground = (id: string, cavity: string) => ({
    id,
    title: 'Diagnostic connector',
    kind: 'power' as const,
    at: at(cavity),
    documents: ['sheet-1'],
  });
  return {
    ...documents,
    host: {
      ...documents.host,
      connectors: [fourWay('D1', { of: 'connector', cavities: Array.from({ length: 16 }, (_, n) => String(n + 1)) })],
      feeds: [
        ...documents.host.feeds,
        {
          id: 'F16',
          title: 'Diagnostic connector',
          kind: 'battery' as const,
          fuseA,
          loadA: 0,
          at: at(BATTERY),
          documents: ['sheet-1'],
        },
      ],
      grounds: [...documents.host.grounds, ground('G16', '4'), ground('G17', '5')],
    },
  };
}
