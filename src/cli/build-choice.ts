import { InvalidArgumentError } from 'commander';
import type { BuildRow } from '../compare/index.ts';
import { buildScope, UnknownBuildError } from '../export/index.ts';
import { UnusableInput } from '../host/index.ts';
import type { Combination, Pairing } from '../model/index.ts';

/** `drivetrain=4wd,year=2021` as choices. */
export function choicesOf(text: string): Record<string, string> {
  const choices = text.split(',').map((part) => part.split('=').map((word) => word.trim()));
  if (choices.some((choice) => choice.length !== 2 || choice.some((word) => word === ''))) {
    throw new InvalidArgumentError('write option=choice, several with commas: drivetrain=4wd,year=2021');
  }
  return Object.fromEntries(choices as [string, string][]);
}

/** The one build that choices name. @throws UnusableInput when they name none or leave several open. */
export function buildNamed(rows: readonly BuildRow[], choices: Readonly<Record<string, string>>): BuildRow {
  const axes = rows[0] ? [...rows[0].combination.keys()] : [];
  for (const axis of Object.keys(choices))
    if (!axes.includes(axis))
      throw new UnusableInput(`there is no option "${axis}"; the options are ${axes.join(', ') || 'none'}`);
  const fitting = rows.filter(({ combination }) =>
    Object.entries(choices).every(([axis, choice]) => combination.get(axis) === choice),
  );
  if (fitting.length === 1) return fitting[0]!;
  const said = Object.entries(choices)
    .map(([axis, choice]) => `${axis}=${choice}`)
    .join(',');
  if (fitting.length === 0) throw new UnusableInput(`no build of the map is ${said}; crossloom variants lists them`);
  const open = axes.filter((axis) => new Set(fitting.map(({ combination }) => combination.get(axis))).size > 1);
  throw new UnusableInput(`${said} leaves ${fitting.length} builds open: choose ${open.join(', ')} too`);
}

/** The first build of a map that fits the choices; the first of all without any. Throws UnusableInput for choices the map does not have. */
export function firstBuild(
  pairing: Pairing,
  choices: Readonly<Record<string, string>> | undefined,
): Combination | undefined {
  try {
    const { mask } = buildScope(pairing, choices);
    return pairing.options.combinations.find((_, index) => (mask >> BigInt(index)) & 1n);
  } catch (error) {
    if (error instanceof UnknownBuildError) throw new UnusableInput(error.message);
    throw error;
  }
}
