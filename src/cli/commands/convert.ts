import type { Command } from 'commander';
import { UnusableInput } from '../../host/index.ts';
import { formatDecimal, parseExact, toExact, toNumber } from '../../number/index.ts';
import { conversionBetween, convertExact, findUnit, type Unit } from '../../units/index.ts';
import { formatOption, jsonText } from '../formats.ts';
import type { Terminal } from '../terminal.ts';

function unitOf(text: string): Unit {
  const found = findUnit(text);
  if (!found)
    throw new UnusableInput(`the unit "${text}" is not known; write a UCUM code such as km/h, Cel, kPa or [mi_i]/h`);
  return found.unit;
}

/** `crossloom convert 60 mph km/h`: a value between units, exactly. */
export function addConvert(program: Command, terminal: Terminal): void {
  program
    .command('convert')
    .description('convert a value between units, exactly')
    .argument('<value>', 'a decimal or a fraction: 60, -40, 1/3')
    .argument('<from>', 'its unit: a UCUM code or a spelling in use (mph, degF, psi)')
    .argument('<to>', 'the unit wanted')
    .addOption(formatOption())
    .addHelpText('after', '\nExample:\n  crossloom convert 60 mph km/h\n  crossloom convert -- -40 degF degC')
    .action((value: string, from: string, to: string, options: { format: string }) => {
      const number = parseExact(value);
      if (number === null)
        throw new UnusableInput(`"${value}" is not a number; write a decimal or a fraction, e.g. 12.5 or 1/3`);
      const [source, target] = [unitOf(from), unitOf(to)];
      const result = convertExact(number, source, target);
      if ('kind' in result) throw new UnusableInput(`${source.code} cannot become ${target.code}: ${result.message}`);
      if (options.format === 'json') {
        const conversion = conversionBetween(source, target);
        const affine = conversion.kind === 'affine' ? conversion.affine : null;
        terminal.out(
          jsonText({
            value: toExact(number),
            from: source.code,
            result: toNumber(result),
            exact: toExact(result),
            to: target.code,
            ...(affine ? { factor: toExact(affine.factor), offset: toExact(affine.offset) } : {}),
          }),
        );
      } else {
        terminal.out(
          `${formatDecimal(number)} ${source.symbol} = ${formatDecimal(result, { maxSignificant: 15 })} ${target.symbol}\n`,
        );
      }
    });
}
