import type { CrossloomMap, Platform } from '../model/index.ts';
import { COVERAGE } from './coverage.ts';
import type { Example, Rule } from './rule.ts';
import { RULES } from './rules/index.ts';

const SEVERITY_WORDS = {
  stop: 'stop: somebody can be hurt, or the map cannot work',
  fix: 'fix: it is wrong',
  look: 'look: a person should see it',
} as const;

/** Ids of the mistakes of the reference list which a rule meets. */
export function mistakesOf(ruleId: string): readonly string[] {
  return Object.entries(COVERAGE).flatMap(([mistake, coverage]) =>
    coverage.kind === 'rules' && coverage.rules.includes(ruleId) ? [mistake] : [],
  );
}

/** The page of a rule, as Markdown: what, why, sources, a failing and a passing example. */
export function explainRule(rule: Rule): string {
  const mistakes = mistakesOf(rule.id);
  const failing = rule.examples.failing();
  const passing = rule.examples.passing();
  return [
    `# ${rule.id}`,
    '',
    `**${rule.title}**`,
    '',
    `Severity ${SEVERITY_WORDS[rule.severity]}. A single finding can be milder where the class of its function allows it.`,
    '',
    '## Why',
    '',
    rule.why,
    '',
    '## Sources',
    '',
    ...rule.sources.map(({ source, provenance }) => `- ${source} [${provenance}]`),
    '',
    ...(mistakes.length === 0 ? [] : ['## Mistakes it meets', '', mistakes.map((id) => `\`${id}\``).join(', '), '']),
    '## Fails',
    '',
    failing.says,
    '',
    ...excerpt(failing, passing),
    '',
    `The whole pairing is sample-maps/faulty/${rule.id}.map.json. Finding on: ${[...failing.expect]
      .sort()
      .map((subject) => `\`${subject}\``)
      .join(', ')}`,
    '',
    '## Passes',
    '',
    passing.says,
    '',
    ...excerpt(passing, failing),
    '',
  ].join('\n');
}

/** What one example has and the other has not, as JSON: the entries of lists and the fields that differ. */
function excerpt(example: Example, other: Example): string[] {
  const differing = (['map', 'host', 'donor'] as const).flatMap((name) => {
    const part = difference(example.documents[name], other.documents[name]);
    return part === undefined ? [] : [[name, part] as const];
  });
  // Where one example only lacks what the other has, its routes say enough.
  const shown =
    differing.length > 0 ? Object.fromEntries(differing) : { map: { routes: example.documents.map.routes } };
  return ['```json', compactJson(shown), '```'];
}

/** JSON with two-space indentation, in which whatever fits stands on one line of 110 characters. */
function compactJson(value: unknown, indent = ''): string {
  const flat = flatJson(value);
  if (typeof value !== 'object' || value === null || indent.length + flat.length <= 110) return flat;
  const inner = `${indent}  `;
  if (Array.isArray(value))
    return `[\n${value.map((entry) => inner + compactJson(entry, inner)).join(',\n')}\n${indent}]`;
  const rows = Object.entries(value)
    .filter(([, entry]) => entry !== undefined)
    .map(([key, entry]) => `${inner}${JSON.stringify(key)}: ${compactJson(entry, inner)}`);
  return `{\n${rows.join(',\n')}\n${indent}}`;
}

function flatJson(value: unknown): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  if (Array.isArray(value)) return `[${value.map(flatJson).join(', ')}]`;
  const rows = Object.entries(value).filter(([, entry]) => entry !== undefined);
  return rows.length === 0
    ? '{}'
    : `{ ${rows.map(([key, entry]) => `${JSON.stringify(key)}: ${flatJson(entry)}`).join(', ')} }`;
}

function difference(a: unknown, b: unknown): unknown {
  if (a === b || JSON.stringify(a) === JSON.stringify(b)) return undefined;
  if (Array.isArray(a)) {
    const others = new Set(Array.isArray(b) ? b.map((entry) => JSON.stringify(entry)) : []);
    const own = a.filter((entry) => !others.has(JSON.stringify(entry)));
    return own.length === 0 ? undefined : own;
  }
  if (typeof a !== 'object' || a === null) return a;
  const rest = (typeof b === 'object' && b !== null ? b : {}) as Record<string, unknown>;
  const entries = Object.entries(a as CrossloomMap | Platform).flatMap(([key, value]) => {
    const part = difference(value, rest[key]);
    return part === undefined ? [] : [[key, part] as const];
  });
  return entries.length === 0 ? undefined : Object.fromEntries(entries);
}

/** A generated text file: its path from the project's root, and its content. */
export interface GeneratedFile {
  readonly path: string;
  readonly content: string;
}

/** The page of every rule, beside the rule, and the index of them. */
export function rulePages(): readonly GeneratedFile[] {
  return [
    ...RULES.map((rule) => ({ path: `src/checks/rules/${rule.id}.md`, content: explainRule(rule) })),
    { path: 'src/checks/rules/README.md', content: ruleIndexPage() },
  ];
}

/** All rules by group, then what is met otherwise, and what no map can show. */
export function ruleIndexPage(): string {
  const groups = new Map<string, Rule[]>();
  for (const rule of RULES) {
    const group = rule.id.slice(0, rule.id.indexOf('/'));
    groups.set(group, [...(groups.get(group) ?? []), rule]);
  }
  const rows = Object.entries(COVERAGE);
  const listed = (kind: 'refused' | 'no-map'): string[] =>
    rows.flatMap(([mistake, coverage]) =>
      coverage.kind === kind && 'because' in coverage ? [`| \`${mistake}\` | ${coverage.because} |`] : [],
    );
  return [
    '# Rules',
    '',
    `${RULES.length} rules. A check reports what it found; it never says that a map is safe. Defer to local codes, the vehicle makers’ documents and licensed practice.`,
    '',
    ...[...groups].flatMap(([group, rules]) => [
      `## ${group}`,
      '',
      '| rule | severity | finds |',
      '|---|---|---|',
      ...rules.map(({ id, severity, title }) => `| [${id}](${id}.md) | ${severity} | ${title} |`),
      '',
    ]),
    '## Mistakes which the documents’ schema refuses',
    '',
    '| mistake | how |',
    '|---|---|',
    ...listed('refused'),
    '',
    '## Mistakes which no map can show',
    '',
    '| mistake | why |',
    '|---|---|',
    ...listed('no-map'),
    '',
  ].join('\n');
}
