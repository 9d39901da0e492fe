import type { Command } from 'commander';
import { resolve } from 'node:path';
import { mergeDocuments } from '../../compare/index.ts';
import { UnusableInput, faultLine, readText, writeAtomically } from '../../host/index.ts';
import { readMap, readPlatform, writeMap, writePlatform, type CrossloomMap, type Platform } from '../../model/index.ts';
import type { Terminal } from '../terminal.ts';

type Document =
  { readonly kind: 'map'; readonly map: CrossloomMap } | { readonly kind: 'platform'; readonly platform: Platform };

async function load(path: string): Promise<Document> {
  const text = await readText(path);
  const isPlatform = /"format"\s*:\s*"crossloom-platform"/.test(text.slice(0, 2000));
  const result = isPlatform ? readPlatform(text) : readMap(text);
  if (!result.ok)
    throw new UnusableInput(
      `${path} cannot be used`,
      result.faults.map((fault) => faultLine(path, fault)),
    );
  return isPlatform
    ? { kind: 'platform', platform: result.document as Platform }
    : { kind: 'map', map: result.document as CrossloomMap };
}

function mergeTexts(
  base: Document,
  ours: Document,
  theirs: Document,
): { text: string; conflicts: readonly { path: string }[] } {
  if (base.kind === 'map' && ours.kind === 'map' && theirs.kind === 'map') {
    const { merged, conflicts } = mergeDocuments(base.map, ours.map, theirs.map);
    return { text: writeMap(merged), conflicts };
  }
  if (base.kind === 'platform' && ours.kind === 'platform' && theirs.kind === 'platform') {
    const { merged, conflicts } = mergeDocuments(base.platform, ours.platform, theirs.platform);
    return { text: writePlatform(merged), conflicts };
  }
  throw new UnusableInput('all three files must be maps, or all three platforms');
}

/** `crossloom merge BASE OURS THEIRS`: a three-way merge by meaning into OURS, as a version control's merge driver wants it. */
export function addMerge(program: Command, terminal: Terminal): void {
  program
    .command('merge')
    .description('merge two revisions by meaning; conflicts keep ours, are named, and give exit code 1')
    .argument('<base>', 'the common ancestor')
    .argument('<ours>', 'our revision; the result is written here unless --out names a file')
    .argument('<theirs>', 'their revision')
    .option('--out <file>', 'where to write the result')
    .action(async (base: string, ours: string, theirs: string, options: { out?: string }) => {
      const at = (file: string): string => resolve(terminal.cwd, file);
      const { text, conflicts } = mergeTexts(await load(at(base)), await load(at(ours)), await load(at(theirs)));
      await writeAtomically(at(options.out ?? ours), text);
      for (const { path } of conflicts)
        terminal.err(`conflict: ${path || 'the document'}: both changed it; ours was kept\n`);
      if (conflicts.length > 0) terminal.setExitCode(1);
    });
}
