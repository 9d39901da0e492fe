import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import type { Log } from 'sarif';
import { describe, expect, it } from 'vitest';
import { run } from './memory-terminal.ts';

const root = resolve(import.meta.dirname, '../..');
const require = createRequire(import.meta.url);

describe('SARIF', () => {
  it('is valid by the OASIS SARIF 2.1.0 schema', async () => {
    const { out } = await run(root, 'check', 'sample-maps/faulty/review-me.map.json', '--format', 'sarif');
    const log = JSON.parse(out) as Log;
    const schema = JSON.parse(
      readFileSync(require.resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json'), 'utf8'),
    ) as Record<string, unknown>;
    const ajv = new Ajv({ strict: false, allErrors: true, unicodeRegExp: false });
    addFormats(ajv);
    const validate = ajv.compile({
      ...schema,
      id: undefined,
      $id: 'sarif',
      $schema: 'http://json-schema.org/draft-07/schema#',
    });
    expect(validate(log), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
    const [first] = log.runs;
    expect(first!.results!.length).toBeGreaterThanOrEqual(15);
    // A place that is no place must fail: the schema is really asked.
    const broken = structuredClone(log);
    broken.runs[0]!.results![0]!.locations![0]!.physicalLocation!.region!.startLine = 0;
    expect(validate(broken)).toBe(false);
  });

  it('points at the line of what it is about', async () => {
    const { out } = await run(root, 'check', 'sample-maps/faulty/review-me.map.json', '--format', 'sarif');
    const { runs } = JSON.parse(out) as Log;
    const text = readFileSync(resolve(root, 'sample-maps/faulty/review-me.map.json'), 'utf8').split('\n');
    const routes = runs[0]!.results!.filter(({ locations }) =>
      locations![0]!.logicalLocations![0]!.fullyQualifiedName!.startsWith('route:'),
    );
    expect(routes.length).toBeGreaterThan(0);
    for (const { locations } of routes) {
      const [{ physicalLocation, logicalLocations }] = locations as [NonNullable<typeof locations>[number]];
      const line = physicalLocation!.region!.startLine!;
      const id = logicalLocations![0]!.fullyQualifiedName!.slice('route:'.length);
      expect(text.slice(line - 1, line + 2).join('\n')).toContain(`"id": "${id}"`);
    }
  });
});
