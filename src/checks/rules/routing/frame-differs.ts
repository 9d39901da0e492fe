import type { Message, Signal } from '../../../model/index.ts';
import { setRoute } from '../../mends.ts';
import { commonPractice, named, type Draft, type NamedValue, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'routing/frame-differs',
  severity: 'stop',
  title: 'Carrier is the bus, but the reader expects another frame',
  why: 'A relayed or shared frame arrives as it was sent: a reader that expects another identifier, length, layout, scaling or state numbers reads something else, or nothing.',
  sources: [commonPractice('same frame, same layout')],
  check: {
    route(context, route) {
      if (route.carrier !== 'bus') return null;
      const target = context.pairing.find(route.to);
      const drafts: Draft[] = [];
      for (const { ref, entry: source } of context.sources(route)) {
        if (!source || !target || source.kind === 'wire' || target.kind === 'wire') continue;
        const differences = [
          ...frameDifferences(source.message, target.message),
          ...(source.kind === 'signal' && target.kind === 'signal'
            ? layoutDifferences(source.signal, target.signal)
            : []),
        ];
        if (differences.length === 0) continue;
        drafts.push({
          message: `${ref} is sent with ${differences.map(([name, sent]) => `${name} ${sent}`).join(', ')}; ${route.to} is read with ${differences.map(([name, , wanted]) => `${name} ${wanted}`).join(', ')}`,
          mask: context.maskOf(route),
          values: differences.flatMap(([name, sent, wanted]): NamedValue[] => [
            named(`${name} sent`, sent),
            named(`${name} expected`, wanted),
          ]),
          mend:
            route.by === undefined
              ? null
              : setRoute(route, 'carrier', 'interface', 'translate it in the interface module'),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The frame is forwarded, but the cluster reads the value with another factor.',
      documents: numberCase({
        route: { carrier: 'bus' },
        target: { factor: 2 },
        targetMessage: { frameId: '0x120' },
        transmit: { send: 'forwarded' },
      }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'Both sides lay the value out alike.',
      documents: numberCase({
        route: { carrier: 'bus' },
        targetMessage: { frameId: '0x120' },
        transmit: { send: 'forwarded' },
      }),
      expect: [],
    }),
  },
};

type Difference = readonly [name: string, sent: string, wanted: string];

function frameDifferences(sent: Message, wanted: Message): Difference[] {
  return differing([
    ['frame id', `${sent.frameId} (${sent.idFormat})`, `${wanted.frameId} (${wanted.idFormat})`],
    ['length', `${sent.length} bytes`, `${wanted.length} bytes`],
  ]);
}

function layoutDifferences(sent: Signal, wanted: Signal): Difference[] {
  const bits = ({ bits: { start, length, order } }: Signal): string => `${start}|${length} ${order}`;
  return differing([
    ['bits', bits(sent), bits(wanted)],
    ['number', sent.number, wanted.number],
    ['factor', String(sent.factor), String(wanted.factor)],
    ['offset', String(sent.offset), String(wanted.offset)],
    ['unit', sent.unit, wanted.unit],
    ['states', statesText(sent), statesText(wanted)],
  ]);
}

function statesText({ states }: Signal): string {
  return Object.entries(states ?? {})
    .map(([raw, label]) => `${raw}=${label}`)
    .join(' ');
}

function differing(rows: readonly Difference[]): Difference[] {
  return rows.filter(([, sent, wanted]) => sent !== wanted);
}
