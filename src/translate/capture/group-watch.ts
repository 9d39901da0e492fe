import type { ModulePlan } from '../plan/types.ts';
import { createSources, type Sources } from '../replay/sources.ts';

/**
 * What a module has received, as far as its recording can tell. When exactly it gives a silent source up depends on its ticks and its
 * clock: `early` is the earliest that the map allows, `late` the latest. Between the two it may be either.
 */
export interface GroupWatch {
  readonly early: Sources;
  readonly late: Sources;
  /** Whether enough samples were seen to know whether the group counts, whatever was before the recording. */
  readonly known: Uint8Array;
  /** When the last sample came. */
  readonly lastUs: Float64Array;
  /** The module runs from now on: what came before it may not have heard. */
  begin(): void;
  /** Takes a frame of received message `message`; gives the groups that it is a sample of. */
  take(message: number, data: Uint8Array, timeUs: number): readonly number[];
  /** Gives up what is too old; calls `lost` for each group with the moment since which its state has changed, in order of time. */
  expire(timeUs: number, lost: (group: number, sinceUs: number) => void): void;
}

export function createGroupWatch(plan: ModulePlan, slackUs: number): GroupWatch {
  const limits = plan.groups.map(({ staleUs }) => staleUs);
  // Clocks of modules are good to a percent.
  const drift = (limitUs: number): number => Math.ceil(limitUs / 100);
  const earlyUs = limits.map((limit) => (limit === null ? null : Math.max(1, limit - drift(limit) - slackUs)));
  const lateUs = limits.map((limit) => (limit === null ? null : limit + drift(limit) + plan.periodUs + slackUs));
  const withLimits = (list: readonly (number | null)[]): Sources =>
    createSources({ ...plan, groups: plan.groups.map((group, at) => ({ ...group, staleUs: list[at]! })) });
  const early = withLimits(earlyUs);
  const late = withLimits(lateUs);
  const count = plan.groups.length;
  const known = new Uint8Array(count);
  const samples = new Float64Array(count);
  const lastUs = new Float64Array(count).fill(-Infinity);
  let running = false;
  /** Nothing can change by age before this. */
  let soonestUs = Infinity;
  const dueAfter = (group: number): number =>
    Math.min(
      early.missing[group] === 0 ? lastUs[group]! + (earlyUs[group] ?? Infinity) : Infinity,
      late.missing[group] === 0 ? lastUs[group]! + (lateUs[group] ?? Infinity) : Infinity,
    );
  return {
    early,
    late,
    known,
    lastUs,
    begin() {
      running = true;
    },
    take(message, data, timeUs) {
      const taken: number[] = [];
      for (const group of plan.received[message]!.groups) {
        const accepted = early.accept[group]!(data, timeUs);
        late.accept[group]!(data, timeUs);
        if (!accepted) continue;
        taken.push(group);
        lastUs[group] = timeUs;
        if (running) samples[group] = samples[group]! + 1;
        if (samples[group]! >= plan.groups[group]!.recoverAfter) known[group] = 1;
        soonestUs = Math.min(soonestUs, dueAfter(group));
      }
      return taken;
    },
    expire(timeUs, lost) {
      if (timeUs <= soonestUs) return;
      const changes: { readonly group: number; readonly sinceUs: number }[] = [];
      const before = [early.missing.slice(), late.missing.slice()] as const;
      early.expire(timeUs);
      late.expire(timeUs);
      soonestUs = Infinity;
      for (let group = 0; group < count; group += 1) {
        if (early.missing[group] !== before[0][group])
          changes.push({ group, sinceUs: lastUs[group]! + earlyUs[group]! });
        if (late.missing[group] !== before[1][group]) changes.push({ group, sinceUs: lastUs[group]! + lateUs[group]! });
        soonestUs = Math.min(soonestUs, dueAfter(group));
      }
      changes.sort((a, b) => a.sinceUs - b.sinceUs);
      for (const { group, sinceUs } of changes) lost(group, sinceUs);
    },
  };
}
