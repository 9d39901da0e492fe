import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { generatedFiles } from '../../src/cli/generated-files.ts';
import { COVERAGE, RULES, findRule } from '../../src/checks/index.ts';
import { readMap, readPlatform } from '../../src/model/index.ts';

const root = join(import.meta.dirname, '../..');
const files = generatedFiles();

describe('generated files', () => {
  it.each(files.map(({ path, content }) => ({ path, content })))(
    '$path is as the generator gives it',
    ({ path, content }) => {
      const file = join(root, path);
      expect(existsSync(file), `${path} is missing: run npm run generate`).toBe(true);
      expect(readFileSync(file, 'utf8') === content, `${path} is stale: run npm run generate`).toBe(true);
    },
  );

  it('leaves no page and no faulty map of a rule that is gone', () => {
    const wanted = new Set(files.map(({ path }) => path));
    for (const group of readdirSync(join(root, 'src/checks/rules'), { withFileTypes: true })) {
      if (!group.isDirectory()) continue;
      for (const name of readdirSync(join(root, 'src/checks/rules', group.name))) {
        if (name.endsWith('.md')) expect(wanted).toContain(`src/checks/rules/${group.name}/${name}`);
      }
      const faulty = join(root, 'sample-maps/faulty', group.name);
      if (existsSync(faulty)) {
        for (const name of readdirSync(faulty)) expect(wanted).toContain(`sample-maps/faulty/${group.name}/${name}`);
      }
    }
  });

  it('names each rule after its file, and lists every rule file', () => {
    const onDisk = readdirSync(join(root, 'src/checks/rules'), { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .flatMap(({ name: group }) =>
        readdirSync(join(root, 'src/checks/rules', group))
          .filter((name) => name.endsWith('.ts') && !name.endsWith('-examples.ts'))
          .map((name) => `${group}/${name.slice(0, -3)}`),
      );
    expect(RULES.map(({ id }) => id).sort()).toEqual(onDisk.sort());
  });

  it('writes faulty maps and platforms which read without a fault, and fit their JSON Schemas', () => {
    // ajv is an independent validator: it must accept what zod accepts.
    const ajv = new Ajv({ strict: false });
    addFormats(ajv);
    const schema = (name: string) =>
      ajv.compile(JSON.parse(files.find(({ path }) => path === `schemas/${name}.schema.json`)!.content));
    const asMap = schema('map');
    const asPlatform = schema('platform');
    let seen = 0;
    for (const { path, content } of files) {
      const kind = path.endsWith('.map.json') ? 'map' : path.endsWith('.platform.json') ? 'platform' : null;
      if (kind === null) continue;
      seen += 1;
      const read = kind === 'map' ? readMap(content) : readPlatform(content);
      expect(read.ok, `${path}: ${read.ok ? '' : JSON.stringify(read.faults[0])}`).toBe(true);
      const validate = kind === 'map' ? asMap : asPlatform;
      expect(validate(JSON.parse(content)), `${path}: ${JSON.stringify(validate.errors?.[0])}`).toBe(true);
    }
    expect(seen).toBe(RULES.length * 3);
  });
});

describe('coverage of the reference list of mistakes', () => {
  it('has every rule it names, and gives a reason for every mistake without one', () => {
    for (const [mistake, coverage] of Object.entries(COVERAGE)) {
      if (coverage.kind === 'rules') {
        expect(coverage.rules.length, mistake).toBeGreaterThan(0);
        for (const id of coverage.rules) expect(findRule(id), `${mistake}: ${id}`).not.toBeNull();
      } else {
        expect(coverage.because.length, mistake).toBeGreaterThan(20);
      }
    }
  });

  it('knows the 148 entries of the list: 15 of routing, 15 of units, 8 of ranges, 8 of states, 10 of time, 15 of networks, 8 of integrity', () => {
    expect(Object.keys(COVERAGE)).toHaveLength(148);
    const shared = join(root, '../shared/reference/mistakes.json');
    // Beside a checkout that has the list, every id is compared with it; a clone without it keeps the count.
    if (!existsSync(shared)) return;
    const list = JSON.parse(readFileSync(shared, 'utf8')) as { mistakes: { id: string }[] };
    expect(Object.keys(COVERAGE).sort()).toEqual(list.mistakes.map(({ id }) => id).sort());
  });
});
