import type { CrossloomMap } from '../model/index.ts';
import { findingDigest, samePerson } from './finding.ts';
import type { Finding } from './rule.ts';

type Waiver = NonNullable<CrossloomMap['waivers']>[number];

/** How a waiver stands to the findings of a run. */
export type WaiverStanding =
  | { readonly kind: 'answers'; readonly finding: Finding }
  /** It answers a `stop` and has not two names. */
  | { readonly kind: 'one-name'; readonly finding: Finding }
  /** The rule still finds something on that subject, but not what was answered. */
  | { readonly kind: 'lapsed'; readonly now: readonly Finding[] }
  /** The rule finds nothing there any more. */
  | { readonly kind: 'spent' };

/** Judges every waiver against the findings, in the order of the waivers. */
export function standingOfWaivers(
  waivers: readonly Waiver[],
  findings: readonly Finding[],
): readonly { readonly waiver: Waiver; readonly standing: WaiverStanding }[] {
  if (waivers.length === 0) return [];
  const wanted = new Map<string, Finding[]>(waivers.map((waiver) => [keyOf(waiver), []]));
  for (const finding of findings) wanted.get(keyOf(finding))?.push(finding);
  return waivers.map((waiver) => {
    const now = wanted.get(keyOf(waiver))!;
    if (now.length === 0) return { waiver, standing: { kind: 'spent' } };
    const finding = now.find((candidate) => findingDigest(candidate) === waiver.answers);
    if (!finding) return { waiver, standing: { kind: 'lapsed', now } };
    const second = waiver.secondBy;
    const oneName = finding.severity === 'stop' && (second === undefined || samePerson(second, waiver.by));
    return { waiver, standing: { kind: oneName ? 'one-name' : 'answers', finding } };
  });
}

/** The findings with valid waivers entered; those without one are the same objects. */
export function waiveFindings(waivers: readonly Waiver[], findings: readonly Finding[]): readonly Finding[] {
  const answered = new Map<Finding, Waiver>();
  for (const { waiver, standing } of standingOfWaivers(waivers, findings)) {
    if (standing.kind === 'answers') answered.set(standing.finding, waiver);
  }
  if (answered.size === 0) return findings;
  return findings.map((finding) => {
    const waiver = answered.get(finding);
    if (!waiver) return finding;
    const { by, secondBy, reason, on } = waiver;
    return { ...finding, waived: { by, secondBy: secondBy ?? null, reason, on } };
  });
}

function keyOf({ rule, subject }: { readonly rule: string; readonly subject: string }): string {
  return `${rule} ${subject}`;
}
