#!/usr/bin/env node
// Starts the terminal program; in a fresh checkout it first installs and bundles what is missing.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { buildTerminal, projectRoot, terminalBundle, terminalIsStale } from '../host/setup/build.mjs';
import { installMissing } from '../host/setup/install-missing.mjs';

if (existsSync(join(projectRoot, 'package-lock.json'))) installMissing(projectRoot);
if (terminalIsStale()) await buildTerminal();
const { runTerminal } = await import(pathToFileURL(terminalBundle).href);
process.exitCode = await runTerminal(process.argv.slice(2));
