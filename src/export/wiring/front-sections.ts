import { COLOUR_CODES } from '../../wiring/index.ts';
import { strong, type Block, type Section } from '../document/index.ts';
import { buildBlocks, cautionTable, cautionsAt } from '../record/index.ts';
import { blockDiagram } from './block-diagram.ts';
import { interlockFigures } from './interlock-chains.ts';
import { figure, type Wiring } from './wiring.ts';

export function howToRead(wiring: Wiring): Section {
  const { plan } = wiring;
  const used = new Set(plan.fromTo.flatMap(({ colourBase, colourTracer }) => [colourBase, colourTracer]));
  return {
    id: 'how-to-read',
    title: 'How to read this',
    startsPage: true,
    intro: `The added harness of this pairing: ${plan.totals.conductors} conductors, ${figure(plan.totals.wireM, 4)} m of wire, ${plan.totals.connectors} housings, ${plan.totals.splices} splices. The vehicles’ own wiring is not repeated here, save where a conductor meets it.`,
    blocks: [
      {
        kind: 'list',
        style: 'bullet',
        entries: [
          [
            strong('Circuit. '),
            'One conductor with two ends; its number is printed at both. Where several share a place they meet in a splice, so that no cavity holds two.',
          ],
          [
            strong('Places. '),
            'host:X1-12 is cavity 12 of connector X1 of the host; an id without a side is added by this harness. Cavities are numbered as moulded; the view is stated with each connector.',
          ],
          [
            strong('In a vehicle’s connector '),
            'this harness carries the mating half: the terminal is of the same family and the other gender.',
          ],
          [
            strong('Lengths. '),
            'Cut length is the way over the segments with twist and service allowance, rounded up to 5 mm. ± is the tolerance.',
          ],
          [
            strong('Sizes. '),
            'Never bare: mm² (ISO 6722-1) or AWG (ASTM B258). A size that the map does not give is computed; the note says from what.',
          ],
          [
            strong('To be decided. '),
            'What the documents do not give is not invented: it reads so at its place, and stands under Open items.',
          ],
          [
            strong('Colours. '),
            `IEC 60757, base first, then tracer: ${Object.entries(COLOUR_CODES)
              .flatMap(([code, { name }]) => (used.has(code) ? [`${code} ${name}`] : []))
              .join(', ')}.`,
          ],
          ...(wiring.scope.several
            ? [
                [
                  strong('Builds. '),
                  'A row is fitted in the builds its column names; all means in every build covered.',
                ],
              ]
            : []),
        ],
      },
      ...cautionsAt('wiring spec').map(({ text }): Block => ({ kind: 'caution', tone: 'stop', text })),
      ...cautionsAt('every row').map(({ text }): Block => ({ kind: 'caution', tone: 'note', text })),
      cautionTable(),
    ],
  };
}

export function buildsSection({ pairing, scope }: Wiring): Section {
  return { id: 'builds', title: 'Builds and calibration', startsPage: true, blocks: buildBlocks(pairing, scope) };
}

export function diagramSection(wiring: Wiring): Section {
  return {
    id: 'diagrams',
    title: 'Block diagram and interlock chains',
    startsPage: true,
    blocks: [
      {
        kind: 'figure',
        id: 'block-diagram',
        title: 'Modules, buses and interface modules',
        drawing: blockDiagram(wiring),
        note: 'Removed modules are left out. Hard wires are in the from–to list; those of interlock functions follow.',
      },
      { kind: 'pageBreak' },
      { kind: 'heading', level: 2, text: 'Interlock chains' },
      {
        kind: 'paragraph',
        text: 'No programmable device may lie in these chains, and nothing may bridge a contact in them.',
      },
      ...interlockFigures(wiring),
    ],
  };
}
