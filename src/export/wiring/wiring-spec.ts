import type { Finding } from '../../checks/index.ts';
import type { Pairing } from '../../model/index.ts';
import type { SpecDocument } from '../document/index.ts';
import {
  assumptionsOf,
  buildParts,
  capital,
  cautionText,
  cautionsAt,
  fileIdOf,
  markOf,
  openSection,
  pairingFacts,
  recordSection,
  stampOf,
  type Assumption,
  type SpecIssue,
} from '../record/index.ts';
import { materialSections } from './bom-section.ts';
import { connectorSection } from './connector-section.ts';
import { fromToSection } from './from-to-section.ts';
import { buildsSection, diagramSection, howToRead } from './front-sections.ts';
import { harnessSection } from './harness-section.ts';
import { spliceSection } from './splice-section.ts';
import { supplySection } from './supply-section.ts';
import { testSection } from './test-section.ts';
import { figure, wiringOf, type Wiring } from './wiring.ts';

/**
 * The wiring spec of a pairing: what a harness builder needs to cut, crimp, route, label and test the added harness. `findings` are
 * those of a run of the checks over the same pairing.
 * @throws UnknownBuildError when `issue.build` names a build the map does not have.
 */
export function wiringSpec(pairing: Pairing, findings: readonly Finding[], issue: SpecIssue): SpecDocument {
  const wiring = wiringOf(pairing, findings, issue);
  const { plan, scope } = wiring;
  const body = [
    recordSection(pairing, [
      'Drafted by',
      'Reviewed by',
      'Harness builder, has read and can build from it',
      'Built by',
      'Tested by',
      'Released by',
    ]),
    howToRead(wiring),
    buildsSection(wiring),
    diagramSection(wiring),
    fromToSection(wiring),
    connectorSection(wiring),
    spliceSection(wiring),
    supplySection(wiring),
    harnessSection(wiring),
    ...materialSections(wiring),
    testSection(wiring),
  ];
  for (const { kind, subject, message } of plan.problems)
    wiring.open.decide(`${capital(kind.replaceAll('-', ' '))}: ${message}`, subject);
  // Last, because what is open is known only when everything else is written.
  const open = openSection(pairing, findings, scope, wiring.open.list(), assumptionsIn(wiring));
  return {
    id: fileIdOf(pairing.map.id, 'wiring', ...buildParts(issue)),
    title: 'Wiring spec',
    subtitle: `${pairing.map.harness?.title ?? 'Added harness'}: ${pairing.map.title}`,
    stamp: stampOf(pairing, issue),
    facts: [
      ...pairingFacts(pairing, scope),
      {
        label: 'Content',
        value: `${plan.totals.conductors} conductors, ${figure(plan.totals.wireM, 4)} m of wire, ${plan.totals.connectors} housings, ${plan.totals.splices} splices, ${plan.tests.length} tests`,
      },
    ],
    cautions: [
      ...cautionsAt('every export').map(({ text }) => text),
      cautionText('wiring spec'),
      cautionText('safety rows'),
      cautionText('start page'),
    ],
    mark: markOf(findings),
    page: { paper: 'A4', orientation: 'landscape' },
    sections: [...body, open],
  };
}

/** What the map marks as assumed, and what the plan had to take where the documents are silent. */
function assumptionsIn({ pairing, scope, plan }: Wiring): readonly Assumption[] {
  const circuits = plan.fromTo.flatMap((row): Assumption[] => {
    const what = [
      ...(row.loadBy === 'assumed' ? [`a load of ${figure(row.loadA)} A`] : []),
      ...(row.loadBy === 'fuse' ? [`a load of ${figure(row.loadA)} A, from its fuse`] : []),
      ...(row.zoneBy === 'assumed' ? [`a zone of ${row.zoneMaxC} °C`] : []),
      ...(row.sizeBy === 'assumed' ? [`the size ${row.sizeValue} ${row.sizeUnit}`] : []),
    ];
    return what.length === 0 ? [] : [{ of: `circuit ${row.circuit}`, what: what.join(', ') }];
  });
  return [...assumptionsOf(pairing, scope), ...grouped(circuits)];
}

/** Circuits with the same assumption in one row. */
function grouped(list: readonly Assumption[]): readonly Assumption[] {
  const byWhat = new Map<string, string[]>();
  for (const { of, what } of list) byWhat.set(what, [...(byWhat.get(what) ?? []), of.replace(/^circuit /, '')]);
  return [...byWhat].map(([what, circuits]) => ({
    of: circuits.length === 1 ? `circuit ${circuits[0]}` : `circuits ${circuits.join(', ')}`,
    what,
  }));
}
