// `npm run generate`: writes the JSON Schemas, rule pages and faulty maps from their sources.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { bundleForNode, projectRoot } from '../host/setup/build.mjs';
import { installMissing } from '../host/setup/install-missing.mjs';

installMissing(projectRoot);
await bundleForNode('src/cli/generate.ts', 'dist/generate.mjs');
await import(pathToFileURL(join(projectRoot, 'dist', 'generate.mjs')).href);
