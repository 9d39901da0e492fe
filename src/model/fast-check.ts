import type { z } from 'zod';

/** True: the value certainly fits the schema. False: it may not; ask the schema itself, which knows why. */
export type SurelyFits = (value: unknown) => boolean;

interface CheckDefinition {
  readonly check: string;
  readonly format?: string;
  readonly value?: number | bigint;
  readonly inclusive?: boolean;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly pattern?: RegExp;
  readonly fn?: (value: never) => unknown;
}

interface Definition {
  readonly type: string;
  readonly shape?: Record<string, z.ZodType>;
  readonly catchall?: z.ZodType;
  readonly element?: z.ZodType;
  readonly innerType?: z.ZodType;
  readonly keyType?: z.ZodType;
  readonly valueType?: z.ZodType;
  readonly options?: readonly z.ZodType[];
  readonly discriminator?: string;
  readonly items?: readonly z.ZodType[];
  readonly rest?: z.ZodType | null;
  readonly values?: readonly unknown[];
  readonly entries?: Record<string, string | number>;
  readonly checks?: readonly { readonly _zod: { readonly def: CheckDefinition } }[];
  readonly check?: string;
  readonly format?: string;
}

/** Keys met while a value was walked; reset by `keysIfSurelyFits`. */
let keysMet = 0;

/**
 * The number of object keys in a value which certainly fits the schema; null when it may not fit. (A reader compares it
 * with the keys its text holds: fewer means that some key stood twice and lost its first value.)
 */
export function keysIfSurelyFits(schema: z.ZodType, value: unknown): number | null {
  keysMet = 0;
  return surelyFits(schema)(value) ? keysMet : null;
}

const never: SurelyFits = () => false;
const compiled = new WeakMap<z.ZodType, SurelyFits>();

function definitionOf(schema: z.ZodType): Definition {
  return (schema as unknown as { _zod: { def: Definition } })._zod.def;
}

/**
 * Compiles a schema into plain closures: some ten times as fast as asking zod, for the case that nothing is wrong.
 * Whatever this compiler does not know it never passes, so the schema stays the single truth.
 */
export function surelyFits(schema: z.ZodType): SurelyFits {
  const known = compiled.get(schema);
  if (known) return known;
  const definition = definitionOf(schema);
  const base = compileType(definition);
  const checks = [...(definition.checks ?? []).map(({ _zod }) => compileCheck(_zod.def)), ...ownCheck(definition)];
  const fits: SurelyFits =
    checks.length === 0
      ? base
      : checks.length === 1
        ? both(base, checks[0]!)
        : (value) => {
            if (!base(value)) return false;
            for (const check of checks) if (!check(value)) return false;
            return true;
          };
  compiled.set(schema, fits);
  return fits;
}

function both(first: SurelyFits, second: SurelyFits): SurelyFits {
  return (value) => first(value) && second(value);
}

/** z.int() and the like carry their check in the definition itself. */
function ownCheck(definition: Definition): SurelyFits[] {
  return definition.check === undefined ? [] : [compileCheck(definition as unknown as CheckDefinition)];
}

function compileCheck(check: CheckDefinition): SurelyFits {
  const bound = Number(check.value);
  switch (check.check) {
    case 'greater_than':
      return check.inclusive ? (value) => (value as number) >= bound : (value) => (value as number) > bound;
    case 'less_than':
      return check.inclusive ? (value) => (value as number) <= bound : (value) => (value as number) < bound;
    case 'number_format':
      return check.format === 'safeint' ? (value) => Number.isSafeInteger(value) : never;
    case 'max_length':
      return (value) => (value as string | unknown[]).length <= check.maximum!;
    case 'min_length':
      return (value) => (value as string | unknown[]).length >= check.minimum!;
    case 'string_format':
      if (check.format !== 'regex' || !check.pattern || check.pattern.global || check.pattern.sticky) return never;
      return remembered((value) => check.pattern!.test(value as string));
    case 'custom':
      return check.fn ? (value) => check.fn!(value as never) === true : never;
    default:
      return never;
  }
}

/** Ids and references repeat by the thousand: a text that passed once passes again. Bounded. */
function remembered(fits: SurelyFits): SurelyFits {
  const passed = new Set<unknown>();
  return (value) => {
    if (passed.has(value)) return true;
    if (!fits(value)) return false;
    if (passed.size < 5000) passed.add(value);
    return true;
  };
}

function compileType(definition: Definition): SurelyFits {
  switch (definition.type) {
    case 'string':
      return (value) => typeof value === 'string';
    case 'number':
      return (value) => typeof value === 'number' && Number.isFinite(value);
    case 'boolean':
      return (value) => typeof value === 'boolean';
    case 'literal': {
      const allowed = new Set(definition.values ?? []);
      return (value) => allowed.has(value);
    }
    case 'enum': {
      const allowed = new Set<unknown>(Object.values(definition.entries ?? {}));
      return (value) => allowed.has(value);
    }
    case 'optional': {
      const inner = surelyFits(definition.innerType!);
      return (value) => value === undefined || inner(value);
    }
    case 'nullable': {
      const inner = surelyFits(definition.innerType!);
      return (value) => value === null || inner(value);
    }
    case 'array': {
      const inner = surelyFits(definition.element!);
      return (value) => {
        if (!Array.isArray(value)) return false;
        for (let index = 0; index < value.length; index += 1) if (!inner(value[index])) return false;
        return true;
      };
    }
    case 'tuple': {
      if (definition.rest) return never;
      const items = (definition.items ?? []).map(surelyFits);
      return (value) =>
        Array.isArray(value) && value.length === items.length && items.every((fits, at) => fits(value[at]));
    }
    case 'object':
      return compileObject(definition);
    case 'record':
      return compileRecord(definition);
    case 'union':
      return compileUnion(definition);
    default:
      return never;
  }
}

/** Strict objects only: every key known, every required key there. */
function compileObject(definition: Definition): SurelyFits {
  if (!definition.catchall || definitionOf(definition.catchall).type !== 'never') return never;
  const fields = new Map<string, SurelyFits>();
  let required = 0;
  const isRequired = new Set<string>();
  for (const [key, schema] of Object.entries(definition.shape ?? {})) {
    const optional = definitionOf(schema).type === 'optional';
    fields.set(key, surelyFits(optional ? definitionOf(schema).innerType! : schema));
    if (!optional) {
      required += 1;
      isRequired.add(key);
    }
  }
  return (value) => {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
    let seen = 0;
    for (const key in value) {
      const fits = fields.get(key);
      if (fits === undefined || !fits((value as Record<string, unknown>)[key])) return false;
      if (isRequired.has(key)) seen += 1;
      keysMet += 1;
    }
    return seen === required;
  };
}

function compileRecord(definition: Definition): SurelyFits {
  const keyFits = surelyFits(definition.keyType!);
  const valueFits = surelyFits(definition.valueType!);
  return (value) => {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
    for (const key in value) {
      if (!keyFits(key) || !valueFits((value as Record<string, unknown>)[key])) return false;
      keysMet += 1;
    }
    return true;
  };
}

function compileUnion(definition: Definition): SurelyFits {
  const options = definition.options ?? [];
  const discriminator = definition.discriminator;
  if (discriminator !== undefined) {
    const byValue = new Map<unknown, SurelyFits>();
    for (const option of options) {
      const literal = definitionOf(option).shape?.[discriminator];
      for (const value of (literal && definitionOf(literal).values) ?? []) byValue.set(value, surelyFits(option));
    }
    return (value) =>
      typeof value === 'object' &&
      value !== null &&
      (byValue.get((value as Record<string, unknown>)[discriminator])?.(value) ?? false);
  }
  const branches = options.map(surelyFits);
  return (value) => {
    const before = keysMet;
    return branches.some((fits) => {
      keysMet = before;
      return fits(value);
    });
  };
}
