import { FUNCTIONS, findPin, parseRef, type Pairing } from '../../../model/index.ts';
import { removeRoute } from '../../mends.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'orphan/unknown-reference',
  severity: 'stop',
  title: 'Reference names something that is not there',
  why: 'A route to or from a thing which no document describes cannot be built; a misspelt option or function is silently passed over.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const { pairing } = context;
      const drafts: Draft[] = [];
      const unknown = unknownIn(drafts);
      for (const ref of new Set(route.from)) if (!pairing.find(ref)) unknown('source', ref, removeRoute(route));
      if (!pairing.find(route.to)) unknown('target', route.to, removeRoute(route));
      if (route.by !== undefined && !pairing.interfaceModules.has(route.by)) unknown('interface module', route.by);
      if (route.by !== undefined && pairing.interfaceModules.has(route.by)) {
        for (const pin of [...(route.enters ?? []), ...(route.leaves === undefined ? [] : [route.leaves])]) {
          if (!findPin(pairing, route.by, pin)) unknown('pin', `${route.by}.${pin}`);
        }
      }
      for (const id of route.via ?? []) if (!inHarness(context, id)) unknown('harness part or node', id);
      if (route.backupOf !== undefined && !pairing.routes.has(route.backupOf)) unknown('route', route.backupOf);
      if (route.function !== undefined && !FUNCTIONS.has(route.function)) drafts.push(notCatalogued(route.function));
      unknownOptions(pairing, route.when, unknown);
      return drafts;
    },
    transmit({ pairing }, transmit) {
      const drafts: Draft[] = [];
      const unknown = unknownIn(drafts);
      const entry = pairing.find(transmit.message);
      if (entry?.kind !== 'message') unknown('message', transmit.message);
      else {
        const signals = new Set(entry.message.signals.map(({ id }) => id));
        for (const id of Object.keys(transmit.fill ?? {}))
          if (!signals.has(id)) unknown('signal', `${transmit.message}.${id}`);
      }
      const by = pairing.interfaceModules.get(transmit.by);
      if (!by) unknown('interface module', transmit.by);
      else if (!by.ports.some(({ id }) => id === transmit.port)) unknown('port', `${transmit.by}.${transmit.port}`);
      unknownOptions(pairing, transmit.when, unknown);
      return drafts;
    },
    interface({ pairing }, owner) {
      const drafts: Draft[] = [];
      const unknown = unknownIn(drafts);
      for (const { bus } of owner.ports) {
        const ref = parseRef(bus);
        if (!ref || !pairing.side(ref.side).buses.has(ref.name)) unknown('bus', bus);
      }
      const feed = owner.feed === undefined ? null : parseRef(owner.feed);
      if (owner.feed !== undefined && !(feed && pairing.side(feed.side).feeds.has(feed.name)))
        unknown('feed', owner.feed);
      const ground = owner.ground === undefined ? null : parseRef(owner.ground);
      if (owner.ground !== undefined && !(ground && pairing.side(ground.side).grounds.has(ground.name)))
        unknown('ground', owner.ground);
      unknownOptions(pairing, owner.when, unknown);
      return drafts;
    },
    map({ pairing }, map) {
      const drafts: Draft[] = [];
      const unknown = unknownIn(drafts);
      for (const ref of Object.keys(map.fates)) {
        const module = parseRef(ref);
        if (!module || !pairing.side(module.side).modules.has(module.name)) unknown('module (in fates)', ref);
      }
      for (const { signal, function: functionId, when } of map.leftOut ?? []) {
        if (signal !== undefined && !pairing.find(signal)) unknown('left-out signal', signal);
        if (functionId !== undefined && !FUNCTIONS.has(functionId)) drafts.push(notCatalogued(functionId));
        unknownOptions(pairing, when, unknown);
      }
      for (const id of map.requires ?? []) if (!FUNCTIONS.has(id)) drafts.push(notCatalogued(id));
      for (const { function: id } of map.classes ?? []) if (!FUNCTIONS.has(id)) drafts.push(notCatalogued(id));
      return drafts;
    },
    message(_context, { message }) {
      const drafts: Draft[] = [];
      if (message.function !== undefined && !FUNCTIONS.has(message.function))
        drafts.push(notCatalogued(message.function));
      for (const { function: id } of message.signals)
        if (id !== undefined && !FUNCTIONS.has(id)) drafts.push(notCatalogued(id));
      return drafts.length === 0 ? null : drafts;
    },
    wire({ pairing }, { wire, side }) {
      const drafts: Draft[] = [];
      const unknown = unknownIn(drafts);
      const { feeds, grounds } = pairing.side(side);
      if (wire.feed !== undefined && !feeds.has(wire.feed)) unknown('feed', wire.feed);
      if (wire.ground !== undefined && !grounds.has(wire.ground)) unknown('ground', wire.ground);
      if (wire.function !== undefined && !FUNCTIONS.has(wire.function)) drafts.push(notCatalogued(wire.function));
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The name of the source is misspelt.',
      documents: numberCase({ route: { from: ['donor:FromEngine.OilTmp'] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'Every name is that of a thing described.', documents: numberCase(), expect: [] }),
  },
};

type Unknown = (what: string, ref: string, mend?: Draft['mend']) => void;

function unknownIn(drafts: Draft[]): Unknown {
  return (what, ref, mend) => {
    drafts.push({ message: `there is no ${what} ${ref}`, values: [named(what, ref)], mend: mend ?? null });
  };
}

function notCatalogued(id: string): Draft {
  return {
    severity: 'fix',
    message: `the catalogue has no function ${id}: its class and safe state are not known`,
    values: [named('function', id)],
  };
}

function unknownOptions(
  pairing: Pairing,
  when: Readonly<Record<string, readonly string[]>> | undefined,
  unknown: Unknown,
): void {
  for (const [axis, choices] of Object.entries(when ?? {})) {
    const known = pairing.map.options?.find(({ id }) => id === axis);
    if (!known) unknown('option', axis);
    else for (const choice of choices) if (!known.choices.includes(choice)) unknown('choice', `${axis}=${choice}`);
  }
}

function inHarness(context: Parameters<NonNullable<Rule['check']['route']>>[0], id: string): boolean {
  return context.part(id) !== null || (context.pairing.map.harness?.nodes.some((node) => node.id === id) ?? false);
}
