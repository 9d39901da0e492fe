import type { CrossloomMap } from './document/map.ts';
import type { Platform } from './document/platform.ts';

/** The three documents of a pairing, which an edit may change. */
export interface PairingDocuments {
  readonly map: CrossloomMap;
  readonly host: Platform;
  readonly donor: Platform;
}
export type DocumentName = keyof PairingDocuments;

export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json | undefined };

/**
 * One step into a document: a key of an object; in a list the entry with that id, the entry whose `key` reads `is`
 * (transmits have no id of their own), or the entry at a position.
 */
export type PathStep =
  string | { readonly id: string } | { readonly key: string; readonly is: string } | { readonly at: number };
export type EditPath = readonly PathStep[];

/**
 * A minimal change of one document. `set` writes the value at the path (an absent key is added); `insert` adds an entry to the
 * list at the path (made when absent), last or before `before`; `remove` takes away what is at the path.
 */
export type Edit =
  | { readonly do: 'set'; readonly in: DocumentName; readonly path: EditPath; readonly to: Json }
  | {
      readonly do: 'insert';
      readonly in: DocumentName;
      readonly path: EditPath;
      readonly value: Json;
      readonly before?: PathStep;
    }
  | { readonly do: 'remove'; readonly in: DocumentName; readonly path: EditPath };

/** An edit whose path leads nowhere in the document it names. */
export class EditPathError extends Error {
  override readonly name = 'EditPathError';
  constructor(
    readonly edit: Edit,
    reason: string,
  ) {
    super(`${edit.in}: ${pathInWords(edit.path)}: ${reason}`);
  }
}

/** A path for people: `routes[engine-speed].staleAfterMs`. */
export function pathInWords(path: EditPath): string {
  return path
    .map((step, index) => {
      if (typeof step === 'string') return index === 0 ? step : `.${step}`;
      if ('id' in step) return `[${step.id}]`;
      return 'key' in step ? `[${step.key} ${step.is}]` : `[${step.at}]`;
    })
    .join('');
}

/** The position of the entry a step names in a list; -1 when there is none. */
export function positionOf(list: readonly unknown[], step: PathStep): number {
  if (typeof step === 'string') return -1;
  if ('at' in step) return Number.isInteger(step.at) && step.at >= 0 && step.at < list.length ? step.at : -1;
  const key = 'id' in step ? 'id' : step.key;
  const is = 'id' in step ? step.id : step.is;
  return list.findIndex(
    (entry) =>
      typeof entry === 'object' &&
      entry !== null &&
      Object.hasOwn(entry, key) &&
      (entry as Record<string, unknown>)[key] === is,
  );
}

const RESERVED_KEYS = new Set(['__proto__', 'prototype', 'constructor']);

/** What stands at a path; undefined when nothing does. */
export function valueAt(document: unknown, path: EditPath): unknown {
  let value: unknown = document;
  for (const step of path) {
    if (Array.isArray(value)) value = value[positionOf(value, step)];
    else if (typeof value === 'object' && value !== null && typeof step === 'string' && Object.hasOwn(value, step)) {
      value = (value as Record<string, unknown>)[step];
    } else return undefined;
  }
  return value;
}

/**
 * The document with one edit done; the given one is left as it was and shares every part that did not change.
 * @throws EditPathError when the path leads nowhere.
 */
export function applyEdit(documents: PairingDocuments, edit: Edit): PairingDocuments {
  return { ...documents, [edit.in]: change(documents[edit.in], edit.path, 0, edit) };
}

/** Edits in their order. @throws EditPathError as `applyEdit`. */
export function applyEdits(documents: PairingDocuments, edits: readonly Edit[]): PairingDocuments {
  return edits.reduce(applyEdit, documents);
}

function change(value: unknown, path: EditPath, depth: number, edit: Edit): unknown {
  if (depth === path.length) {
    switch (edit.do) {
      case 'set':
        return edit.to;
      case 'insert':
        return inserted(value, edit);
      case 'remove':
        throw new EditPathError(edit, 'a whole document cannot be removed');
    }
  }
  const step = path[depth]!;
  const last = depth === path.length - 1;
  if (Array.isArray(value)) {
    const at = positionOf(value, step);
    if (at < 0) throw new EditPathError(edit, 'the list has no such entry');
    if (last && edit.do === 'remove') return value.toSpliced(at, 1);
    return value.with(at, change(value[at], path, depth + 1, edit));
  }
  if (typeof step !== 'string' || RESERVED_KEYS.has(step))
    throw new EditPathError(edit, 'an object is entered by a key');
  if (typeof value !== 'object' || value === null) {
    // A key that is absent on the way to an insertion or a value is made; there is nothing to remove in it.
    if (value !== undefined || edit.do === 'remove') throw new EditPathError(edit, 'there is no object to enter');
    return { [step]: change(undefined, path, depth + 1, edit) };
  }
  const object = value as Record<string, unknown>;
  if (last && edit.do === 'remove') {
    if (!Object.hasOwn(object, step)) throw new EditPathError(edit, 'there is no such key');
    const { [step]: _removed, ...rest } = object;
    return rest;
  }
  return { ...object, [step]: change(Object.hasOwn(object, step) ? object[step] : undefined, path, depth + 1, edit) };
}

function inserted(value: unknown, edit: Edit & { readonly do: 'insert' }): unknown {
  if (value === undefined) return [edit.value];
  if (!Array.isArray(value)) throw new EditPathError(edit, 'an entry can be added to a list only');
  if (edit.before === undefined) return [...value, edit.value];
  const at = positionOf(value, edit.before);
  if (at < 0) throw new EditPathError(edit, 'the list has no entry to insert before');
  return value.toSpliced(at, 0, edit.value);
}
