import type { Log, ReportingDescriptor, Result } from 'sarif';
import { RULES, findingDigest, type Finding, type Severity } from '../../checks/index.ts';
import { VERSION } from '../version.ts';

const LEVELS: Readonly<Record<Severity, Result.level>> = { stop: 'error', fix: 'warning', look: 'note' };

/** Where a finding stands in the files, when that is known. */
export interface FindingPlace {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** A finding with its place in the files. */
export interface PlacedFinding {
  readonly finding: Finding;
  readonly place: FindingPlace;
}

/** Paths in SARIF are URIs with forward slashes, relative to where the command ran. */
function uriOf(file: string): string {
  return file.split(/[\\/]/).map(encodeURIComponent).join('/');
}

/** Static analysis results, of any number of maps, as one SARIF 2.1.0 log. */
export function sarifReport(placed: readonly PlacedFinding[]): Log {
  const index = new Map(RULES.map(({ id }, at) => [id, at]));
  const rules = RULES.map((rule): ReportingDescriptor => ({
    id: rule.id,
    name: rule.id
      .split('/')
      .map((part) => part.replace(/(^|-)([a-z])/g, (_all, _dash, letter: string) => letter.toUpperCase()))
      .join(''),
    shortDescription: { text: rule.title },
    fullDescription: { text: rule.why },
    help: {
      text: `${rule.why}\n\nSources: ${rule.sources.map(({ source, provenance }) => `${source} (${provenance})`).join('; ')}`,
    },
    defaultConfiguration: { level: LEVELS[rule.severity] },
  }));
  const results = placed.map(({ finding, place: { file, line, column } }): Result => {
    const ruleIndex = index.get(finding.rule);
    return {
      ruleId: finding.rule,
      ...(ruleIndex === undefined ? {} : { ruleIndex }),
      level: LEVELS[finding.severity],
      message: {
        text: `${finding.message}${finding.options.length > 0 ? ` (in ${finding.options.join(', ')})` : ''}`,
      },
      locations: [
        {
          physicalLocation: {
            artifactLocation: { uri: uriOf(file) },
            region: { startLine: line, startColumn: column },
          },
          logicalLocations: [{ fullyQualifiedName: finding.subject }],
        },
      ],
      partialFingerprints: { 'facts/v1': findingDigest(finding) },
      properties: { severity: finding.severity, values: finding.values, options: finding.options },
      ...(finding.waived
        ? {
            suppressions: [
              {
                kind: 'external' as const,
                status: 'accepted' as const,
                justification: `${[finding.waived.by, finding.waived.secondBy].filter(Boolean).join(' and ')}, ${finding.waived.on}: ${finding.waived.reason}`,
              },
            ],
          }
        : {}),
    };
  });
  return {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Crossloom', version: VERSION, semanticVersion: VERSION, rules } },
        columnKind: 'utf16CodeUnits',
        results,
      },
    ],
  };
}
