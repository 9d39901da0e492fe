import type { z } from 'zod';
import { CrossloomMap } from './document/map.ts';
import { Platform } from './document/platform.ts';

type Ordering = (value: unknown) => unknown;
type Definition = {
  readonly type: string;
  readonly shape?: Record<string, z.ZodType>;
  readonly element?: z.ZodType;
  readonly innerType?: z.ZodType;
  readonly valueType?: z.ZodType;
  readonly options?: readonly z.ZodType[];
  readonly items?: readonly z.ZodType[];
};

const compiled = new WeakMap<z.ZodType, Ordering | null>();

function definitionOf(schema: z.ZodType): Definition {
  return (schema as unknown as { _zod: { def: Definition } })._zod.def;
}

/** Compiles the key order which a schema gives; null when values under it hold no keys. */
function orderingOf(schema: z.ZodType): Ordering | null {
  const known = compiled.get(schema);
  if (known !== undefined) return known;
  const ordering = compile(schema);
  compiled.set(schema, ordering);
  return ordering;
}

function compile(schema: z.ZodType): Ordering | null {
  const definition = definitionOf(schema);
  switch (definition.type) {
    case 'object':
      return objectOrdering(definition.shape ?? {});
    case 'array': {
      const inner = definition.element ? orderingOf(definition.element) : null;
      return inner ? (value) => (Array.isArray(value) ? value.map(inner) : value) : null;
    }
    case 'optional':
    case 'nullable':
    case 'default':
      return definition.innerType ? orderingOf(definition.innerType) : null;
    case 'record':
      return recordOrdering(definition.valueType ? orderingOf(definition.valueType) : null);
    case 'union':
      return unionOrdering(definition.options ?? []);
    default:
      return null;
  }
}

function objectOrdering(shape: Record<string, z.ZodType>): Ordering {
  const fields = Object.entries(shape).map(([key, schema]) => [key, orderingOf(schema)] as const);
  return (value) => {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
    const source = value as Record<string, unknown>;
    const ordered: Record<string, unknown> = {};
    for (const [key, inner] of fields) {
      const field = source[key];
      if (field === undefined) continue;
      ordered[key] = inner ? inner(field) : field;
    }
    return ordered;
  };
}

/** Integer-like keys ascend by value, others by code unit, so that the same record has one spelling. */
function recordOrdering(inner: Ordering | null): Ordering {
  return (value) => {
    if (typeof value !== 'object' || value === null) return value;
    const source = value as Record<string, unknown>;
    const ordered: Record<string, unknown> = {};
    for (const key of Object.keys(source).sort(compareKeys)) ordered[key] = inner ? inner(source[key]) : source[key];
    return ordered;
  };
}

const integerPattern = /^-?\d{1,30}$/;

function compareKeys(a: string, b: string): number {
  if (integerPattern.test(a) && integerPattern.test(b)) {
    const left = BigInt(a);
    const right = BigInt(b);
    return left < right ? -1 : left > right ? 1 : 0;
  }
  return a < b ? -1 : a > b ? 1 : 0;
}

/** A union's object alternatives are told apart by their keys: the first that knows every key of the value. */
function unionOrdering(options: readonly z.ZodType[]): Ordering | null {
  const alternatives = options.flatMap((option) => {
    const definition = definitionOf(option);
    const ordering = orderingOf(option);
    if (!ordering) return [];
    return [{ keys: definition.shape ? new Map(Object.entries(definition.shape)) : null, ordering }];
  });
  if (alternatives.length === 0) return null;
  return (value) => {
    if (typeof value !== 'object' || value === null) return value;
    const own = Object.entries(value);
    const fits = alternatives.find(
      ({ keys }) => keys === null || own.every(([key, field]) => keys.has(key) && literalFits(keys.get(key)!, field)),
    );
    return fits ? fits.ordering(value) : value;
  };
}

function literalFits(schema: z.ZodType, field: unknown): boolean {
  const definition = definitionOf(schema) as { type: string; values?: readonly unknown[] };
  return definition.type !== 'literal' || (definition.values ?? []).includes(field);
}

/** Canonical text: keys in the schema's order, two spaces, one trailing newline. Array order is the author's. */
export function writePlatform(platform: Platform): string {
  return `${JSON.stringify(orderingOf(Platform)!(platform), null, 2)}\n`;
}

/** Canonical text of a map, as `writePlatform`. */
export function writeMap(map: CrossloomMap): string {
  return `${JSON.stringify(orderingOf(CrossloomMap)!(map), null, 2)}\n`;
}

/** The document with its keys in canonical order (what writing it would print). */
export function canonicalMap(map: CrossloomMap): CrossloomMap {
  return orderingOf(CrossloomMap)!(map) as CrossloomMap;
}
