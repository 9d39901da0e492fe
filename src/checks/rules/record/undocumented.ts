import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'record/undocumented',
  severity: 'fix',
  title: 'Fact without a document',
  why: 'A scaling from hearsay, a cavity from memory: nobody can check it years on. Name the drawing, manual, database or measurement it was taken from.',
  sources: [commonPractice('each fact names where it came from')],
  check: {
    message(context, { message, ref, side }) {
      if ((message.documents ?? []).length > 0 || !context.isRouted(ref)) return null;
      const { routesFrom, routesTo } = context.pairing;
      const used = message.signals.filter(({ id }) => routesFrom.has(`${ref}.${id}`) || routesTo.has(`${ref}.${id}`));
      if (used.length === 0 && !routesFrom.has(ref) && !routesTo.has(ref)) return null;
      // A database that was imported for the bus is the document of all its messages.
      if (context.pairing.side(side).platform.imports?.some(({ bus }) => bus === message.bus)) return null;
      const open = used.filter(({ documents }) => (documents ?? []).length === 0);
      if (used.length > 0 && open.length === 0) return null;
      return [
        {
          message: `${ref} is routed, and no document says where its layout comes from`,
          values: [named('message', ref)],
        },
      ];
    },
    wire(context, { wire, ref }) {
      if ((wire.documents ?? []).length > 0) return null;
      if (!context.pairing.routesFrom.has(ref) && !context.pairing.routesTo.has(ref)) return null;
      return [
        {
          message: `${ref} is routed, and no document says where its cavity and character come from`,
          values: [named('wire', ref)],
        },
      ];
    },
    map(context) {
      // Documents that are cited and not listed.
      const drafts = [];
      for (const side of [context.pairing.host, context.pairing.donor]) {
        const known = new Set((side.platform.documents ?? []).map(({ id }) => id));
        const missing = citedDocuments(side.platform).filter((id) => !known.has(id));
        if (missing.length === 0) continue;
        drafts.push({
          message: `the ${side.name} cites documents that it does not list: ${missing.join(', ')}`,
          values: missing.map((id) => named('document', id)),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The frame of the powertrain comes from nowhere.',
      documents: numberCase({ sourceMessage: { documents: undefined } }),
      expect: ['donor:FromEngine'],
    }),
    passing: () => ({ says: 'Both frames name their sheet.', documents: numberCase(), expect: [] }),
  },
};

type Platform = Parameters<NonNullable<Rule['check']['map']>>[0]['pairing']['host']['platform'];

const cited = new WeakMap<Platform, readonly string[]>();

function citedDocuments(platform: Platform): readonly string[] {
  const known = cited.get(platform);
  if (known) return known;
  const ids = new Set<string>();
  const take = ({ documents }: { readonly documents?: readonly string[] }): void =>
    documents?.forEach((id) => ids.add(id));
  for (const list of [
    platform.buses,
    platform.modules,
    platform.messages,
    platform.wires,
    platform.connectors,
    platform.feeds,
    platform.grounds,
  ]) {
    list.forEach(take);
  }
  for (const { signals } of platform.messages) for (const signal of signals) if (signal.documents) take(signal);
  const all = [...ids].sort();
  cited.set(platform, all);
  return all;
}
