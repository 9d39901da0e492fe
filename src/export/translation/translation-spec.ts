import type { Finding } from '../../checks/index.ts';
import type { Pairing } from '../../model/index.ts';
import type { SpecDocument } from '../document/index.ts';
import {
  assumptionsOf,
  buildParts,
  cautionText,
  cautionsAt,
  fileIdOf,
  markOf,
  openSection,
  pairingFacts,
  recordSection,
  stampOf,
  type SpecIssue,
} from '../record/index.ts';
import { busSection } from './bus-section.ts';
import { timedBuses } from './bus-timing.ts';
import { buildsSection, howToRead } from './front-sections.ts';
import { interfaceSection } from './interface-section.ts';
import { physicalSection } from './physical-section.ts';
import { receivedSection } from './received-section.ts';
import { authorSection } from './author-section.ts';
import { diagnosticSection } from './diagnostic-section.ts';
import { leftOutSection } from './left-out-section.ts';
import { routeSections } from './route-section.ts';
import { sentSection } from './sent-section.ts';
import { translationOf } from './translation.ts';

/**
 * The translation spec of a pairing: what a firmware author needs to write the interface modules’ program, and nothing that the
 * map and the platforms do not say. `findings` are those of a run of the checks over the same pairing.
 * @throws UnknownBuildError when `issue.build` names a build the map does not have.
 */
export function translationSpec(pairing: Pairing, findings: readonly Finding[], issue: SpecIssue): SpecDocument {
  const translation = translationOf(pairing, findings, issue);
  const { scope } = translation;
  const buses = timedBuses(translation);
  const body = [
    recordSection(pairing, [
      'Drafted by',
      'Reviewed by',
      'Firmware author, has read and can build from it',
      'Released by',
    ]),
    howToRead(translation),
    buildsSection(translation),
    busSection(translation, buses),
    interfaceSection(translation),
    receivedSection(translation),
    sentSection(translation),
    ...routeSections(translation, buses),
    physicalSection(translation),
    diagnosticSection(translation),
    leftOutSection(translation),
    authorSection(translation),
  ];
  // Last, because what is open is known only when everything else is written.
  const open = openSection(pairing, findings, scope, translation.open.list(), assumptionsOf(pairing, scope));
  return {
    id: fileIdOf(pairing.map.id, 'translation', ...buildParts(issue)),
    title: 'Translation spec',
    subtitle: pairing.map.title,
    stamp: stampOf(pairing, issue),
    facts: [
      ...pairingFacts(pairing, scope),
      {
        label: 'Content',
        value: `${translation.routes.length} routes, ${translation.received.length} messages received, ${translation.sent.length} messages sent`,
      },
    ],
    cautions: [
      ...cautionsAt('every export', 'translation spec', 'safety rows').map(({ text }) => text),
      cautionText('start page'),
    ],
    mark: markOf(findings),
    page: { paper: 'A4', orientation: 'landscape' },
    sections: [...body, open],
  };
}
