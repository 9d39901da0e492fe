import type { Command } from 'commander';
import { RULES, findRule, type Rule } from '../../checks/index.ts';
import { UnusableInput } from '../../host/index.ts';
import { columns, fold, formatOption, jsonText } from '../formats.ts';
import type { Terminal } from '../terminal.ts';

function asText(rule: Rule, width: number): string {
  const paragraph = (text: string): string => `${fold(text, width, '')}\n`;
  const sources = rule.sources
    .map(({ source, provenance }) => fold(`- ${source} (${provenance})`, width, '  '))
    .join('\n');
  const { failing, passing } = rule.examples;
  return [
    `${rule.id}  (${rule.severity})`,
    paragraph(rule.title),
    `Why\n${paragraph(rule.why)}`,
    `Sources\n${sources}\n`,
    `Found when\n${paragraph(failing().says)}`,
    `Not found when\n${paragraph(passing().says)}`,
  ].join('\n');
}

function nearest(wanted: string): string[] {
  const word = wanted.split('/').at(-1)!.toLowerCase();
  return RULES.filter(({ id, title }) => id.includes(word) || title.toLowerCase().includes(word))
    .map(({ id }) => id)
    .slice(0, 5);
}

/** `crossloom explain [RULE]`: why a rule exists, where it comes from, what it finds. */
export function addExplain(program: Command, terminal: Terminal): void {
  program
    .command('explain')
    .description('explain a rule: why it exists, its sources, what it finds; without a rule, list them all')
    .argument('[rule]', 'a rule as group/name')
    .addOption(formatOption())
    .action((id: string | undefined, options: { format: string }) => {
      const json = options.format === 'json';
      if (id === undefined) {
        const list = RULES.map(({ id: rule, severity, title }) => ({ rule, severity, title }));
        terminal.out(
          json
            ? jsonText(list)
            : columns([
                ['RULE', 'SEVERITY', 'FINDS'],
                ...list.map(({ rule, severity, title }) => [rule, severity, title]),
              ]),
        );
        return;
      }
      const rule = findRule(id);
      if (!rule) {
        const near = nearest(id);
        throw new UnusableInput(
          `there is no rule "${id}"${near.length > 0 ? `; did you mean ${near.join(', ')}?` : '; crossloom explain lists them all'}`,
        );
      }
      if (!json) return terminal.out(asText(rule, Math.min(terminal.columns, 100)));
      const { severity, title, why, sources, examples } = rule;
      const example = ({ says, documents, expect }: ReturnType<typeof examples.failing>): object => ({
        says,
        expect,
        documents,
      });
      terminal.out(
        jsonText({
          rule: id,
          severity,
          title,
          why,
          sources,
          failing: example(examples.failing()),
          passing: example(examples.passing()),
        }),
      );
    });
}
