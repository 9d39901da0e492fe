/** The open DBC files with what an independent library reads from them; read in place, never copied into the project. */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Beside the checkout: from this file, or from where the run was started when this file is part of a bundle. */
const FOLDERS = [
  fileURLToPath(new URL('../../../../../shared/corpus/dbc/', import.meta.url)),
  `${process.cwd()}/../shared/corpus/dbc/`,
];
const FOLDER = FOLDERS.find((folder) => existsSync(`${folder}expected.json`));

/** A number of expected.json: JSON number, or beyond it. */
export type ExpectedNumber = number | { readonly int: string } | { readonly float: 'nan' | 'inf' | '-inf' };

export interface ExpectedVector {
  readonly data: string;
  readonly error?: string;
  readonly phys?: Readonly<Record<string, ExpectedNumber>>;
  readonly raw?: Readonly<Record<string, ExpectedNumber>>;
  readonly encoded?: string;
}

export interface ExpectedSignal {
  readonly name: string;
  readonly start: number;
  readonly length: number;
  readonly byte_order: 'little_endian' | 'big_endian';
  readonly signed: boolean;
  readonly is_float: boolean;
  readonly scale: number;
  readonly offset: number;
  readonly min: ExpectedNumber | null;
  readonly max: ExpectedNumber | null;
  readonly unit: string | null;
  readonly choices: Readonly<Record<string, string>> | null;
  readonly comment: string | null;
  readonly receivers: readonly string[];
  readonly is_multiplexer: boolean;
  readonly multiplexer_ids: readonly number[] | null;
  readonly multiplexer_signal: string | null;
  readonly spn: number | null;
  readonly raw_initial: number | null;
  readonly attributes: Readonly<Record<string, string | number>>;
}

export interface ExpectedMessage {
  readonly name: string;
  readonly id: number;
  readonly extended: boolean;
  readonly length: number;
  readonly is_fd: boolean;
  readonly senders: readonly string[];
  readonly comment: string | null;
  readonly cycle_time: number | null;
  readonly send_type: string | null;
  readonly bus: string | null;
  readonly is_multiplexed: boolean;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly signal_groups: readonly (readonly [string, number, readonly string[]])[];
  readonly signals: readonly ExpectedSignal[];
  readonly vectors: readonly ExpectedVector[];
}

export interface ExpectedFile {
  readonly bytes: number;
  readonly sha256: string;
  readonly strict_ok: boolean;
  readonly strict_error?: string;
  readonly error?: string;
  readonly version: string;
  readonly nodes: readonly string[];
  readonly node_comments: Readonly<Record<string, string>>;
  readonly bus_comment: string | null;
  readonly db_attributes: Readonly<Record<string, string | number>>;
  readonly attribute_definitions: readonly string[];
  readonly value_tables: Readonly<Record<string, Readonly<Record<string, string>>>>;
  readonly env_vars: readonly string[];
  readonly message_count: number;
  readonly signal_count: number;
  readonly messages: readonly ExpectedMessage[];
}

export interface CorpusFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly expected: ExpectedFile;
}

/** Every file of the corpus with its expectation; `null` when the corpus is not beside this checkout. */
export function loadCorpus(): readonly CorpusFile[] | null {
  if (FOLDER === undefined) return null;
  const expected = JSON.parse(readFileSync(`${FOLDER}expected.json`, 'utf8')) as Record<string, ExpectedFile>;
  return Object.keys(expected)
    .filter((name) => name !== '_meta')
    .map((name) => ({
      name,
      bytes: new Uint8Array(readFileSync(FOLDER + name)),
      expected: expected[name] as ExpectedFile,
    }));
}

export function bytesOf(hex: string): Uint8Array {
  return Uint8Array.from({ length: hex.length / 2 }, (_, i) => Number.parseInt(hex.slice(2 * i, 2 * i + 2), 16));
}

export function hexOf(bytes: Uint8Array): string {
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
