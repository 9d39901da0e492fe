/**
 * The table of published CAN figures (timing.json), read in place: set CROSSLOOM_REFERENCE to its folder, or keep it beside the
 * project as ../shared/reference. Tests that sweep the whole table are skipped, and counted, without it; the rows that matter most are
 * quoted in the tests themselves, with their source.
 */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const folder = process.env['CROSSLOOM_REFERENCE'] ?? join(root, '..', 'shared', 'reference');
const file = join(folder, 'timing.json');

/** One entry of a section: fields by kind of entry, as the table's own notes describe them. */
export type TimingEntry = Readonly<Record<string, unknown>> & { readonly kind: string; readonly id: string };

export type TimingSection = '1_frame_length' | '2_response_time' | '3_bus_load' | '5_crc_e2e' | '6_j1939_j1979';

const table = existsSync(file)
  ? (JSON.parse(readFileSync(file, 'utf8')) as {
      readonly sections: Readonly<Record<TimingSection, { readonly entries: readonly TimingEntry[] }>>;
    })
  : null;

/** Whether the table is there. */
export const hasTimingReference = table !== null;

/** The entries of a section, of one kind or all; none without the table. */
export function timingEntries(section: TimingSection, kind?: string): readonly TimingEntry[] {
  const entries = table?.sections[section].entries ?? [];
  return kind === undefined ? entries : entries.filter((entry) => entry.kind === kind);
}

/** Hexadecimal text → bytes. */
export function bytesOf(hex: string): Uint8Array {
  return Uint8Array.from(Buffer.from(hex, 'hex'));
}
