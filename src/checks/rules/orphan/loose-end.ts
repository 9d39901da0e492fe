import { DRIVER_CLASSES } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { interfaceWireCase, moduleWithPins, wireCase } from '../../examples/wire-case.ts';

const DRIVERS: ReadonlySet<string> = new Set(DRIVER_CLASSES);

export const rule: Rule = {
  id: 'orphan/loose-end',
  severity: 'look',
  title: 'Pin, port, part or cavity that leads nowhere',
  why: 'Something is declared and nothing uses it: a forgotten route, or a leftover for the harness builder to stumble over.',
  sources: [commonPractice('every end of the added harness has a purpose')],
  check: {
    interface(context, owner) {
      const drafts: Draft[] = [];
      for (const pin of owner.pins) {
        if (context.routesAtPin(owner.id, pin.id).length > 0 || partsAt(context, `${owner.id}.${pin.id}`)) continue;
        const way = DRIVERS.has(pin.electrical.class) ? 'leaves' : 'enters';
        drafts.push({
          subject: `${owner.id}.${pin.id}`,
          message: `no route ${way} by the pin ${owner.id}.${pin.id}`,
          values: [named('pin', `${owner.id}.${pin.id}`), named('cavity', `${pin.at.connector} ${pin.at.cavity}`)],
        });
      }
      for (const port of owner.ports) {
        if (portUsed(context, owner.id, port.id, port.bus)) continue;
        drafts.push({
          subject: `${owner.id}.${port.id}`,
          message: `the port ${owner.id}.${port.id} is on ${port.bus}, but no route reads from that bus by ${owner.id}, and nothing is sent there`,
          values: [named('port', `${owner.id}.${port.id}`), named('bus', port.bus)],
        });
      }
      return drafts;
    },
    map(context, map) {
      const used = new Set(map.routes.flatMap(({ via }) => via ?? []));
      for (const { part } of map.harness?.nodes ?? []) if (part !== undefined) used.add(part);
      for (const { through } of map.harness?.circuits ?? []) for (const id of through ?? []) used.add(id);
      return (map.harness?.parts ?? [])
        .filter(
          ({ id, kind, terminals }) =>
            kind !== 'terminator' && !used.has(id) && Object.keys(terminals ?? {}).length === 0,
        )
        .map(({ id, title }) => ({
          subject: id,
          message: `no route goes through the ${title} (${id})`,
          mask: context.pairing.options.all,
          values: [named('part', id)],
        }));
    },
    wire(context, { wire, ref, side }) {
      // An output of an added part that nobody reads and no route takes.
      if (wire.direction !== 'out' || context.pairing.fateOf(side, wire.module) !== 'added') return null;
      if ((wire.readers ?? []).length > 0 || context.pairing.routesFrom.has(ref)) return null;
      return [
        {
          message: `${ref} is an output of the added ${wire.module}, and nothing reads it`,
          values: [named('wire', ref)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The interface module has two pins, and the route is a wire beside it.',
      documents: wireCase({ map: { interfaceModules: [moduleWithPins({ ports: [] })] } }),
      expect: ['xm.in1', 'xm.out1'],
    }),
    passing: () => ({
      says: 'Both pins are in use.',
      documents: interfaceWireCase({ map: { interfaceModules: [moduleWithPins({ ports: [] })] } }),
      expect: [],
      alsoStops: ['routing/not-hard-wired'],
    }),
  },
};

type Context = Parameters<NonNullable<Rule['check']['map']>>[0];

function partsAt(context: Context, pin: string): boolean {
  return (context.pairing.map.harness?.parts ?? []).some(
    ({ coilBy, terminals }) => coilBy === pin || Object.values(terminals ?? {}).includes(pin),
  );
}

function portUsed(context: Context, owner: string, port: string, bus: string): boolean {
  const { transmits } = context.pairing.map;
  return (
    context.busesRead(owner).has(bus) || transmits.some((transmit) => transmit.by === owner && transmit.port === port)
  );
}
