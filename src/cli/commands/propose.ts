import type { Command } from 'commander';
import { resolve } from 'node:path';
import { propose, type NeedProposals, type Proposal } from '../../edit/index.ts';
import { UnusableInput, loadPairing, writeAtomically } from '../../host/index.ts';
import { applyEdits, pair, writeMap, type Pairing } from '../../model/index.ts';
import { formatOption, jsonText, wholeNumber } from '../formats.ts';
import type { Terminal } from '../terminal.ts';

interface Options {
  readonly need?: string;
  readonly most: number;
  readonly accept?: number;
  readonly out?: string;
  readonly format: string;
}

function asJson(pairing: Pairing, { need, unmet, proposals }: NeedProposals, most: number): object {
  return {
    need: need.ref,
    function: need.function,
    readers: need.modules,
    because: need.because,
    unmetIn: pairing.options.describe(unmet),
    proposals: proposals.slice(0, most).map(({ offer, score, reasons, draft }) => ({
      offer: offer.ref,
      score,
      reasons: reasons.map(({ text, points }) => ({ text, points })),
      route: draft.route,
      open: draft.open,
    })),
  };
}

function asText(pairing: Pairing, { need, unmet, proposals }: NeedProposals, most: number): string {
  const where = pairing.options.describe(unmet);
  const head = `${need.ref}  ${need.function ?? 'no function'}  for ${need.modules.join(', ')}${where.length > 0 ? `  (in ${where.join(', ')})` : ''}\n`;
  if (proposals.length === 0) return `${head}    nothing on offer fits\n`;
  const lines = proposals.slice(0, most).map(({ offer, score, reasons, draft }) => {
    const route = draft.route
      ? `    ${draft.route.carrier}${draft.route.by ? ` by ${draft.route.by}` : ''}`
      : '    no route';
    const open = draft.open.map((text) => `        open: ${text}\n`).join('');
    return `  ${String(score).padStart(3)}  ${offer.ref}\n${route}: ${reasons.map(({ text }) => text).join('; ')}\n${open}`;
  });
  return head + lines.join('');
}

/** Accepts the best proposal of each need that scores at least so much; each is drafted against the map as it then is. */
function accept(pairing: Pairing, least: number): { pairing: Pairing; accepted: Proposal[] } {
  let current = pairing;
  const accepted: Proposal[] = [];
  const refused = new Set<string>();
  for (;;) {
    const next = propose(current).find(
      ({ need, proposals: [best] }) => best?.draft.route && best.score >= least && !refused.has(need.ref),
    );
    if (!next) return { pairing: current, accepted };
    const best = next.proposals[0]!;
    refused.add(next.need.ref);
    const { map, host, donor } = applyEdits(
      { map: current.map, host: current.host.platform, donor: current.donor.platform },
      best.draft.edits,
    );
    current = pair(
      map,
      host === current.host.platform ? current.host : host,
      donor === current.donor.platform ? current.donor : donor,
    );
    accepted.push(best);
  }
}

async function run(file: string, options: Options, terminal: Terminal): Promise<void> {
  const { pairing } = await loadPairing(resolve(terminal.cwd, file));
  if (options.accept !== undefined) {
    if (options.out === undefined)
      throw new UnusableInput('--accept writes a map: name it with --out (it may be the same file)');
    const result = accept(pairing, options.accept);
    await writeAtomically(resolve(terminal.cwd, options.out), writeMap(result.pairing.map));
    const left = propose(result.pairing).length;
    if (options.format === 'json')
      terminal.out(
        jsonText({
          written: options.out,
          accepted: result.accepted.map(({ draft }) => draft.route!.id),
          needsLeft: left,
        }),
      );
    else
      terminal.out(
        `wrote ${options.out}: ${result.accepted.length} routes accepted, ${left} needs left; check it with: crossloom check ${options.out}\n`,
      );
    return;
  }
  const all = propose(pairing).filter(({ need }) => options.need === undefined || need.ref === options.need);
  if (options.need !== undefined && all.length === 0)
    throw new UnusableInput(`${options.need} is no open need of this map; crossloom needs ${file} --open lists them`);
  if (options.format === 'json')
    terminal.out(
      jsonText({
        map: pairing.map.id,
        revision: pairing.map.revision,
        needs: all.map((each) => asJson(pairing, each, options.most)),
      }),
    );
  else {
    for (const each of all) terminal.out(asText(pairing, each, options.most));
    terminal.out(
      `${all.length} needs open; ${all.filter(({ proposals }) => proposals[0]?.draft.route).length} with a proposal that can be routed\n`,
    );
  }
}

/** `crossloom propose MAP`: ranked offers with reasons for each open need, and complete draft routes from them. */
export function addPropose(program: Command, terminal: Terminal): void {
  program
    .command('propose')
    .description('propose routes for open needs, with the reasons for each; interlocks only as hard wires')
    .argument('<map>', 'a *.map.json file')
    .option('--need <ref>', 'only this need, as host:Message.Signal')
    .option('--most <n>', 'at most so many offers a need', wholeNumber(1, 5), 3)
    .option(
      '--accept <score>',
      'put the best proposal of each need with at least this score into the map',
      wholeNumber(0, 1000),
    )
    .option('--out <file>', 'where --accept writes the map')
    .addOption(formatOption())
    .action((file: string, options: Options) => run(file, options, terminal));
}
