import type { ImportRecord, Message, Module, Platform, Signal } from '../../model/index.ts';
import type { DbcContent } from './from-dbc.ts';

/** One thing that an import adds, changes or no longer finds. */
export interface ImportChange {
  readonly kind: 'added' | 'changed' | 'renamed' | 'gone';
  readonly subject: string;
  /** What differs, in words; empty for things added or gone. */
  readonly what: readonly string[];
}

export interface MergedImport {
  readonly platform: Platform;
  readonly changes: readonly ImportChange[];
  readonly notes: readonly string[];
}

export interface ImportOptions {
  readonly record: ImportRecord;
  /** What to do with messages of this bus that the file no longer has. */
  readonly gone: 'keep' | 'remove';
}

/** What a file says of a message or signal; everything else in the platform was added by people and is kept. */
const MESSAGE_FACTS = [
  'comment',
  'frameId',
  'idFormat',
  'frameFormat',
  'length',
  'sender',
  'otherSenders',
  'cycleMs',
  'send',
] as const;
const SIGNAL_FACTS = [
  'comment',
  'bits',
  'number',
  'factor',
  'offset',
  'unit',
  'unitAsWritten',
  'range',
  'initial',
  'states',
  'multiplexer',
  'multiplexed',
  'readers',
] as const;

/**
 * Merges the content of a file into a platform by meaning: a message is the same when its frame id is, else when its name is;
 * a signal when its name is, else when it alone has the same bits. What people added stays: functions, corrected units,
 * documents, notes, protection, staleness.
 */
export function mergeImport(platform: Platform, content: DbcContent, { record, gone }: ImportOptions): MergedImport {
  const changes: ImportChange[] = [];
  const notes: string[] = [...content.notes];
  const busId = record.bus;
  const old = platform.messages.filter(({ bus }) => bus === busId);
  const byFrame = new Map(old.map((message) => [frameKey(message), message]));
  const byId = new Map(old.map((message) => [message.id, message]));
  const elsewhere = new Set(platform.messages.filter(({ bus }) => bus !== busId).map(({ id }) => id));
  const wires = new Set(platform.wires.map(({ id }) => id));
  const matched = new Map<Message, Message>();
  const added: Message[] = [];
  for (const incoming of content.messages) {
    const before = pick(byFrame.get(frameKey(incoming)), byId.get(incoming.id), matched);
    if (before) matched.set(before, mergeMessage(before, incoming, changes));
    else {
      const id = freeId(incoming.id, elsewhere, wires, notes);
      added.push({ ...incoming, id });
      changes.push({ kind: 'added', subject: id, what: [`${incoming.signals.length} signals`] });
    }
  }
  for (const message of old)
    if (!matched.has(message))
      changes.push({
        kind: 'gone',
        subject: message.id,
        what: gone === 'keep' ? ['kept in the platform'] : ['removed from the platform'],
      });
  const messages = platform.messages.flatMap((message) => {
    if (message.bus !== busId) return [message];
    const merged = matched.get(message);
    return merged ? [merged] : gone === 'keep' ? [message] : [];
  });
  return {
    platform: {
      ...platform,
      imports: [...(platform.imports ?? []).filter(({ bus }) => bus !== busId), record],
      modules: mergeModules(platform.modules, content.modules, changes),
      messages: [...messages, ...added],
    },
    changes,
    notes,
  };
}

function frameKey({ idFormat, frameId }: Message): string {
  return `${idFormat} ${frameId}`;
}

function pick(
  byFrame: Message | undefined,
  byName: Message | undefined,
  matched: ReadonlyMap<Message, Message>,
): Message | null {
  if (byFrame && !matched.has(byFrame)) return byFrame;
  return byName && !matched.has(byName) ? byName : null;
}

function freeId(
  id: string,
  messagesElsewhere: ReadonlySet<string>,
  wires: ReadonlySet<string>,
  notes: string[],
): string {
  let free = id;
  for (let count = 2; messagesElsewhere.has(free) || wires.has(free); count += 1) free = `${id}_${count}`;
  if (free !== id)
    notes.push(`the name ${id} is taken by another message or wire of the platform; the message is named ${free} here`);
  return free;
}

function mergeModules(old: readonly Module[], incoming: readonly Module[], changes: ImportChange[]): Module[] {
  const byId = new Map(incoming.map((module) => [module.id, module]));
  const kept = old.map((module) => {
    const found = byId.get(module.id);
    if (!found) return module;
    byId.delete(module.id);
    const buses = [...new Set([...(module.buses ?? []), ...(found.buses ?? [])])];
    return buses.length === (module.buses ?? []).length ? module : { ...module, buses };
  });
  for (const { id } of byId.values()) changes.push({ kind: 'added', subject: `module ${id}`, what: [] });
  return [...kept, ...byId.values()];
}

function mergeMessage(before: Message, incoming: Message, changes: ImportChange[]): Message {
  const what = differing(before, incoming, MESSAGE_FACTS);
  if (before.id !== incoming.id)
    changes.push({
      kind: 'renamed',
      subject: before.id,
      what: [`the file calls it ${incoming.id}; the name here is kept, references stay true`],
    });
  if (what.length > 0) changes.push({ kind: 'changed', subject: before.id, what });
  const merged = overlay(before, incoming, MESSAGE_FACTS);
  return { ...merged, signals: mergeSignals(before, incoming, changes) };
}

function mergeSignals(message: Message, incoming: Message, changes: ImportChange[]): Signal[] {
  const byName = new Map(message.signals.map((signal) => [signal.id, signal]));
  const names = new Set(incoming.signals.map(({ id }) => id));
  const orphans = message.signals.filter(({ id }) => !names.has(id));
  const renamed = new Map<string, string>();
  const merged = incoming.signals.map((signal): Signal => {
    const same = byName.get(signal.id) ?? soleOfSameBits(orphans, signal);
    const subject = `${message.id}.${same?.id ?? signal.id}`;
    if (!same) {
      changes.push({ kind: 'added', subject, what: [] });
      return signal;
    }
    if (same.id !== signal.id) {
      orphans.splice(orphans.indexOf(same), 1);
      renamed.set(signal.id, same.id);
      changes.push({
        kind: 'renamed',
        subject,
        what: [`the file calls it ${signal.id}; the name here is kept, references stay true`],
      });
    }
    return mergeSignal(same, signal, subject, changes);
  });
  for (const { id } of orphans)
    changes.push({ kind: 'gone', subject: `${message.id}.${id}`, what: ['the file has it no longer'] });
  return merged.map((signal) => {
    const by = signal.multiplexed && renamed.get(signal.multiplexed.by);
    return by === undefined ? signal : { ...signal, multiplexed: { ...signal.multiplexed!, by } };
  });
}

function soleOfSameBits(orphans: readonly Signal[], signal: Signal): Signal | undefined {
  const same = orphans.filter(
    (orphan) => equal(orphan.bits, signal.bits) && equal(orphan.multiplexed?.on, signal.multiplexed?.on),
  );
  return same.length === 1 ? same[0] : undefined;
}

/** A unit that a person corrected stands as long as the file still says what it said then. */
function mergeSignal(before: Signal, incoming: Signal, subject: string, changes: ImportChange[]): Signal {
  const saidBefore = before.unitAsWritten ?? before.unit;
  const saysNow = incoming.unitAsWritten ?? incoming.unit;
  const corrected: Signal =
    saidBefore === saysNow ? { ...incoming, unit: before.unit, unitAsWritten: before.unitAsWritten } : incoming;
  const what = differing(before, corrected, SIGNAL_FACTS);
  if (what.length > 0) changes.push({ kind: 'changed', subject, what });
  const merged = overlay(before, corrected, SIGNAL_FACTS);
  return {
    ...merged,
    notAvailable: before.notAvailable ?? incoming.notAvailable,
    error: before.error ?? incoming.error,
  };
}

/** What the file does not say keeps what a person wrote, except that a fact it takes back is taken out. */
function overlay<T extends object, K extends keyof T>(before: T, incoming: T, facts: readonly K[]): T {
  const merged = { ...before };
  for (const fact of facts) {
    if (incoming[fact] !== undefined) merged[fact] = incoming[fact];
    else if (!KEPT_WHEN_SILENT.has(fact as string)) delete merged[fact];
  }
  return merged;
}

/** Facts a file often leaves out and people fill in. */
const KEPT_WHEN_SILENT: ReadonlySet<string> = new Set([
  'comment',
  'cycleMs',
  'send',
  'range',
  'initial',
  'states',
  'readers',
  'sender',
  'otherSenders',
  'frameFormat',
]);

function differing<T extends object, K extends keyof T & string>(
  before: T,
  incoming: T,
  facts: readonly K[],
): string[] {
  return facts.flatMap((fact) => {
    if (incoming[fact] === undefined && (before[fact] === undefined || KEPT_WHEN_SILENT.has(fact))) return [];
    return equal(before[fact], incoming[fact]) ? [] : [`${fact}: ${shown(before[fact])} → ${shown(incoming[fact])}`];
  });
}

function equal(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text.length > 80 ? `${text.slice(0, 77)}…` : text;
}
