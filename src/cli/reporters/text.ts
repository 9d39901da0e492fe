import type { Finding, Severity } from '../../checks/index.ts';
import type { CheckedMap } from '../folder/checked-map.ts';
import { fold } from '../formats.ts';
import type { Terminal } from '../terminal.ts';

const COLOUR: Readonly<Record<Severity, string>> = { stop: '31', fix: '33', look: '36' };

function painted(text: string, code: string, terminal: Terminal): string {
  return terminal.colour ? `\u001b[${code}m${text}\u001b[0m` : text;
}

function findingText(finding: Finding, terminal: Terminal): string {
  const { rule, severity, subject, message, why, values, options, mend, waived } = finding;
  const width = Math.max(60, Math.min(terminal.columns, 120)) - 2;
  const word = waived ? painted('waived', '2', terminal) : painted(severity, `1;${COLOUR[severity]}`, terminal);
  const lines = [`${word}  ${rule}  ${subject}`, fold(`  ${message}`.trimEnd(), width, '    ').replace(/^/, '  ')];
  if (values.length > 0)
    lines.push(
      fold(
        `values: ${values.map(({ name, value, unit }) => `${name} ${value}${unit === '' ? '' : ` ${unit}`}`).join(', ')}`,
        width,
        '      ',
      ).replace(/^/, '    '),
    );
  if (options.length > 0) lines.push(`    in: ${options.join(', ')}`);
  if (waived)
    lines.push(
      `    waived by ${[waived.by, waived.secondBy].filter(Boolean).join(' and ')} on ${waived.on}: ${waived.reason}`,
    );
  else {
    lines.push(fold(`why: ${why}`, width, '      ').replace(/^/, '    '));
    if (mend) lines.push(`    mend: ${mend.title}`);
  }
  return `${lines.join('\n')}\n`;
}

/** The report for people: every finding with its reason, then the counts. */
export function textReport(checked: CheckedMap, terminal: Terminal, showWaived: boolean): string {
  const { title, revision, digest, counts, rules } = checked;
  const shown = checked.findings.map(({ finding }) => finding).filter(({ waived }) => showWaived || waived === null);
  const body = shown.map((finding) => findingText(finding, terminal)).join('\n');
  const summary = `${counts.stop} stop, ${counts.fix} fix, ${counts.look} look, ${counts.waived} waived`;
  const head = `${title}, revision ${revision}, digest ${digest.slice(0, 16)}`;
  const foot =
    'The rules examine what the documents state; a qualified person must review, bench-test and road-test the rest.';
  return `${head}\n\n${body}${body === '' ? '' : '\n'}${summary} (${rules} rules)\n${foot}\n`;
}
