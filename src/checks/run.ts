import type { Pairing } from '../model/index.ts';
import { affectedSubjects } from './affected.ts';
import { createContext, type CheckContext } from './context.ts';
import { newMemory, type PlatformMemory } from './memory.ts';
import { compareFindings, countFindings, type FindingCounts } from './finding.ts';
import type { Draft, Finding, Rule, Scope } from './rule.ts';
import { RULES } from './rules/index.ts';
import { eachSubject, findSubjects } from './subjects.ts';
import { waiveFindings } from './waive.ts';

/** One run of the rules over a pairing. */
export interface Run {
  readonly pairing: Pairing;
  /** Worst first, then by rule and subject; waived ones stay in their place. */
  readonly findings: readonly Finding[];
  readonly counts: FindingCounts;
  readonly rules: readonly Rule[];
  /** What a re-check takes over: findings by what they were asked about, before waivers. */
  readonly bySubject: ReadonlyMap<string, readonly Finding[]>;
  /** The same findings in order, without those about waivers. */
  readonly ordered: readonly Finding[];
  readonly memory: PlatformMemory;
}

export interface CheckOptions {
  /** All rules when absent. */
  readonly rules?: readonly Rule[];
  /** An earlier run over the same platforms: its analyses of unchanged routes are used again. */
  readonly previous?: Run;
}

const ALL_SCOPES: readonly Scope[] = [
  'route',
  'fit',
  'transmit',
  'need',
  'message',
  'wire',
  'module',
  'bus',
  'interface',
  'option',
  'function',
  'harness',
  'map',
];

type Ask = (context: CheckContext, subject: unknown) => readonly Draft[] | null;
type RulesOfScope = ReadonlyMap<Scope, readonly { readonly rule: Rule; readonly ask: Ask }[]>;

const planned = new WeakMap<readonly Rule[], RulesOfScope>();

function planOf(rules: readonly Rule[]): RulesOfScope {
  const known = planned.get(rules);
  if (known) return known;
  const plan = new Map(
    ALL_SCOPES.map((scope) => [
      scope,
      rules.flatMap((rule) => {
        const ask = rule.check[scope] as Ask | undefined;
        return ask ? [{ rule, ask }] : [];
      }),
    ]),
  );
  planned.set(rules, plan);
  return plan;
}

/** Runs the rules over the whole pairing, for all option combinations at once. */
export function check(pairing: Pairing, { rules = RULES, previous }: CheckOptions = {}): Run {
  const memory = previous && samePlatforms(previous.pairing, pairing) ? previous.memory : newMemory(pairing);
  const context = createContext(pairing, memory);
  const bySubject = new Map<string, Finding[]>();
  for (const [scope, asked] of planOf(rules)) {
    if (asked.length === 0) continue;
    eachSubject(context, scope, (ref, subject) => {
      const found = askAll(context, asked, ref, subject);
      if (found.length > 0) enter(bySubject, `${scope} ${ref}`, found);
    });
  }
  const found = [...bySubject.values()].flat().sort(compareFindings);
  return conclude(context, rules, memory, bySubject, found);
}

/**
 * The run after an edit, asking again only where the edit can have changed an answer. `changed` names what the caller knows to
 * have changed (`route:id`, `transmit:side:Message`, `side:…`); routes and transmits that are other objects than before are
 * found without. An edit of anything else (a fate, an option, a platform) is checked in full.
 */
export function recheck(previous: Run, pairing: Pairing, changed: readonly string[] = []): Run {
  const { rules, memory } = previous;
  if (!samePlatforms(previous.pairing, pairing)) return check(pairing, { rules });
  const context = createContext(pairing, memory);
  const affected = affectedSubjects(previous.pairing, context, changed, rules);
  if (affected === null) return check(pairing, { rules, previous });
  const plan = planOf(rules);
  const bySubject = new Map(previous.bySubject);
  const dropped = new Set<Finding>();
  const fresh: Finding[] = [];
  for (const [scope, refs] of affected) {
    const asked = plan.get(scope)!;
    if (asked.length === 0) continue;
    for (const ref of refs) {
      const key = `${scope} ${ref}`;
      for (const finding of bySubject.get(key) ?? []) dropped.add(finding);
      bySubject.delete(key);
      for (const subject of findSubjects(context, scope, ref)) {
        const found = askAll(context, asked, ref, subject);
        if (found.length === 0) continue;
        enter(bySubject as Map<string, Finding[]>, key, found);
        fresh.push(...found);
      }
    }
  }
  const kept = dropped.size === 0 ? previous.ordered : previous.ordered.filter((finding) => !dropped.has(finding));
  return conclude(context, rules, memory, bySubject, merge(kept, fresh.sort(compareFindings)));
}

function samePlatforms(a: Pairing, b: Pairing): boolean {
  return a.host === b.host && a.donor === b.donor;
}

function enter(bySubject: Map<string, Finding[]>, key: string, found: readonly Finding[]): void {
  const known = bySubject.get(key);
  bySubject.set(key, known ? [...known, ...found] : [...found]);
}

function merge(a: readonly Finding[], b: readonly Finding[]): Finding[] {
  if (b.length === 0) return [...a];
  const merged: Finding[] = [];
  let next = 0;
  for (const finding of a) {
    while (next < b.length && compareFindings(b[next]!, finding) < 0) merged.push(b[next++]!);
    merged.push(finding);
  }
  while (next < b.length) merged.push(b[next++]!);
  return merged;
}

function askAll(
  context: CheckContext,
  asked: readonly { readonly rule: Rule; readonly ask: Ask }[],
  ref: string,
  subject: unknown,
): readonly Finding[] {
  let found: Finding[] | null = null;
  for (const { rule, ask } of asked) {
    const drafts = ask(context, subject);
    if (drafts === null || drafts.length === 0) continue;
    found ??= [];
    for (const draft of drafts) {
      const finding = findingOf(context, rule, ref, draft);
      if (finding) found.push(finding);
    }
  }
  return found ?? [];
}

/** Null for a finding that holds in no combination. */
function findingOf(context: CheckContext, rule: Rule, ref: string, draft: Draft): Finding | null {
  const { options } = context.pairing;
  const mask = draft.mask === undefined ? options.all : draft.mask & options.all;
  if (mask === 0n && options.all !== 0n) return null;
  return {
    rule: rule.id,
    severity: draft.severity ?? rule.severity,
    subject: draft.subject ?? ref,
    message: draft.message,
    why: draft.because === undefined ? rule.why : `${rule.why} ${draft.because}`,
    values: draft.values ?? [],
    options: mask === options.all ? [] : options.describe(mask),
    mask,
    mend: draft.mend ?? null,
    waived: null,
  };
}

/** Enters the waivers, asks the rules about findings and waivers, and counts. */
function conclude(
  context: CheckContext,
  rules: readonly Rule[],
  memory: PlatformMemory,
  bySubject: ReadonlyMap<string, readonly Finding[]>,
  ordered: readonly Finding[],
): Run {
  const { map } = context.pairing;
  const afterwards: Finding[] = [];
  for (const rule of rules) {
    for (const draft of rule.after?.(context, ordered) ?? []) {
      const finding = findingOf(context, rule, 'map', draft);
      if (finding) afterwards.push(finding);
    }
  }
  const all = merge(ordered, afterwards.sort(compareFindings));
  const findings = waiveFindings(map.waivers ?? [], all);
  return { pairing: context.pairing, findings, counts: countFindings(findings), rules, bySubject, ordered, memory };
}
