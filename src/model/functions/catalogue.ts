import catalogue from './catalogue.json' with { type: 'json' };

export type Criticality = 'interlock' | 'motion-control' | 'regulated-display' | 'comfort';
export type CarrierRule = 'hard-wired' | 'hard-wired-or-backed-up' | 'bus-protected' | 'free';
export type Provenance = 'read' | 'from memory' | 'common practice';

export interface FunctionSource {
  readonly source: string;
  readonly says: string;
  readonly provenance: Provenance;
}

/** An entry of the function catalogue: what a signal is for on the vehicle. Times in milliseconds, unit as UCUM code. */
export interface VehicleFunction {
  readonly id: string;
  readonly title: string;
  readonly group: string;
  readonly direction: 'powertrain-to-chassis' | 'chassis-to-powertrain' | 'both';
  readonly kind: 'boolean' | 'numeric' | 'state';
  readonly unit: string;
  readonly states?: readonly string[];
  readonly typicalRange?: readonly [number, number];
  readonly periodMs: number | null;
  readonly staleAfterMs: number | null;
  readonly criticality: Criticality;
  readonly carrierRule: CarrierRule;
  readonly law: string;
  readonly equipmentProtection?: boolean;
  readonly safeState: string;
  readonly why: string;
  readonly companions?: readonly string[];
  readonly notes?: string;
  readonly timingProvenance: Provenance;
  readonly ruleProvenance: Provenance;
  readonly sources: readonly FunctionSource[];
}

/** Classes in order of harm, worst first. */
export const CRITICALITIES: readonly Criticality[] = ['interlock', 'motion-control', 'regulated-display', 'comfort'];
/** Carrier rules, strictest first. */
export const CARRIER_RULES: readonly CarrierRule[] = ['hard-wired', 'hard-wired-or-backed-up', 'bus-protected', 'free'];

/** The catalogue of functions which cross the chassis / powertrain boundary, by id. */
export const FUNCTIONS: ReadonlyMap<string, VehicleFunction> = new Map(
  (catalogue.functions as unknown as readonly VehicleFunction[]).map((entry) => [entry.id, entry]),
);

export function findFunction(id: string | undefined): VehicleFunction | null {
  return id === undefined ? null : (FUNCTIONS.get(id) ?? null);
}
