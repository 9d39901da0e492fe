import type { Command } from 'commander';
import type { Terminal } from '../terminal.ts';
import { addConvert } from './convert.ts';
import { addNeeds } from './needs.ts';
import { addNew } from './new.ts';

/** Every command, in the order of the help. */
export const commands: readonly ((program: Command, terminal: Terminal) => void)[] = [addNew, addNeeds, addConvert];
