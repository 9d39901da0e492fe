import { commentStatement } from '../../write/statement-text.ts';
import { close, takeText } from '../scan.ts';
import { supersede } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';
import { takeTarget } from './targets.ts';

/** `CM_ [BU_ Node | BO_ id | SG_ id Signal | EV_ Name] "text";` */
export function readComment(r: Reading): Outcome {
  const target = takeTarget(r);
  if (target === null) return 'failed';
  const comment = takeText(r);
  if (comment === null || close(r) === 'failed') return 'failed';
  const { owner } = target;
  if (owner === null) return 'missing';
  if (owner.comment !== null) {
    supersede(
      r,
      commentStatement(target.written, owner.comment),
      target.at,
      `the comment of ${target.written || 'the file'}`,
    );
  }
  owner.comment = comment;
  return 'read';
}
