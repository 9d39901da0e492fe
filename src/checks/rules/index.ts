import type { Rule } from '../rule.ts';
import { rule as busBitRatesDiffer } from './bus/bit-rates-differ.ts';
import { rule as busDeadlineMissed } from './bus/deadline-missed.ts';
import { rule as busDiagnosticAltered } from './bus/diagnostic-altered.ts';
import { rule as busDiagnosticIdShadowed } from './bus/diagnostic-id-shadowed.ts';
import { rule as busDiagnosticMultiframe } from './bus/diagnostic-multiframe.ts';
import { rule as busDiagnosticNotPassed } from './bus/diagnostic-not-passed.ts';
import { rule as busFieldOutsideFrame } from './bus/field-outside-frame.ts';
import { rule as busFieldsOverlap } from './bus/fields-overlap.ts';
import { rule as busFillOutsideField } from './bus/fill-outside-field.ts';
import { rule as busIdAlreadySent } from './bus/id-already-sent.ts';
import { rule as busIdOutOfRange } from './bus/id-out-of-range.ts';
import { rule as busIdTwice } from './bus/id-twice.ts';
import { rule as busLengthBeyondKind } from './bus/length-beyond-kind.ts';
import { rule as busLinesSwapped } from './bus/lines-swapped.ts';
import { rule as busListenOnlySends } from './bus/listen-only-sends.ts';
import { rule as busMixedByteOrder } from './bus/mixed-byte-order.ts';
import { rule as busOverloaded } from './bus/overloaded.ts';
import { rule as busPriorityInverted } from './bus/priority-inverted.ts';
import { rule as busStubTooLong } from './bus/stub-too-long.ts';
import { rule as busTerminationCount } from './bus/termination-count.ts';
import { rule as busTerminationRemoved } from './bus/termination-removed.ts';
import { rule as busTerminationValue } from './bus/termination-value.ts';
import { rule as busTooLong } from './bus/too-long.ts';
import { rule as busTwoSenders } from './bus/two-senders.ts';
import { rule as busUnusedBits } from './bus/unused-bits.ts';
import { rule as busWrongPort } from './bus/wrong-port.ts';
import { rule as calibrationAltered } from './calibration/altered.ts';
import { rule as calibrationIdentityNotCarried } from './calibration/identity-not-carried.ts';
import { rule as guardChecksumUnknown } from './guard/checksum-unknown.ts';
import { rule as guardCounterForwarded } from './guard/counter-forwarded.ts';
import { rule as guardCounterRange } from './guard/counter-range.ts';
import { rule as guardCriticalUnprotected } from './guard/critical-unprotected.ts';
import { rule as guardDataIdMissing } from './guard/data-id-missing.ts';
import { rule as guardRedundantNotCompared } from './guard/redundant-not-compared.ts';
import { rule as guardSourceNotVerified } from './guard/source-not-verified.ts';
import { rule as guardTargetNotRegenerated } from './guard/target-not-regenerated.ts';
import { rule as optionCombinationUncovered } from './option/combination-uncovered.ts';
import { rule as optionConnectorNotDistinguished } from './option/connector-not-distinguished.ts';
import { rule as optionDrivetrainNotDistinguished } from './option/drivetrain-not-distinguished.ts';
import { rule as optionEndpointAbsent } from './option/endpoint-absent.ts';
import { rule as optionRoutesOverlap } from './option/routes-overlap.ts';
import { rule as orphanFieldNotFilled } from './orphan/field-not-filled.ts';
import { rule as orphanLooseEnd } from './orphan/loose-end.ts';
import { rule as orphanNeedWithoutRoute } from './orphan/need-without-route.ts';
import { rule as orphanNoPinOrPort } from './orphan/no-pin-or-port.ts';
import { rule as orphanNoReader } from './orphan/no-reader.ts';
import { rule as orphanOptionUnused } from './orphan/option-unused.ts';
import { rule as orphanRequiredFunctionMissing } from './orphan/required-function-missing.ts';
import { rule as orphanRequiredFunctionUnknown } from './orphan/required-function-unknown.ts';
import { rule as orphanUnknownReference } from './orphan/unknown-reference.ts';
import { rule as orphanUnusedOffer } from './orphan/unused-offer.ts';
import { rule as rangeClipped } from './range/clipped.ts';
import { rule as rangeDeclaredBeyondCoding } from './range/declared-beyond-coding.ts';
import { rule as rangeNotAvailableAsValue } from './range/not-available-as-value.ts';
import { rule as rangeOutsideRefused } from './range/outside-refused.ts';
import { rule as rangeResolutionLost } from './range/resolution-lost.ts';
import { rule as rangeSaturatesMidway } from './range/saturates-midway.ts';
import { rule as rangeSignLost } from './range/sign-lost.ts';
import { rule as rangeStepNeverActs } from './range/step-never-acts.ts';
import { rule as rangeStepsDoNotFit } from './range/steps-do-not-fit.ts';
import { rule as rangeZeroMeansMissing } from './range/zero-means-missing.ts';
import { rule as recordAssumptionOpen } from './record/assumption-open.ts';
import { rule as recordDocumentYears } from './record/document-years.ts';
import { rule as recordLapsedWaiver } from './record/lapsed-waiver.ts';
import { rule as recordMarketNotStated } from './record/market-not-stated.ts';
import { rule as recordNameCollision } from './record/name-collision.ts';
import { rule as recordNoSecondReview } from './record/no-second-review.ts';
import { rule as recordNotMeasured } from './record/not-measured.ts';
import { rule as recordNoteMissing } from './record/note-missing.ts';
import { rule as recordPlatformChanged } from './record/platform-changed.ts';
import { rule as recordSecondNameMissing } from './record/second-name-missing.ts';
import { rule as recordSoftwareNotRecorded } from './record/software-not-recorded.ts';
import { rule as recordStaleSignOff } from './record/stale-sign-off.ts';
import { rule as recordUndocumented } from './record/undocumented.ts';
import { rule as routingAgainstDirection } from './routing/against-direction.ts';
import { rule as routingBackupMissing } from './routing/backup-missing.ts';
import { rule as routingBackupNotIndependent } from './routing/backup-not-independent.ts';
import { rule as routingBrakeCancelMissing } from './routing/brake-cancel-missing.ts';
import { rule as routingBusNotJoined } from './routing/bus-not-joined.ts';
import { rule as routingClassLowered } from './routing/class-lowered.ts';
import { rule as routingCrashCutMissing } from './routing/crash-cut-missing.ts';
import { rule as routingEcho } from './routing/echo.ts';
import { rule as routingFrameDiffers } from './routing/frame-differs.ts';
import { rule as routingHardWireInNameOnly } from './routing/hard-wire-in-name-only.ts';
import { rule as routingImmobilizerSynthesised } from './routing/immobilizer-synthesised.ts';
import { rule as routingInterlockBypassed } from './routing/interlock-bypassed.ts';
import { rule as routingInterlockFromGear } from './routing/interlock-from-gear.ts';
import { rule as routingMilNotCarried } from './routing/mil-not-carried.ts';
import { rule as routingNotHardWired } from './routing/not-hard-wired.ts';
import { rule as routingParkNotHolding } from './routing/park-not-holding.ts';
import { rule as routingPedalThroughConverter } from './routing/pedal-through-converter.ts';
import { rule as routingRedundantPairIncomplete } from './routing/redundant-pair-incomplete.ts';
import { rule as routingRedundantPairJoined } from './routing/redundant-pair-joined.ts';
import { rule as routingRedundantPairSharesSupply } from './routing/redundant-pair-shares-supply.ts';
import { rule as routingRemoteStartUnguarded } from './routing/remote-start-unguarded.ts';
import { rule as routingRemovedModule } from './routing/removed-module.ts';
import { rule as routingRestraintCircuit } from './routing/restraint-circuit.ts';
import { rule as routingTapLoadsCircuit } from './routing/tap-loads-circuit.ts';
import { rule as routingTorqueRequestUnanswered } from './routing/torque-request-unanswered.ts';
import { rule as routingTwoDrivers } from './routing/two-drivers.ts';
import { rule as stateActiveLevelInverted } from './state/active-level-inverted.ts';
import { rule as stateCrossed } from './state/crossed.ts';
import { rule as stateErrorAsValue } from './state/error-as-value.ts';
import { rule as stateHysteresisInverted } from './state/hysteresis-inverted.ts';
import { rule as stateMerged } from './state/merged.ts';
import { rule as stateMomentaryAsLatched } from './state/momentary-as-latched.ts';
import { rule as stateNeverProduced } from './state/never-produced.ts';
import { rule as stateNoImage } from './state/no-image.ts';
import { rule as stateOutsideField } from './state/outside-field.ts';
import { rule as stateUnknownState } from './state/unknown-state.ts';
import { rule as supplyCrankDip } from './supply/crank-dip.ts';
import { rule as supplyDiagnosticConnectorPower } from './supply/diagnostic-connector-power.ts';
import { rule as supplyEngineStrapMissing } from './supply/engine-strap-missing.ts';
import { rule as supplyFeedNotFused } from './supply/feed-not-fused.ts';
import { rule as supplyFeedNotLive } from './supply/feed-not-live.ts';
import { rule as supplyFeedOverloaded } from './supply/feed-overloaded.ts';
import { rule as supplyFuseCoordination } from './supply/fuse-coordination.ts';
import { rule as supplyGroundRemoved } from './supply/ground-removed.ts';
import { rule as supplyModuleUnsupplied } from './supply/module-unsupplied.ts';
import { rule as supplyReversePolarity } from './supply/reverse-polarity.ts';
import { rule as supplySensorReturnMixed } from './supply/sensor-return-mixed.ts';
import { rule as supplySleepCurrent } from './supply/sleep-current.ts';
import { rule as supplyTransientProtection } from './supply/transient-protection.ts';
import { rule as timeAgeExceeded } from './time/age-exceeded.ts';
import { rule as timeDebounceLongerThanPulse } from './time/debounce-longer-than-pulse.ts';
import { rule as timeDebounceMissing } from './time/debounce-missing.ts';
import { rule as timeFilterOnControl } from './time/filter-on-control.ts';
import { rule as timeHoldForbidden } from './time/hold-forbidden.ts';
import { rule as timeLossOpposesSafeState } from './time/loss-opposes-safe-state.ts';
import { rule as timeNoLossBehaviour } from './time/no-loss-behaviour.ts';
import { rule as timeNoStalenessLimit } from './time/no-staleness-limit.ts';
import { rule as timeSentTooFast } from './time/sent-too-fast.ts';
import { rule as timeSentTooSlow } from './time/sent-too-slow.ts';
import { rule as timeStartOrder } from './time/start-order.ts';
import { rule as timeStartUndefined } from './time/start-undefined.ts';
import { rule as timeTimeoutTooLong } from './time/timeout-too-long.ts';
import { rule as timeTimeoutTooShort } from './time/timeout-too-short.ts';
import { rule as unitDifferenceAsPoint } from './unit/difference-as-point.ts';
import { rule as unitDimension } from './unit/dimension.ts';
import { rule as unitFactorContradicts } from './unit/factor-contradicts.ts';
import { rule as unitGaugeAsAbsolute } from './unit/gauge-as-absolute.ts';
import { rule as unitHardWireScaleDiffers } from './unit/hard-wire-scale-differs.ts';
import { rule as unitKindMismatch } from './unit/kind-mismatch.ts';
import { rule as unitLowRangeSpeed } from './unit/low-range-speed.ts';
import { rule as unitNameContradicts } from './unit/name-contradicts.ts';
import { rule as unitNonlinearAsLinear } from './unit/nonlinear-as-linear.ts';
import { rule as unitNotConverted } from './unit/not-converted.ts';
import { rule as unitOdometerScaling } from './unit/odometer-scaling.ts';
import { rule as unitPercentAsFraction } from './unit/percent-as-fraction.ts';
import { rule as unitPercentWithoutReference } from './unit/percent-without-reference.ts';
import { rule as unitReciprocalContradicts } from './unit/reciprocal-contradicts.ts';
import { rule as unitUnknown } from './unit/unknown.ts';
import { rule as wireBundleTooLarge } from './wire/bundle-too-large.ts';
import { rule as wireBusNotTwisted } from './wire/bus-not-twisted.ts';
import { rule as wireCavityNotOnConnector } from './wire/cavity-not-on-connector.ts';
import { rule as wireCavityTwice } from './wire/cavity-twice.ts';
import { rule as wireClassesDoNotFit } from './wire/classes-do-not-fit.ts';
import { rule as wireCoilNotSuppressed } from './wire/coil-not-suppressed.ts';
import { rule as wireCoilPolarity } from './wire/coil-polarity.ts';
import { rule as wireColourTwice } from './wire/colour-twice.ts';
import { rule as wireConditioningNotShown } from './wire/conditioning-not-shown.ts';
import { rule as wireConnectorUnknown } from './wire/connector-unknown.ts';
import { rule as wireContactCurrent } from './wire/contact-current.ts';
import { rule as wireDriverOverloaded } from './wire/driver-overloaded.ts';
import { rule as wireDropOverLimit } from './wire/drop-over-limit.ts';
import { rule as wireDutyInverted } from './wire/duty-inverted.ts';
import { rule as wireFrequencyOutsideWindow } from './wire/frequency-outside-window.ts';
import { rule as wireFuseAboveConductor } from './wire/fuse-above-conductor.ts';
import { rule as wireGroundOffset } from './wire/ground-offset.ts';
import { rule as wireHalvesDoNotMate } from './wire/halves-do-not-mate.ts';
import { rule as wireInrushOverDriver } from './wire/inrush-over-driver.ts';
import { rule as wireInsulationTooCold } from './wire/insulation-too-cold.ts';
import { rule as wireLabelNotUnique } from './wire/label-not-unique.ts';
import { rule as wireLeakageOverThreshold } from './wire/leakage-over-threshold.ts';
import { rule as wireLevelOverLimit } from './wire/level-over-limit.ts';
import { rule as wireNotKnown } from './wire/not-known.ts';
import { rule as wirePullMissing } from './wire/pull-missing.ts';
import { rule as wireReferenceNotShared } from './wire/reference-not-shared.ts';
import { rule as wireSameKeyNeighbours } from './wire/same-key-neighbours.ts';
import { rule as wireSealMissing } from './wire/seal-missing.ts';
import { rule as wireSpliceOverloaded } from './wire/splice-overloaded.ts';
import { rule as wireTerminalSize } from './wire/terminal-size.ts';
import { rule as wireTooThin } from './wire/too-thin.ts';
import { rule as wireTooThinToHandle } from './wire/too-thin-to-handle.ts';
import { rule as wireViewNotStated } from './wire/view-not-stated.ts';
import { rule as wireWettingCurrent } from './wire/wetting-current.ts';

/** Every rule, by group and name. */
export const RULES: readonly Rule[] = [
  busBitRatesDiffer,
  busDeadlineMissed,
  busDiagnosticAltered,
  busDiagnosticIdShadowed,
  busDiagnosticMultiframe,
  busDiagnosticNotPassed,
  busFieldOutsideFrame,
  busFieldsOverlap,
  busFillOutsideField,
  busIdAlreadySent,
  busIdOutOfRange,
  busIdTwice,
  busLengthBeyondKind,
  busLinesSwapped,
  busListenOnlySends,
  busMixedByteOrder,
  busOverloaded,
  busPriorityInverted,
  busStubTooLong,
  busTerminationCount,
  busTerminationRemoved,
  busTerminationValue,
  busTooLong,
  busTwoSenders,
  busUnusedBits,
  busWrongPort,
  calibrationAltered,
  calibrationIdentityNotCarried,
  guardChecksumUnknown,
  guardCounterForwarded,
  guardCounterRange,
  guardCriticalUnprotected,
  guardDataIdMissing,
  guardRedundantNotCompared,
  guardSourceNotVerified,
  guardTargetNotRegenerated,
  optionCombinationUncovered,
  optionConnectorNotDistinguished,
  optionDrivetrainNotDistinguished,
  optionEndpointAbsent,
  optionRoutesOverlap,
  orphanFieldNotFilled,
  orphanLooseEnd,
  orphanNeedWithoutRoute,
  orphanNoPinOrPort,
  orphanNoReader,
  orphanOptionUnused,
  orphanRequiredFunctionMissing,
  orphanRequiredFunctionUnknown,
  orphanUnknownReference,
  orphanUnusedOffer,
  rangeClipped,
  rangeDeclaredBeyondCoding,
  rangeNotAvailableAsValue,
  rangeOutsideRefused,
  rangeResolutionLost,
  rangeSaturatesMidway,
  rangeSignLost,
  rangeStepNeverActs,
  rangeStepsDoNotFit,
  rangeZeroMeansMissing,
  recordAssumptionOpen,
  recordDocumentYears,
  recordLapsedWaiver,
  recordMarketNotStated,
  recordNameCollision,
  recordNoSecondReview,
  recordNotMeasured,
  recordNoteMissing,
  recordPlatformChanged,
  recordSecondNameMissing,
  recordSoftwareNotRecorded,
  recordStaleSignOff,
  recordUndocumented,
  routingAgainstDirection,
  routingBackupMissing,
  routingBackupNotIndependent,
  routingBrakeCancelMissing,
  routingBusNotJoined,
  routingClassLowered,
  routingCrashCutMissing,
  routingEcho,
  routingFrameDiffers,
  routingHardWireInNameOnly,
  routingImmobilizerSynthesised,
  routingInterlockBypassed,
  routingInterlockFromGear,
  routingMilNotCarried,
  routingNotHardWired,
  routingParkNotHolding,
  routingPedalThroughConverter,
  routingRedundantPairIncomplete,
  routingRedundantPairJoined,
  routingRedundantPairSharesSupply,
  routingRemoteStartUnguarded,
  routingRemovedModule,
  routingRestraintCircuit,
  routingTapLoadsCircuit,
  routingTorqueRequestUnanswered,
  routingTwoDrivers,
  stateActiveLevelInverted,
  stateCrossed,
  stateErrorAsValue,
  stateHysteresisInverted,
  stateMerged,
  stateMomentaryAsLatched,
  stateNeverProduced,
  stateNoImage,
  stateOutsideField,
  stateUnknownState,
  supplyCrankDip,
  supplyDiagnosticConnectorPower,
  supplyEngineStrapMissing,
  supplyFeedNotFused,
  supplyFeedNotLive,
  supplyFeedOverloaded,
  supplyFuseCoordination,
  supplyGroundRemoved,
  supplyModuleUnsupplied,
  supplyReversePolarity,
  supplySensorReturnMixed,
  supplySleepCurrent,
  supplyTransientProtection,
  timeAgeExceeded,
  timeDebounceLongerThanPulse,
  timeDebounceMissing,
  timeFilterOnControl,
  timeHoldForbidden,
  timeLossOpposesSafeState,
  timeNoLossBehaviour,
  timeNoStalenessLimit,
  timeSentTooFast,
  timeSentTooSlow,
  timeStartOrder,
  timeStartUndefined,
  timeTimeoutTooLong,
  timeTimeoutTooShort,
  unitDifferenceAsPoint,
  unitDimension,
  unitFactorContradicts,
  unitGaugeAsAbsolute,
  unitHardWireScaleDiffers,
  unitKindMismatch,
  unitLowRangeSpeed,
  unitNameContradicts,
  unitNonlinearAsLinear,
  unitNotConverted,
  unitOdometerScaling,
  unitPercentAsFraction,
  unitPercentWithoutReference,
  unitReciprocalContradicts,
  unitUnknown,
  wireBundleTooLarge,
  wireBusNotTwisted,
  wireCavityNotOnConnector,
  wireCavityTwice,
  wireClassesDoNotFit,
  wireCoilNotSuppressed,
  wireCoilPolarity,
  wireColourTwice,
  wireConditioningNotShown,
  wireConnectorUnknown,
  wireContactCurrent,
  wireDriverOverloaded,
  wireDropOverLimit,
  wireDutyInverted,
  wireFrequencyOutsideWindow,
  wireFuseAboveConductor,
  wireGroundOffset,
  wireHalvesDoNotMate,
  wireInrushOverDriver,
  wireInsulationTooCold,
  wireLabelNotUnique,
  wireLeakageOverThreshold,
  wireLevelOverLimit,
  wireNotKnown,
  wirePullMissing,
  wireReferenceNotShared,
  wireSameKeyNeighbours,
  wireSealMissing,
  wireSpliceOverloaded,
  wireTerminalSize,
  wireTooThin,
  wireTooThinToHandle,
  wireViewNotStated,
  wireWettingCurrent,
];

const byId = new Map(RULES.map((rule) => [rule.id, rule]));

/** The rule with an id; null when there is none. */
export function findRule(id: string): Rule | null {
  return byId.get(id) ?? null;
}
