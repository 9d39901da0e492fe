import type { Command } from 'commander';
import { resolve } from 'node:path';
import { acceptBest, propose, type NeedProposals } from '../../edit/index.ts';
import { UnusableInput, loadPairing, writeAtomically } from '../../host/index.ts';
import { applyEdits, pair, writeMap, type Pairing } from '../../model/index.ts';
import { formatOption, jsonText, wholeNumber } from '../formats.ts';
import type { Terminal } from '../terminal.ts';

interface Options {
  readonly need?: string;
  readonly all?: boolean;
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
    unmetIn: unmet === 0n ? null : pairing.options.describe(unmet),
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
  const where = unmet === 0n ? ['no build: it is met'] : pairing.options.describe(unmet);
  const head = `${need.ref}  ${need.function ?? 'no function'}  for ${need.modules.join(', ')}${where.length > 0 ? `  (open in ${where.join(', ')})` : ''}\n`;
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

async function run(file: string, options: Options, terminal: Terminal): Promise<void> {
  const { pairing } = await loadPairing(resolve(terminal.cwd, file));
  if (options.accept !== undefined) {
    if (options.out === undefined)
      throw new UnusableInput('--accept writes a map: name it with --out (it may be the same file)');
    const { edits, accepted, refused } = acceptBest(pairing, propose(pairing), options.accept);
    const { map } = applyEdits({ map: pairing.map, host: pairing.host.platform, donor: pairing.donor.platform }, edits);
    await writeAtomically(resolve(terminal.cwd, options.out), writeMap(map));
    const left = propose(pair(map, pairing.host, pairing.donor)).length;
    if (options.format === 'json') {
      terminal.out(
        jsonText({
          written: options.out,
          accepted: accepted.map(({ route }) => route.id),
          refused: refused.map(({ need, reason }) => ({ need: need.ref, reason })),
          needsLeft: left,
        }),
      );
    } else {
      for (const { need, reason } of refused) terminal.out(`not accepted: ${need.ref}: ${reason}\n`);
      terminal.out(
        `wrote ${options.out}: ${accepted.length} routes accepted, ${left} needs left; check it with: crossloom check ${options.out}\n`,
      );
    }
    return;
  }
  const which = options.all === true || options.need !== undefined ? 'all' : 'open';
  const all = propose(pairing, undefined, which).filter(
    ({ need }) => options.need === undefined || need.ref === options.need,
  );
  if (options.need !== undefined && all.length === 0)
    throw new UnusableInput(`${options.need} is no need of this map; crossloom needs ${file} lists them`);
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
      `${all.filter(({ unmet }) => unmet !== 0n).length} needs open${which === 'all' ? ` of ${all.length}` : ''}; ${all.filter(({ proposals }) => proposals[0]?.draft.route).length} with a proposal that can be routed\n`,
    );
  }
}

/** `crossloom propose MAP`: ranked offers with reasons for each open need, and complete draft routes from them. */
export function addPropose(program: Command, terminal: Terminal): void {
  program
    .command('propose')
    .description('propose routes for open needs, with the reasons for each; interlocks only as hard wires')
    .argument('<map>', 'a *.map.json file')
    .option('--all', 'for needs that are met too: what else was on offer')
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
