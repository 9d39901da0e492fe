/** Both specs as files: the same bytes twice, the mark and the stamp on every page, read by poppler’s own tools. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { SPEC_FORMATS, SPEC_IDS } from '../../src/export/index.ts';
import { SPECS, writeSpec, type RenderedFile } from '../../src/export/index.ts';
import { loadPdfFonts, renderSpecRequest, UnusableInput } from '../../src/host/index.ts';
import { writeMap, writePlatform } from '../../src/model/index.ts';
import { goldenPairing } from './golden-pairing.ts';
import { ISSUE, STOP, findingsOf } from './spec-tables.ts';
import { canRun, pageTexts } from './writers/outside.ts';

const pairing = goldenPairing();
const findings = findingsOf(pairing).filter(({ severity }) => severity !== 'stop');
const resources = { pdfFonts: loadPdfFonts };
const write = (
  id: (typeof SPEC_IDS)[number],
  format: (typeof SPEC_FORMATS)[number] | 'dbc' | 'c',
  with_ = findings,
): Promise<readonly RenderedFile[]> => writeSpec(id, format, pairing, with_, ISSUE, resources);

describe('the registry', () => {
  it('has the five specs with their forms', () => {
    expect(SPECS.map(({ id }) => id)).toEqual(['wiring', 'translation', 'interface-dbc', 'firmware', 'review']);
    expect(SPECS.map(({ formats }) => formats.length)).toEqual([5, 5, 1, 1, 3]);
  });
});

describe.each(SPECS.flatMap(({ id, formats }) => formats.map((format) => [id, format] as const)))(
  '%s as %s',
  (id, format) => {
    let files: readonly RenderedFile[] = [];
    beforeAll(async () => void (files = await write(id, format)));

    it('gives files with bytes', () => {
      expect(files.length).toBeGreaterThan(0);
      for (const { name, bytes } of files) {
        expect(name).toMatch(/^[a-z0-9][A-Za-z0-9._-]*$/);
        expect(bytes.length, name).toBeGreaterThan(20);
      }
      expect(new Set(files.map(({ name }) => name)).size).toBe(files.length);
    });
    it('gives the same bytes again', async () => {
      const again = await write(id, format);
      expect(again.map(({ name }) => name)).toEqual(files.map(({ name }) => name));
      again.forEach(({ bytes }, at) =>
        expect(Buffer.from(bytes).equals(Buffer.from(files[at]!.bytes)), files[at]!.name).toBe(true),
      );
    });
  },
);

describe.runIf(canRun('pdftotext', '-v'))('the pages of the PDF', () => {
  it.each(['wiring', 'translation'] as const)(
    '%s: revision, digest, day, caution on every page; no mark',
    async (id) => {
      const texts = pageTexts((await write(id, 'pdf'))[0]!.bytes);
      expect(texts.length).toBeGreaterThan(10);
      texts.forEach((text, at) => {
        expect(text, `page ${at + 1}`).toContain('Revision A');
        expect(text, `page ${at + 1}`).toContain(ISSUE.digest);
        expect(text, `page ${at + 1}`).toContain(ISSUE.today);
        expect(text, `page ${at + 1}`).toContain('Planning aid only.');
        expect(text, `page ${at + 1}`).toContain(`Page ${at + 1} of ${texts.length}`);
        expect(text, `page ${at + 1}`).not.toContain('NOT FOR BUILD');
      });
    },
  );
  it.each(['wiring', 'translation'] as const)('%s: the mark on every page while a stop is open', async (id) => {
    const texts = pageTexts((await write(id, 'pdf', [...findings, STOP]))[0]!.bytes);
    texts.forEach((text, at) => expect(text, `page ${at + 1}`).toContain('NOT FOR BUILD'));
  });
});

describe('the mark in the other forms', () => {
  const marked = [...findings, STOP];
  it.each(['html', 'json', 'csv'] as const)('%s', async (format) => {
    const off = (await write('wiring', format)).map(({ bytes }) => new TextDecoder().decode(bytes)).join('');
    const on = (await write('wiring', format, marked)).map(({ bytes }) => new TextDecoder().decode(bytes)).join('');
    expect(off).not.toContain('NOT FOR BUILD');
    expect(on).toContain('NOT FOR BUILD');
  });
  it('DBC: in its comment, with revision, day, digest and caution', async () => {
    const [on] = await write('interface-dbc', 'dbc', marked);
    const text = new TextDecoder().decode(on!.bytes);
    for (const said of ['NOT FOR BUILD', 'revision A', '2026-01-31', ISSUE.digest, 'Planning aid only'])
      expect(text).toContain(said);
    expect(new TextDecoder().decode((await write('interface-dbc', 'dbc'))[0]!.bytes)).not.toContain('NOT FOR BUILD');
  });
});

describe('asked for by the window', () => {
  const texts = {
    map: writeMap(pairing.map),
    host: writePlatform(pairing.host.platform),
    donor: writePlatform(pairing.donor.platform),
  };
  it('gives the same wiring spec as the registry, checked as the map stands', async () => {
    const [file] = await renderSpecRequest({ ...texts, spec: 'wiring', format: 'json' }, '2026-01-31', '0.0.0');
    const read = JSON.parse(new TextDecoder().decode(file!.bytes)) as { title: string; date: string };
    expect([read.title, read.date]).toEqual(['Wiring spec', '2026-01-31']);
  });
  it.each([
    [{ spec: 'bill' }, 'there is no spec "bill"'],
    [{ map: '{' }, 'the map is no valid document'],
    [{ build: { drivetrain: '4wd' } }, 'there is no option "drivetrain"'],
  ])('%j: refused in words', async (change, words) => {
    const asked = renderSpecRequest({ ...texts, spec: 'wiring', format: 'json', ...change }, '2026-01-31', '0.0.0');
    await expect(asked).rejects.toThrow(UnusableInput);
    await expect(asked).rejects.toThrow(words);
  });
});
