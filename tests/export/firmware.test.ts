/** The firmware as it is handed over: stamped, marked, for one build, in one archive. */
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { firmwareArchive, firmwareSources } from '../../src/export/index.ts';
import { pair } from '../../src/model/index.ts';
import { goldenPairing } from './golden-pairing.ts';
import { ISSUE, STOP, findingsOf } from './spec-tables.ts';

const pairing = goldenPairing();
const findings = findingsOf(pairing).filter(({ severity }) => severity !== 'stop');
/** Folded comments in one line. */
const flat = (text: string): string => text.replaceAll('\n * ', ' ');

describe('the firmware handed over', () => {
  it('carries revision, digest, day and the cautions in every file of a module; no mark', () => {
    const { modules } = firmwareSources(pairing, findings, ISSUE);
    expect(modules).toHaveLength(pairing.map.interfaceModules.length);
    for (const { name, text } of modules[0]!.files.filter((file) => !/^(xlc_|Makefile)/.test(file.name))) {
      expect(flat(text), name).toContain(`revision ${pairing.map.revision}`);
      expect(flat(text), name).toContain(ISSUE.digest);
      expect(flat(text), name).toContain(ISSUE.today);
      expect(flat(text), name).toContain('Planning aid only.');
      expect(flat(text), name).not.toContain('NOT FOR BUILD');
    }
  });

  it('is marked while a stop is open', () => {
    const { modules } = firmwareSources(pairing, [...findings, STOP], ISSUE);
    for (const { name, text } of modules[0]!.files.filter((file) => !/^(xlc_|Makefile)/.test(file.name)))
      expect(text, name).toContain('NOT FOR BUILD');
  });

  it('is an archive of the same files', () => {
    const [archive] = firmwareArchive(pairing, findings, ISSUE);
    const { modules } = firmwareSources(pairing, findings, ISSUE);
    const entries = unzipSync(archive!.bytes);
    expect(Object.keys(entries)).toEqual(
      modules.flatMap(({ folder, files }) => files.map(({ name }) => `${folder}/${name}`)),
    );
    for (const { folder, files } of modules)
      for (const { name, text } of files) expect(new TextDecoder().decode(entries[`${folder}/${name}`])).toBe(text);
  });

  it('is no file for a map without an interface module', () => {
    const map = { ...pairing.map, interfaceModules: [], transmits: [], routes: [] };
    const bare = pair(map, pairing.host.platform, pairing.donor.platform);
    expect(firmwareArchive(bare, [], ISSUE)).toEqual([]);
  });
});
