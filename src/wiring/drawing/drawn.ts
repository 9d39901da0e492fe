import type { HarnessNode } from '../../model/index.ts';
import type { LabelBox } from './place-labels.ts';
import type { DrawnPoint, DrawnShape } from './shape-types.ts';

/** A node where it is drawn, in mm. */
export interface DrawnNode {
  readonly id: string;
  readonly kind: HarnessNode['kind'];
  readonly at: DrawnPoint;
  readonly label: readonly string[];
  readonly labelBox: LabelBox;
}

/** A segment where it is drawn. */
export interface DrawnSegment {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly points: readonly [DrawnPoint, DrawnPoint];
  readonly lengthM: number;
  /** Middle of its length text. */
  readonly lengthAt: DrawnPoint;
  /** Drawn true to the scale of the drawing, within 2 %. */
  readonly toScale: boolean;
  readonly bundleMm: number;
  readonly circuits: readonly string[];
}

/** The harness as drawn, in mm on paper from the top left. */
export interface DrawnHarness {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Millimetres of paper for a metre of harness. */
  readonly mmPerM: number;
  readonly layout: 'by hand' | 'automatic' | 'nothing to draw';
  /** Every segment is true to scale. */
  readonly toScale: boolean;
  readonly nodes: readonly DrawnNode[];
  readonly segments: readonly DrawnSegment[];
  readonly shapes: readonly DrawnShape[];
  readonly description: string;
}
