import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { check } from '../../src/checks/index.ts';
import { RULES } from '../../src/checks/rules/index.ts';
import { pair, pathOfSubject, valueAt, type CrossloomMap, type Platform } from '../../src/model/index.ts';

function document<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`../../sample-maps/${name}`, import.meta.url), 'utf8')) as T;
}
const documents = {
  map: document<CrossloomMap>('ft6-orrin32.map.json'),
  host: document<Platform>('halden-ft6.platform.json'),
  donor: document<Platform>('orrin-32.platform.json'),
};
const idAt = (subject: string): unknown => {
  const { document: name, path } = pathOfSubject(documents, subject);
  const steps = path.map((step) => (typeof step === 'number' ? { at: step } : step));
  const found = valueAt(documents[name], steps) as { id?: string; of?: string };
  return found.id ?? found;
};

describe('the place of a subject of the harness', () => {
  it.each([
    ['circuit:111', '111'],
    ['connector:XM1', 'XM1'],
    ['connector:host:X2', 'X2'],
    ['feed:host:F1', 'F1'],
    ['ground:donor:K1', 'K1'],
    ['segment:s-b3-p1', 's-b3-p1'],
    ['splice:host:X1/41', '113'],
    ['k1', 'k1'],
    ['part:k1', 'k1'],
    // A number made from a key leads to what asks for the conductor.
    ['circuit:wake/7', 'wake'],
    ['circuit:feed-xm', 'xm'],
  ])('%s', (subject, id) => {
    expect(idAt(subject)).toBe(id);
  });

  it('is more than the whole map for every finding of a rule about wires and supplies', () => {
    for (const rule of RULES) {
      if (!/^(wire|supply)\//.test(rule.id)) continue;
      const failing = rule.examples.failing().documents;
      const found = check(pair(failing.map, failing.host, failing.donor)).findings.filter(
        (one) => one.rule === rule.id,
      );
      for (const { subject } of found) {
        if (subject === 'map') continue;
        expect(pathOfSubject(failing, subject).path, `${rule.id}: ${subject}`).not.toEqual([]);
      }
    }
  });
});
