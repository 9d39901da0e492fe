/** Translation of values: what a route does, statically and in time. Imports number, units, model and can. */

// What a value can be at one place of a route.
export type {
  ValueDomain,
  NumberDomain,
  StateDomain,
  TextDomain,
  FrameDomain,
  NamedState,
  SpecialRaw,
  RawSpan,
  Coding,
  WireQuantityName,
} from './domain/value-domain.ts';
export { domainOfSignal, scalingOf } from './domain/signal-domain.ts';
export { domainOfWire } from './domain/wire-domain.ts';
export { domainOfEndpoint } from './domain/endpoint-domain.ts';
export { unitOf } from './domain/units-of.ts';

// What a route does to every value its sources can have: analyseRoute(pairing, route) → RouteAnalysis.
export type {
  RouteAnalysis,
  Stage,
  Clip,
  WorstError,
  Saturation,
  StateWithoutImage,
  StatesMerged,
  SpecialOutcome,
} from './analysis/route-analysis.ts';
export type { StageFault, UnitFault } from './analysis/faults.ts';
export { analyseRoute } from './analysis/analyse.ts';
export type { Effect, Combination, Case, CaseResult } from './analysis/effect.ts';

// A route in words: one sentence, the arithmetic line by line, and the tables both refer to.
export { routeSentence, lossWords } from './describe/sentence.ts';
export { routeFormula } from './describe/formula.ts';
export { routeTables, type RouteTable } from './describe/tables.ts';

// A route with values in it, exact and steady: for the strip, both ways.
export { evaluateRoute, type BandMemory, type RouteEvaluation, type StageEvaluation } from './evaluate/evaluate.ts';
export { sourceFor, type SourceFor } from './evaluate/inverse.ts';
export { readSource, type SourceInput, type SourceReading } from './evaluate/source-end.ts';
export type { TargetWriting } from './evaluate/target-end.ts';
export type { LiveValue, NoValue } from './evaluate/live-value.ts';

// A route as integer arithmetic, and the proof that it is right.
export { compileRoute, type CompileResult, type CompiledRoute, type CompiledFrame } from './program/compile-route.ts';
export { proveRoute, EXHAUSTIVE_RAWS, type IntegerProof } from './program/prove.ts';
export { widthOf, fitsDoubles } from './program/widths.ts';
export type { LossPlan, LossAction } from './program/loss-plan.ts';
export type { RouteProgram, Node, Segment, RangeEntry, SourceRead, Output, WorkingStep } from './program/types.ts';
export { wideRunner, type Runner, type Slot } from './program/run-wide.ts';

// All that an interface module does, as data: for the replay engine and the C source.
export { planModule, cadenceOf } from './plan/build.ts';
export { protectionOf, type ProtectionPlan } from './plan/checksum-plan.ts';
export { checksumFor, writeChecksum } from './replay/sources.ts';
export type {
  ModulePlan,
  PlannedRoute,
  PlannedTransmit,
  SourceGroup,
  ReceivedMessage,
  Cadence,
  Page,
  Refused,
} from './plan/types.ts';

// Replay of frames and wire levels through the map.
export { createReplay } from './replay/create.ts';
export { playLog, type LogPlayer } from './replay/play-log.ts';
export { tallySamples, type RouteTally, type Tallies } from './replay/tallies.ts';
export type {
  Replay,
  ReplayFrame,
  ReplayOptions,
  ReplayOutput,
  RouteSample,
  SentFrame,
  SentLevel,
  SourceState,
  WireLevel,
} from './replay/types.ts';

// Logs of frames and wire levels, in and out.
export * from './log/index.ts';

// The same as C source for the module itself.
export { firmwareOf, type Firmware, type FirmwareFile, type FirmwareOptions } from './firmware/firmware.ts';

// Vectors: worked cases of a route, and the same as frames in and out that a bench can play.
export { routeCases, type RouteCase } from './vectors/route-cases.ts';
export type { Stimulus } from './vectors/stimuli.ts';
export { createVectorMaker, USUAL_BUS_US, type VectorMaker, type VectorOptions } from './vectors/vectors.ts';
export {
  VectorsFile,
  vectorsSchemaText,
  type RouteVectors,
  type SentRule,
  type Vector,
  type VectorExpectation,
  type VectorStream,
} from './vectors/schema.ts';
export { stimulusOf, type StimulusEvent } from './vectors/play.ts';
export { createEngineCheck, combinationOf, type EngineCheck, type UnmetVector } from './vectors/engine-check.ts';
export { createVectorJudge, type VectorJudge, type VectorVerdict } from './vectors/judge.ts';

// A recording of a real module held against the map.
export { createCapture } from './capture/capture.ts';
export type {
  Capture,
  CaptureOptions,
  CaptureReport,
  MessageTally,
  Mismatch,
  MismatchKind,
  RouteTally as CapturedRoute,
} from './capture/types.ts';
