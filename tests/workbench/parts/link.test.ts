import fc from 'fast-check';
import { relative } from 'node:path/posix';
import { describe, expect, it } from 'vitest';
import { beside } from '../../../src/workbench/actions/open.ts';
import { linkFrom } from '../../../src/workbench/parts/link.ts';

describe('how a map names its platforms', () => {
  it.each([
    ['a.map.json', 'b.platform.json', 'b.platform.json'],
    ['maps/a.map.json', 'b.platform.json', '../b.platform.json'],
    ['maps/a.map.json', 'vehicles/x/b.platform.json', '../vehicles/x/b.platform.json'],
    ['C:\\work\\a.map.json', 'C:\\work\\cars\\b.platform.json', 'cars/b.platform.json'],
  ])('%s names %s as %s', (map, platform, link) => {
    expect(linkFrom(map, platform)).toBe(link);
  });

  it('agrees with node:path, and is undone by the way back', () => {
    const name = fc.stringMatching(/^[a-z0-9]{1,6}$/);
    const path = fc.array(name, { minLength: 1, maxLength: 5 }).map((parts) => parts.join('/'));
    fc.assert(
      fc.property(path, path, (folder, target) => {
        const map = `/${folder}/m.map.json`;
        const platform = `/${target}/p.platform.json`;
        expect(linkFrom(map, platform)).toBe(relative(`/${folder}`, platform));
        expect(beside(map, linkFrom(map, platform))).toBe(platform);
      }),
    );
  });
});
