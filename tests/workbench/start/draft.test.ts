import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { contentOfDbc, readDbc } from '../../../src/can/index.ts';
import {
  deriveNeedsAndOffers,
  pair,
  readMap,
  readPlatform,
  sha256Hex,
  writeMap,
  writePlatform,
} from '../../../src/model/index.ts';
import {
  EMPTY_DRAFT,
  contentOfSide,
  documentsOf,
  idFromText,
  pathsOf,
  titleOf,
  type DbcSource,
  type PairingDraft,
} from '../../../src/workbench/places/start/new-pairing/draft.ts';
import { moduleCounts } from '../../../src/workbench/places/start/new-pairing/fate-counts.ts';

const TODAY = '2026-01-31';

function source(file: string, bus: string): DbcSource {
  const bytes = readFileSync(`sample-maps/dbc/${file}`);
  const { database, faults, moreFaults } = readDbc(bytes);
  const reading = {
    sha256: sha256Hex(bytes),
    content: contentOfDbc(database, 'not-yet-named'),
    faults,
    moreFaults,
    nodes: database.nodes.length,
    messages: database.messages.length,
    signals: database.messages.reduce((sum, message) => sum + message.signals.length, 0),
  };
  return { key: 1, file, bus, bitRate: 500_000, reading };
}

const draft: PairingDraft = {
  ...EMPTY_DRAFT,
  host: {
    file: null,
    title: 'My chassis, 2019',
    sources: [source('chassis-can.dbc', 'chassis'), source('body-can.dbc', 'body')],
  },
  donor: { file: null, title: '', sources: [source('powertrain-can.dbc', 'pt')] },
  fates: { 'host:ecm': 'removed', 'donor:cluster': 'removed', 'donor:not-there': 'removed', 'host:bcm': 'retained' },
};
const host = contentOfSide('host', draft.host, TODAY)!;
const donor = contentOfSide('donor', draft.donor, TODAY)!;

describe('a new pairing', () => {
  it('is nothing until files are chosen', () => {
    expect(contentOfSide('host', EMPTY_DRAFT.host, TODAY)).toBeNull();
  });

  it('joins the DBC files of a side as buses of one platform, with the record of each', () => {
    expect(host.platform.buses.map(({ id }) => id)).toEqual(['chassis', 'body']);
    expect(host.platform.imports).toHaveLength(2);
    expect(new Set(host.platform.messages.map(({ bus }) => bus))).toEqual(new Set(['chassis', 'body']));
    // The engine control module stands in both files: one module on two buses.
    expect(host.platform.modules.filter(({ id }) => id === 'ecm')).toHaveLength(1);
    expect(host.platform.modules.find(({ id }) => id === 'ecm')?.buses).toEqual(['chassis', 'body']);
    const counted = (file: string): number =>
      (readFileSync(`sample-maps/dbc/${file}`, 'utf8').match(/^BO_ /gm) ?? []).length;
    expect(host.platform.messages).toHaveLength(counted('chassis-can.dbc') + counted('body-can.dbc'));
  });

  it('makes three documents that read back without a fault and name each other', () => {
    const paths = pathsOf(draft, 'work/mine.map.json', host.platform, donor.platform);
    const documents = documentsOf(draft, host.platform, donor.platform, paths);
    expect(paths.host).toBe('work/my-chassis-2019.platform.json');
    expect(documents.map.host.platform).toBe('my-chassis-2019.platform.json');
    expect(documents.map.id).toBe('mine');
    expect(documents.map.title).toBe('Donor platform in My chassis, 2019');
    expect(documents.map.fates).toEqual({ 'donor:cluster': 'removed', 'host:ecm': 'removed' });
    expect(documents.map.interfaceModules[0]?.ports.map(({ bus }) => bus)).toEqual([
      'host:chassis',
      'host:body',
      'donor:pt',
    ]);
    expect(readMap(writeMap(documents.map)).ok).toBe(true);
    expect(readPlatform(writePlatform(documents.host)).ok).toBe(true);
    expect(readPlatform(writePlatform(documents.donor)).ok).toBe(true);
  });

  it('never saves both platforms in one file', () => {
    const same: PairingDraft = { ...draft, donor: { ...draft.donor, title: 'My chassis, 2019' } };
    const other = contentOfSide('donor', same.donor, TODAY)!;
    const paths = pathsOf(same, 'x.map.json', host.platform, other.platform);
    expect(paths.host).not.toBe(paths.donor);
  });

  it('takes a typed title', () => {
    expect(titleOf({ ...draft, title: '  Mine ' }, host.platform, donor.platform)).toBe('Mine');
  });

  it('counts what each fate leaves and lacks as the derivation does', () => {
    const documents = documentsOf(
      draft,
      host.platform,
      donor.platform,
      pathsOf(draft, 'x.map.json', host.platform, donor.platform),
    );
    const derivation = deriveNeedsAndOffers(pair(documents.map, documents.host, documents.donor));
    const counts = moduleCounts('host', documents.host, derivation);
    const hostNeeds = [...derivation.needs.values()].filter(({ side }) => side === 'host');
    expect(hostNeeds.length).toBeGreaterThan(0);
    expect(counts.get('ecm')?.missed).toBe(hostNeeds.length);
    const lacked = [...counts.values()].reduce((sum, { lacks }) => sum + lacks, 0);
    expect(lacked).toBe(hostNeeds.reduce((sum, { modules }) => sum + modules.length, 0));
  });

  it('makes an id of any text', () => {
    expect(idFromText('Ümlaut & Söhne (2019)', 'x')).toMatch(/^[a-z0-9_-]+$/);
    expect(idFromText('../../etc', 'x')).toBe('etc');
    expect(idFromText('—', 'otherwise')).toBe('otherwise');
    expect(idFromText('constructor', 'otherwise')).toBe('otherwise');
  });
});
