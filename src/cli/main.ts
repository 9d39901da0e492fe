import { Command, CommanderError } from 'commander';
import { UnusableInput } from '../host/index.ts';
import { commands } from './commands/index.ts';
import { processTerminal, type Terminal } from './terminal.ts';
import { VERSION } from './version.ts';

const EXAMPLES = `
Examples:
  crossloom check sample-maps/ft6-orrin32.map.json
  crossloom needs sample-maps/ft6-orrin32.map.json --open
  crossloom export sample-maps/ft6-orrin32.map.json --spec wiring --as pdf --out handover

Exit codes: 0 nothing found, 1 findings at or over --fail-on, 2 unusable input.
A check lists what it examined; it never says that a vehicle is fit for the road.`;

/** Builds the program; `terminal` is where it reads and prints. */
export function buildProgram(terminal: Terminal): Command {
  const program = new Command('crossloom');
  program
    .description('Signal mapping for fitting the powertrain of one vehicle platform into the chassis of another.')
    .version(VERSION, '-V, --version', 'print the version')
    .showHelpAfterError('(crossloom --help lists the commands, crossloom COMMAND --help its options)')
    .showSuggestionAfterError(true)
    .exitOverride()
    .configureOutput({ writeOut: (text) => terminal.out(text), writeErr: (text) => terminal.err(text) })
    .addHelpText('after', EXAMPLES);
  for (const add of commands) add(program, terminal);
  for (const command of program.commands) {
    command
      .exitOverride()
      .configureOutput({ writeOut: (text) => terminal.out(text), writeErr: (text) => terminal.err(text) });
  }
  return program;
}

/** Runs one command line; gives the exit code: 0 nothing found, 1 findings, 2 unusable input. */
export async function runTerminal(args: readonly string[], terminal: Terminal = processTerminal()): Promise<number> {
  const program = buildProgram(terminal);
  try {
    await program.parseAsync([...args], { from: 'user' });
    return terminal.exitCode();
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    if (error instanceof UnusableInput) {
      terminal.err(`crossloom: ${error.message}\n`);
      for (const fault of error.faults) terminal.err(`  ${fault}\n`);
      return 2;
    }
    throw error;
  }
}
