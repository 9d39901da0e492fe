import { fuseToBear, type FuseRow } from '../../wiring/index.ts';
import type { Block, Row, Section } from '../document/index.ts';
import { gathered, joined, type SubjectRows } from '../record/index.ts';
import { circuitLinks, figure, sizeText, small, type Wiring } from './wiring.ts';

/** Feeds and fuses, grounds, bus wiring. */
export function supplySection(wiring: Wiring): Section {
  return {
    id: 'supplies',
    title: 'Feeds, fuses, grounds and bus wiring',
    startsPage: true,
    blocks: [
      fuseTable(wiring),
      coordinationTable(wiring),
      partsTable(wiring),
      groundTable(wiring),
      groundLegs(wiring),
      busTable(wiring),
    ],
  };
}

const VERDICT = {
  within: 'within 80 % of the rating',
  'over-continuous': 'over 80 % of the rating',
  'over-rating': 'over the rating',
  unknown: 'cannot be told',
} as const;

function fuseTable(wiring: Wiring): Block {
  const { plan, open } = wiring;
  return {
    kind: 'table',
    id: 'fuses',
    title: 'Feeds and fuses',
    columns: [
      { key: 'fuse_id', title: 'Fuse', kind: 'code', weight: 12, role: 'key' },
      { key: 'title', title: 'Title', kind: 'text', weight: 26 },
      { key: 'place', title: 'Place', kind: 'text', weight: 14 },
      { key: 'feed_state', title: 'Live in', kind: 'text', weight: 16 },
      { key: 'rating_A', title: 'Rating', kind: 'number', weight: 7, unit: 'A' },
      { key: 'colour', title: 'Colour', kind: 'text', weight: 9 },
      { key: 'own_A', title: 'Own load', kind: 'number', weight: 7, unit: 'A', decimals: 1 },
      { key: 'added_A', title: 'Added', kind: 'number', weight: 7, unit: 'A', decimals: 1 },
      { key: 'worst_A', title: 'Worst', kind: 'number', weight: 7, unit: 'A', decimals: 1 },
      { key: 'verdict', title: 'Loading', kind: 'text', weight: 18 },
      { key: 'wires_protected', title: 'Conductors after it', kind: 'code', weight: 24 },
      { key: 'weakest', title: 'Weakest', kind: 'code', weight: 8 },
      { key: 'weakest_A', title: 'It carries', kind: 'number', weight: 8, unit: 'A', decimals: 1 },
      { key: 'protects', title: 'Protects it', kind: 'text', weight: 9 },
    ],
    rows: plan.fuses.map((fuse): Row => {
      const unknown = (what: string): string => open.decide(what, fuse.fuse);
      const guarded = guardedBy(wiring, fuse);
      const over = fuse.verdict === 'over-rating';
      return {
        cells: [
          fuse.fuse,
          fuse.title,
          fuse.place === 'in-line'
            ? `in line, ≤ ${fuse.mostUnfusedMm} mm from the source`
            : (fuse.at ?? 'of the vehicle'),
          fuse.liveIn.length > 0
            ? fuse.liveIn.join(', ')
            : fuse.place === 'in-line'
              ? 'as its source'
              : unknown('Key states in which a feed is live'),
          fuse.ratingA ?? unknown('Rating of the fuse'),
          fuse.colour ?? 'none by standard',
          fuse.ownA ?? (fuse.place === 'in-line' ? 'none' : unknown('Load that the vehicle puts on a feed')),
          figure(fuse.addedA),
          figure(fuse.worstA),
          VERDICT[fuse.verdict] +
            (fuse.currentUnknownFor.length === 0 ? '' : `; load not stated for ${fuse.currentUnknownFor.join(', ')}`),
          circuitLinks(wiring, fuse.circuits),
          guarded.circuit,
          guarded.ampacityA === null ? '–' : figure(guarded.ampacityA),
          guarded.protects,
        ],
        ...(over || guarded.protects === 'no'
          ? { mark: { tone: 'caution', text: over ? 'overloaded' : 'does not protect' } as const }
          : {}),
      };
    }),
    whenEmpty: 'No conductor of the harness hangs on a fuse.',
    note: 'Ratings and colours: ISO 8820-3 where it has them. Weakest: of the conductors that carry the feed itself; a signal behind a contact or an output is not sized by the fuse before it. Ampacity: insulation and zone temperature, derated for the fullest bundle on the way.',
  };
}

/** The weakest conductor that the fuse must protect: supplies and loads, not the signals that a fused output switches. */
function guardedBy(
  { plan }: Wiring,
  { circuits, ratingA }: FuseRow,
): { readonly circuit: string; readonly ampacityA: number | null; readonly protects: string } {
  const own = plan.conductors.filter(({ circuit }) => circuits.includes(circuit.id) && fuseToBear(circuit) !== null);
  const weakest = own.reduce<(typeof own)[number] | null>(
    (least, one) => (least === null || one.ampacityA < least.ampacityA ? one : least),
    null,
  );
  if (weakest === null) return { circuit: 'signals only', ampacityA: null, protects: 'not its task' };
  const { circuit, ampacityA } = weakest;
  return {
    circuit: circuit.id,
    ampacityA,
    protects: ratingA === null ? 'cannot be told' : ratingA <= ampacityA + 1e-9 ? 'yes' : 'no',
  };
}

function coordinationTable({ plan }: Wiring): Block {
  return {
    kind: 'table',
    id: 'fuse-coordination',
    title: 'Fuses in line with one another',
    columns: [
      { key: 'upstream', title: 'Nearer the battery', kind: 'code', weight: 16, role: 'key' },
      { key: 'upstream_A', title: 'Rating', kind: 'number', weight: 8, unit: 'A' },
      { key: 'downstream', title: 'After it', kind: 'code', weight: 16, role: 'key' },
      { key: 'downstream_A', title: 'Rating', kind: 'number', weight: 8, unit: 'A' },
      { key: 'ratio', title: 'Ratio', kind: 'number', weight: 7, decimals: 2 },
      { key: 'verdict', title: 'Which opens first', kind: 'text', weight: 34 },
    ],
    rows: plan.coordination.map(({ upstream, upstreamA, downstream, downstreamA, ratio, verdict }): Row => ({
      cells: [
        upstream,
        upstreamA,
        downstream,
        downstreamA,
        figure(ratio),
        verdict === 'selective'
          ? 'the later one'
          : verdict === 'larger'
            ? 'the later one on overload; both may open on a short'
            : 'the earlier one: it takes other circuits with it',
      ],
      ...(verdict === 'inverted' ? { mark: { tone: 'caution', text: 'inverted' } as const } : {}),
    })),
    whenEmpty: 'The documents name no fuse behind another one.',
  };
}

function partsTable({ pairing, scope, open }: Wiring): Block {
  const parts = (pairing.map.harness?.parts ?? []).filter(({ when }) => scope.holds(pairing.options.maskOf(when)));
  return {
    kind: 'table',
    id: 'parts',
    title: 'Relays and other parts in the harness',
    columns: [
      { key: 'part_id', title: 'Part', kind: 'code', weight: 8, role: 'key' },
      { key: 'kind', title: 'Kind', kind: 'text', weight: 14 },
      { key: 'title', title: 'Title', kind: 'text', weight: 28 },
      { key: 'part', title: 'Part number', kind: 'code', weight: 12 },
      { key: 'values', title: 'Values', kind: 'text', weight: 26 },
      { key: 'driven', title: 'Driven by', kind: 'code', weight: 10 },
      { key: 'terminals', title: 'Terminals', kind: 'code', weight: 40 },
      { key: 'note', title: 'Note', kind: 'text', weight: 34 },
    ],
    rows: parts.map((part): Row => {
      const values = [
        part.contact ?? null,
        part.ohm === undefined ? null : `${part.ohm} Ω`,
        part.watt === undefined ? null : `${part.watt} W`,
        part.volt === undefined ? null : `${part.volt} V`,
        part.ampere === undefined ? null : `${part.ampere} A`,
        part.fuseA === undefined ? null : `fuse ${part.fuseA} A`,
        part.suppressed === true ? 'suppressed' : null,
      ].filter((text) => text !== null);
      const at = Object.entries(part.at ?? {}).map(
        ([terminal, place]) => `${terminal}: ${place.connector}-${place.cavity}`,
      );
      const to = Object.entries(part.terminals ?? {}).map(([terminal, place]) => `${terminal} → ${place}`);
      return {
        cells: [
          part.id,
          part.kind,
          part.title,
          part.part ?? open.decide('Part number of a part', part.id),
          values.length === 0 ? open.decide('Values of a part', part.id) : joined(values),
          part.coilBy ?? 'none',
          joined([...at, ...to], 'as the circuits that name it'),
          part.note ?? '–',
        ],
      };
    }),
    whenEmpty: 'The harness has no part of its own.',
  };
}

function groundTable({ plan, open }: Wiring): Block {
  return {
    kind: 'table',
    id: 'grounds',
    title: 'Grounds',
    columns: [
      { key: 'ground_id', title: 'Ground', kind: 'code', weight: 12, role: 'key' },
      { key: 'title', title: 'Title', kind: 'text', weight: 30 },
      { key: 'kind', title: 'Kind', kind: 'text', weight: 9 },
      { key: 'at', title: 'At', kind: 'code', weight: 16 },
      { key: 'stud', title: 'Stud', kind: 'text', weight: 12 },
      { key: 'stud_mm', title: 'Thread M', kind: 'number', weight: 8, unit: 'mm' },
      { key: 'torque_Nm', title: 'Torque', kind: 'number', weight: 8, unit: 'N·m' },
      { key: 'total_A', title: 'Total current', kind: 'number', weight: 9, unit: 'A', decimals: 2 },
    ],
    rows: plan.grounds.map((ground): Row => {
      const unknown = (what: string): string => open.decide(what, ground.ground);
      return {
        cells: [
          ground.ground,
          ground.title,
          ground.kind ?? unknown('Kind of a ground'),
          ground.at,
          ground.stud ?? 'cavity',
          ground.studMm ?? (ground.stud === null ? '–' : unknown('Thread of a ground stud')),
          ground.torqueNm ?? (ground.stud === null ? '–' : unknown('Torque of a ground stud')),
          figure(ground.totalA),
        ],
      };
    }),
    whenEmpty: 'No conductor of the harness leads to a ground that the platforms name.',
    note: 'Bare metal, star washer, protected afterwards; not shared between starter or fan and controllers (common practice).',
  };
}

function groundLegs(wiring: Wiring): Block {
  return gathered(
    { id: 'ground-circuits', title: 'Conductors at each ground', whenEmpty: 'None.' },
    [{ key: 'ground_id', title: 'Ground', kind: 'code', weight: 12 }],
    [
      { key: 'circuit', title: 'Circuit', kind: 'code', weight: 9 },
      { key: 'size', title: 'Size', kind: 'text', weight: 10 },
      { key: 'current_A', title: 'Current', kind: 'number', weight: 8, unit: 'A', decimals: 2 },
      { key: 'drop_V', title: 'Drop in this conductor', kind: 'number', weight: 10, unit: 'V', decimals: 3 },
    ],
    wiring.plan.grounds.map(({ ground, circuits }): SubjectRows => ({
      names: [ground],
      rows: circuits.map(({ circuit, size, currentA, dropV }): Row => ({
        cells: [
          circuitLinks(wiring, [circuit]),
          sizeText(size),
          figure(currentA),
          dropV === null ? wiring.open.decide('Voltage drop (needs the cut length)', circuit) : small(dropV, 3),
        ],
      })),
    })),
  );
}

function busTable({ plan, open }: Wiring): Block {
  return {
    kind: 'table',
    id: 'bus-wiring',
    title: 'Bus wiring in this pairing',
    columns: [
      { key: 'bus', title: 'Bus', kind: 'code', weight: 22, role: 'key' },
      { key: 'bit_rate', title: 'Bit rate', kind: 'number', weight: 8, unit: 'kbit/s' },
      { key: 'length_m', title: 'Length', kind: 'number', weight: 8, unit: 'm', decimals: 1 },
      { key: 'most_length_m', title: 'Most', kind: 'number', weight: 8, unit: 'm', decimals: 1 },
      { key: 'terminators', title: 'Terminators', kind: 'text', weight: 34 },
      { key: 'gone', title: 'Gone with a removed module', kind: 'text', weight: 24 },
      { key: 'pair_ohm', title: 'Across the pair', kind: 'number', weight: 9, unit: 'Ω', decimals: 1 },
      { key: 'added_stubs', title: 'Stubs that this harness adds', kind: 'text', weight: 24 },
      { key: 'most_stub_m', title: 'Stub, most', kind: 'number', weight: 8, unit: 'm', decimals: 2 },
      { key: 'joined', title: 'Joined with', kind: 'code', weight: 18 },
    ],
    rows: plan.buses.map((bus): Row => ({
      cells: [
        bus.ref,
        bus.bitRate / 1000,
        bus.lengthM ?? open.decide('Length of the bus', bus.ref),
        bus.limits.busM,
        joined(
          bus.terminators.map(({ at, ohm }) => `${at} ${ohm} Ω`),
          'none',
        ),
        joined(
          bus.removedTerminators.map(({ at, ohm }) => `${at} ${ohm} Ω`),
          'none',
        ),
        Number.isFinite(bus.termination.pairOhm) ? figure(bus.termination.pairOhm) : 'open',
        joined(
          bus.stubs.filter(({ added }) => added).map(({ at, lengthM }) => `${at} ${figure(lengthM)} m`),
          'none',
        ),
        bus.limits.stubM,
        joined(bus.joined, 'none'),
      ],
    })),
    whenEmpty: 'The platforms have no bus.',
    note: '120 Ω at exactly two ends, 60 Ω across the pair with power off (ISO 11898-2).',
  };
}
