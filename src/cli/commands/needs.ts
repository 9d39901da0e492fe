import type { Command } from 'commander';
import { resolve } from 'node:path';
import { loadPairing } from '../../host/index.ts';
import { deriveNeedsAndOffers, findFunction, type Pairing, type Supply } from '../../model/index.ts';
import { columns, formatOption, jsonText } from '../formats.ts';
import type { Terminal } from '../terminal.ts';

interface NeedLine {
  readonly need: Supply;
  readonly routes: readonly string[];
  readonly leftOut: string | null;
  /** Combinations in which nothing meets it, in words; null when every combination is met. */
  readonly unmetIn: readonly string[] | null;
}

/** Every need with what meets it. */
function needLines(pairing: Pairing): NeedLine[] {
  const leftOut = new Map(
    (pairing.map.leftOut ?? []).flatMap((entry) => (entry.signal === undefined ? [] : [[entry.signal, entry]])),
  );
  return [...deriveNeedsAndOffers(pairing).needs.values()].map((need) => {
    const routes = pairing.routesTo.get(need.ref) ?? [];
    const left = leftOut.get(need.ref);
    const met = routes.reduce(
      (mask, route) => mask | pairing.options.maskOf(route.when),
      left ? pairing.options.maskOf(left.when) : 0n,
    );
    const unmet = need.mask & ~met;
    return {
      need,
      routes: routes.map(({ id }) => id),
      leftOut: left?.reason ?? null,
      unmetIn: unmet === 0n ? null : pairing.options.describe(unmet),
    };
  });
}

function status(line: NeedLine): string {
  if (line.unmetIn !== null) return line.unmetIn.length > 0 ? `unmet in ${line.unmetIn.join(', ')}` : 'unmet';
  return line.routes.length > 0 ? `by ${line.routes.join(', ')}` : 'left out';
}

/** `crossloom needs MAP`: what every retained module lacks, and what meets it. */
export function addNeeds(program: Command, terminal: Terminal): void {
  program
    .command('needs')
    .description('list what retained modules need, derived from the platforms, and what meets it')
    .argument('<map>', 'a *.map.json file')
    .option('--open', 'only needs that nothing meets yet')
    .option('--offers', 'list what retained senders offer instead')
    .addOption(formatOption())
    .action(async (file: string, options: { open?: boolean; offers?: boolean; format: string }) => {
      const { pairing } = await loadPairing(resolve(terminal.cwd, file));
      if (options.offers) return printOffers(pairing, options.format, terminal);
      const lines = needLines(pairing);
      const shown = options.open ? lines.filter(({ unmetIn }) => unmetIn !== null) : lines;
      const met = lines.filter(({ unmetIn }) => unmetIn === null).length;
      if (options.format === 'json') {
        terminal.out(
          jsonText({
            map: pairing.map.id,
            revision: pairing.map.revision,
            needs: lines.length,
            met,
            list: shown.map(({ need, routes, leftOut, unmetIn }) => ({
              need: need.ref,
              kind: need.kind,
              function: need.function,
              criticality: findFunction(need.function ?? undefined)?.criticality ?? null,
              readers: need.modules,
              because: need.because,
              derivation: need.by,
              routes,
              leftOut,
              unmetIn,
            })),
          }),
        );
        return;
      }
      const rows = shown.map((line) => [
        line.need.ref,
        line.need.function ?? '–',
        `for ${line.need.modules.join(', ')}`,
        status(line),
      ]);
      if (rows.length > 0) terminal.out(columns([['NEED', 'FUNCTION', 'READER', 'MET'], ...rows]));
      terminal.out(`${met} of ${lines.length} needs met (routed, or left out with a reason)\n`);
    });
}

function printOffers(pairing: Pairing, format: string, terminal: Terminal): void {
  const offers = [...deriveNeedsAndOffers(pairing).offers.values()];
  if (format === 'json') {
    terminal.out(
      jsonText({
        map: pairing.map.id,
        revision: pairing.map.revision,
        offers: offers.map((offer) => ({
          offer: offer.ref,
          kind: offer.kind,
          function: offer.function,
          from: offer.modules,
          usedBy: (pairing.routesFrom.get(offer.ref) ?? []).map(({ id }) => id),
        })),
      }),
    );
    return;
  }
  const used = (offer: Supply): string => (pairing.routesFrom.get(offer.ref) ?? []).map(({ id }) => id).join(', ');
  terminal.out(
    columns([
      ['OFFER', 'FUNCTION', 'FROM', 'USED BY'],
      ...offers.map((offer) => [offer.ref, offer.function ?? '–', offer.modules.join(', '), used(offer)]),
    ]),
  );
}
