import type { Edit, Message, Platform, Protection, SideName, Signal } from '../../model/index.ts';

/** Words of names that makers give to alive counters and checksums (common practice). */
const COUNTER = new Set(['counter', 'count', 'cnt', 'ctr', 'alive', 'livecounter', 'alivecounter', 'rollingcounter']);
const CHECKSUM = new Set([
  'checksum',
  'chksum',
  'chksm',
  'chk',
  'cks',
  'csum',
  'crc',
  'crc4',
  'crc8',
  'crc16',
  'crc32',
]);
/** Words that may stand beside them. */
const BESIDE = new Set(['msg', 'message', 'frame', 'rolling', 'roll', 'live', 'mc', 'rc', 'sequence', 'seq', '']);

function wordsOf(name: string): readonly string[] {
  return name
    .replaceAll(/([a-z0-9])([A-Z])/g, '$1 $2')
    .replaceAll(/([A-Z]+)([A-Z][a-z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z0-9]+/);
}

/** Whether a name says one of these and nothing else beside, apart from words of the message's own name and numbers. */
function says(name: string, message: string, core: ReadonlySet<string>): boolean {
  const own = new Set(wordsOf(message));
  const words = wordsOf(name).filter((word) => !own.has(word) && !/^\d+$/.test(word));
  return words.some((word) => core.has(word)) && words.every((word) => core.has(word) || BESIDE.has(word));
}

function isWhole({ number, factor, offset, unit, states }: Signal): boolean {
  return (
    number === 'unsigned' &&
    Number(factor) === 1 &&
    Number(offset) === 0 &&
    (unit === '' || unit === '1') &&
    states === undefined
  );
}

/**
 * What a message's fields look like by name and form: an alive counter (2 to 16 bits) and a checksum (4, 8, 16 or 32 bits),
 * plain unsigned numbers without a unit. Null when the message says its protection, or when none or several look like it.
 */
export function likelyProtection(message: Message): Protection | null {
  if (message.protection !== undefined) return null;
  const counters = message.signals.filter(
    (signal) =>
      isWhole(signal) &&
      signal.bits.length >= 2 &&
      signal.bits.length <= 16 &&
      says(signal.id, message.id, COUNTER) &&
      signal.multiplexed === undefined,
  );
  const checksums = message.signals.filter(
    (signal) =>
      isWhole(signal) &&
      [4, 8, 16, 32].includes(signal.bits.length) &&
      says(signal.id, message.id, CHECKSUM) &&
      signal.multiplexed === undefined,
  );
  const counter = counters.length === 1 ? counters[0]!.id : undefined;
  const checksum = checksums.length === 1 ? checksums[0]!.id : undefined;
  if (counter === undefined && checksum === undefined) return null;
  return {
    ...(counter === undefined ? {} : { counter }),
    ...(checksum === undefined ? {} : { checksum, algorithm: 'unknown' as const }),
    evidence: 'inferred',
  };
}

/** Every message of a platform whose fields look like protection that is not declared. */
export function likelyProtections(platform: Platform): ReadonlyMap<string, Protection> {
  return new Map(
    platform.messages.flatMap((message) => {
      const protection = likelyProtection(message);
      return protection === null ? [] : [[message.id, protection] as const];
    }),
  );
}

/** Edits that declare what looks like protection, marked as inferred. */
export function protectionEdits(side: SideName, protections: ReadonlyMap<string, Protection>): readonly Edit[] {
  return [...protections].map(([id, protection]): Edit => ({
    do: 'set',
    in: side,
    path: ['messages', { id }, 'protection'],
    to: protection as never,
  }));
}

/** A platform with what looks like protection declared as inferred. */
export function withLikelyProtection(platform: Platform, protections: ReadonlyMap<string, Protection>): Platform {
  if (protections.size === 0) return platform;
  return {
    ...platform,
    messages: platform.messages.map((message) => {
      const protection = protections.get(message.id);
      return protection === undefined ? message : { ...message, protection };
    }),
  };
}
